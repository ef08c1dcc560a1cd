//! Files that are checked together, all of them in memory: what one says may be about another.

use super::files::{Read, join_needed, read, show_changes, write_changes};
use super::{About, Arguments};
use crate::book::{Entry, Meaning, SectionId, Workspace};
use crate::cli::ids::Ids;
use crate::cli::input::Source;
use crate::cli::mend::Mending;
use crate::cli::place::Places;
use crate::cli::progress::Extent;
use crate::cli::puzzles::heading;
use crate::cli::replace::Replacer;
use crate::cli::report::{Found, Identities, Judged};
use crate::cli::sum::Sum;
use crate::cli::terminal::{Closed, Terminal};
use crate::cli::words::counted;
use crate::lint::{self, Report};
use crate::replay;
use crate::settings::{self, Project};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Checks these files, each with the project that it belongs to.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn check(
    arguments: &Arguments,
    said: &settings::Check,
    sources: impl Iterator<Item = (Source, Option<Arc<Project>>)>,
    known: &mut Identities,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let (mut files, mut books) = read(sources, said, terminal);
    join_needed(&mut files, &mut books, terminal);
    let mut workspace = Workspace::new(books);
    let ids = Ids::new(&arguments.id);
    if !ids.are_all() {
        for (section, _, puzzle) in workspace.puzzles() {
            if files[section.book].given {
                ids.take(puzzle);
            }
        }
        ids.say_missing(terminal);
    }

    let (mended, mut reports) = if arguments.mends() {
        let mending = Mending {
            chosen: &|report| arguments.wants(report, &files),
            may_change: &|book| files[book].may_change(),
            read: &|book, text| files[book].read_again(text),
            unsafe_too: arguments.fix_unsafe,
        };
        mending.mend(&mut workspace)
    } else {
        (0, checked(&workspace, terminal))
    };
    say_crowded(&reports, &files, terminal);
    for report in reports.iter_mut().filter(|report| files[report.spot.section.book].source.list) {
        report.fixes.clear();
    }
    reports.retain(|report| {
        let book = report.spot.section.book;
        arguments.wants(report, &files) && !known.take(report, &workspace.books[book].name)
    });
    if reports.iter().any(|report| files[report.spot.section.book].fails_on(report))
        || (arguments.diff && mended > 0)
    {
        terminal.found();
    }

    if arguments.diff {
        show_changes(&files, &workspace, terminal)?;
    } else {
        if arguments.mends() && !write_changes(&files, &workspace, replacer, terminal) {
            // What was found holds for texts that are not there.
            return Ok(());
        }
        let found = Found {
            reports: &reports,
            places: &Places::new(&workspace),
            files: &|| arguments.judged(&files, &workspace),
            fails: &|report| files[report.spot.section.book].fails_on(report),
        };
        found.print(arguments.format, terminal)?;
    }
    let mut summary = arguments.summary(&files, &workspace, &reports, mended);
    if arguments.about == About::Walks {
        summary += &said_unjudged(&files, &workspace, &ids, terminal);
    }
    terminal.remark(&summary);
    arguments.say_gone(known, terminal);
    if !arguments.watch {
        // The process ends here; to free it piece by piece first would only take time.
        std::mem::forget(workspace);
    }
    Ok(())
}

impl Arguments {
    /// The files that were looked at, with the puzzles that were.
    fn judged<'a>(&self, files: &[Read], workspace: &'a Workspace) -> Vec<Judged<'a>> {
        let given = files.iter().enumerate().filter(|(_, file)| file.given);
        let mut judged: Vec<Judged> = given.map(|(book, _)| Judged { book, puzzles: Vec::new() }).collect();
        for (section, _, puzzle) in workspace.puzzles() {
            let Some(id) = puzzle.id.as_ref().map(|name| &name.text) else { continue };
            let asked = self.id.is_empty() || self.id.contains(id);
            if let (true, Ok(at)) = (asked, judged.binary_search_by_key(&section.book, |file| file.book)) {
                judged[at].puzzles.push((section, id));
            }
        }
        judged
    }

    /// Whether this finding is asked for.
    fn wants(&self, report: &Report, files: &[Read]) -> bool {
        let file = &files[report.spot.section.book];
        let id_fits =
            self.id.is_empty() || report.puzzle.as_ref().is_some_and(|puzzle| self.id.contains(puzzle));
        file.given && id_fits && file.rules.reports(report.finding)
    }

    /// What was found, in one line.
    fn summary(&self, files: &[Read], workspace: &Workspace, reports: &[Report], mended: usize) -> String {
        let before = match (mended, self.diff) {
            (0, _) => String::new(),
            (_, true) => format!("{mended} would be mended; left: "),
            (_, false) => format!("{mended} mended; left: "),
        };
        let sum = sum(files, workspace, reports);
        let mut hints = Vec::new();
        if sum.safe > 0 && !self.fix {
            hints.push(format!("; {} can be mended with --fix", sum.safe));
        }
        if sum.unsure > 0 && !self.fix_unsafe {
            hints.push(format!("; {} with --fix-unsafe, by a guess", sum.unsure));
        }
        format!("{before}{}{}", sum.told(), hints.concat())
    }
}

/// Says in which files there may be more than what is looked for.
fn say_crowded(reports: &[Report], files: &[Read], terminal: &mut Terminal) {
    for file in reports.chunk_by(|a, b| a.spot.section.book == b.spot.section.book) {
        if file.len() >= lint::MOST_IN_FILE {
            let name = &files[file[0].spot.section.book].source.name;
            let most = lint::MOST_IN_FILE;
            terminal
                .remark(&format!("{name}: there may be more than these {most} findings; mend them first"));
        }
    }
}

/// Says which puzzles speak of what a reader knows, and cannot be reasoned about. What the summary adds of them is returned.
fn said_unjudged(files: &[Read], workspace: &Workspace, ids: &Ids, terminal: &mut Terminal) -> String {
    let places = Places::new(workspace);
    let mut unjudged = 0;
    let given = workspace.puzzles().filter(|(at, ..)| files[at.book].given);
    for (at, _, puzzle) in given.filter(|(.., puzzle)| puzzle.telling && ids.take(puzzle)) {
        if let Err(why) = replay::begin(workspace, workspace.section(at), puzzle) {
            unjudged += 1;
            terminal.found();
            terminal.remark(&format!("{}: not judged: {why}", heading(at, puzzle, &places)));
        }
    }
    if unjudged == 0 { String::new() } else { format!("; {} not judged", counted(unjudged, "puzzle")) }
}

/// Everything that there is to say of `workspace`; on a terminal it is seen how far that is.
fn checked(workspace: &Workspace, terminal: &mut Terminal) -> Vec<Report> {
    terminal.begin();
    if !terminal.is_watched() {
        return lint::check(workspace);
    }
    let puzzles =
        |meaning: &Meaning| meaning.entries.iter().filter(|entry| matches!(entry, Entry::Puzzle(_))).count();
    // How many puzzles stand up to the end of each section.
    let mut all = 0;
    let upto = workspace.sections().map(|(.., meaning)| {
        all += puzzles(meaning);
        all
    });
    let upto: Vec<usize> = upto.collect();
    let reports = lint::check_seen(workspace, &mut |sections| {
        let done = sections.checked_sub(1).map_or(0, |last| upto[last]);
        terminal.advance(done, Extent::Puzzles(all));
    });
    terminal.end();
    reports
}

/// What was found, counted.
fn sum(files: &[Read], workspace: &Workspace, reports: &[Report]) -> Sum {
    let given = |id: SectionId| files[id.book].given;
    let puzzles = workspace.puzzles().filter(|(section, ..)| given(*section)).count();
    let with_puzzle = |id: &SectionId| given(*id) && workspace.meaning(*id).puzzles().next().is_some();
    let hit: BTreeSet<SectionId> =
        reports.iter().map(|report| report.spot.section).filter(with_puzzle).collect();
    let files = files.iter().filter(|file| file.given).count();
    let mut sum = Sum::of(files, puzzles, hit.len());
    for report in reports {
        sum.add(report);
    }
    sum
}
