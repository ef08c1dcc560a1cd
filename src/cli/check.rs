//! `gridsetter check`: read, judge, report, and mend if asked to.

use super::check_lists::Lists;
use super::diff;
use super::ids::Ids;
use super::input::{Inputs, Source, Text};
use super::mend::Mending;
use super::place::Places;
use super::progress::Extent;
use super::project::Projects;
use super::puzzles::heading;
use super::replace::Replacer;
use super::report::{Format, Found, Identities, Judged, Written};
use super::sum::Sum;
use super::taken::{Given, Needed, needed};
use super::terminal::{Closed, Terminal, Trouble, words};
use super::watch;
use super::words::{counted, finding_named};
use crate::book::{Book, Entry, Meaning, SectionId, Workspace};
use crate::lint::{self, Group, Report, Severity};
use crate::replay;
use crate::settings::{self, Project};
use clap::{Args, ValueEnum};
use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

const EXAMPLES: &str = "\
Examples:
  gridsetter check books/                 every .gset file of a folder
  gridsetter check --fix volume.gset      mend what can be mended without a doubt
  gridsetter check --diff volume.gset     show that, and change nothing
  gridsetter check --format json books/   one finding a line, for programs
  gridsetter check --baseline old.json books/
                                          only what `--format json` did not find when old.json was written

Exit code: 0 nothing found, 1 findings at or above --fail-on, 2 something could not be read or written.";

/// Find what is wrong, and say where, why and what to do
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
#[allow(clippy::struct_excessive_bools, reason = "each is an option of its own")]
pub struct Arguments {
    #[command(flatten)]
    inputs: Inputs,
    /// How findings are written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// Mend what can be mended without changing what is meant; files are written over
    #[arg(long)]
    fix: bool,
    /// Mend what can be mended by a guess, too; files are written over
    #[arg(long)]
    fix_unsafe: bool,
    /// Show what mending would change, and change nothing
    #[arg(long)]
    diff: bool,
    /// Report only this finding (may be repeated, or several with commas)
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    only: Vec<String>,
    /// Do not report this finding (may be repeated, or several with commas)
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    skip: Vec<String>,
    /// From which severity on a finding makes the exit code 1; `warning`, where nothing else is set
    #[arg(long, value_enum, value_name = "SEVERITY")]
    fail_on: Option<FailOn>,
    /// Leave out what was found before, as `--format json` wrote it into this file
    ///
    /// A finding is known by its file, its puzzle, its name and its words, wherever in the file it stands by now. Make
    /// the file from the same folder, with the same paths.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["fix", "fix_unsafe", "diff"])]
    baseline: Option<PathBuf>,
    /// Look only at the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    id: Vec<String>,
    /// Stay, and check again whenever a file has changed
    #[arg(long)]
    watch: bool,
    #[arg(skip)]
    about: About,
}

/// What is asked for.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
enum About {
    /// Everything.
    #[default]
    All,
    /// Walkthroughs: those that cannot be judged are named.
    Walks,
}

/// A severity, as an option.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum FailOn {
    /// What cannot be read, or is contradicted by the puzzle itself
    Error,
    /// What is not as said, or not decided
    Warning,
    /// What is true and idle, or a matter of style
    Info,
}

impl From<FailOn> for Severity {
    fn from(said: FailOn) -> Severity {
        match said {
            FailOn::Error => Severity::Error,
            FailOn::Warning => Severity::Warning,
            FailOn::Info => Severity::Info,
        }
    }
}

/// A file that was read.
struct Read {
    source: Source,
    text: Text,
    /// The project that it belongs to.
    project: Option<Arc<Project>>,
    /// Whether it was given. Else it was only needed: its ids count, and nothing is said of it.
    given: bool,
    /// What is reported of it.
    rules: settings::Check,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(
    arguments: &Arguments,
    projects: &mut Projects,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let Some(said) = arguments.rules(terminal) else { return Ok(()) };
    if !arguments.watch {
        return once(arguments, &said, projects, terminal, replacer);
    }
    let way = projects.way().clone();
    watch::stay(&arguments.inputs.paths, &way, terminal, |terminal| match projects.read_anew() {
        Ok(()) => once(arguments, &said, projects, terminal, replacer),
        Err(trouble) => {
            terminal.trouble(&trouble);
            Ok(())
        }
    })
}

/// Checks what is there now.
fn once(
    arguments: &Arguments,
    said: &settings::Check,
    projects: &mut Projects,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let found = arguments.known().and_then(|known| {
        let sources = arguments.inputs.sources(terminal);
        // If the settings of a file cannot be used, what was asked for is not known.
        let projects: Result<Vec<_>, _> = sources.iter().map(|source| projects.of(source)).collect();
        Ok((known, sources, projects?))
    });
    let (mut known, sources, found) = match found {
        Ok(found) => found,
        Err(trouble) => {
            terminal.trouble(&trouble);
            return Ok(());
        }
    };
    let ids = Ids::new(&arguments.id);
    if let Some(write) = arguments.line_by_line(&sources) {
        let (asked, styled) = (&arguments.id, terminal.styled());
        let lists = Lists { sources: &sources, said, asked, ids: &ids, write, styled };
        let sum = lists.check(&mut known, projects, terminal)?;
        ids.say_missing(terminal);
        terminal.remark(&sum.told());
        arguments.say_gone(&known, terminal);
        return Ok(());
    }
    let (mut files, mut books) = read(sources.into_iter().zip(found), said, terminal);
    join_needed(&mut files, &mut books, terminal);
    let mut workspace = Workspace::new(books);
    for (section, _, puzzle) in workspace.puzzles() {
        if files[section.book].given {
            ids.take(puzzle);
        }
    }
    ids.say_missing(terminal);

    let mends = arguments.fix || arguments.fix_unsafe || arguments.diff;
    let (mended, mut reports) = if mends {
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
        if mends && !write_changes(&files, &workspace, replacer, terminal) {
            // What was found holds for texts that are not there.
            return Ok(());
        }
        let found = Found {
            reports: &reports,
            places: &Places::new(&workspace),
            files: arguments.judged(&files, &workspace),
            fails: &|report| files[report.spot.section.book].fails_on(report),
        };
        found.print(arguments.format, terminal)?;
    }
    let mut summary = arguments.summary(&files, &workspace, &reports, mended);
    if arguments.about == About::Walks {
        summary += &said_unjudged(&files, &workspace, &ids, terminal);
    }
    terminal.remark(&summary);
    arguments.say_gone(&known, terminal);
    if !arguments.watch {
        // The process ends here; to free it piece by piece first would only take time.
        std::mem::forget(workspace);
    }
    Ok(())
}

impl Arguments {
    /// For what is found in walkthroughs, and what keeps them from being judged.
    pub fn of_walks(inputs: &Inputs, ids: &[String]) -> Arguments {
        let walks =
            lint::FINDINGS.iter().filter(|it| it.group == Group::Walks || it.severity == Severity::Error);
        Arguments {
            inputs: inputs.clone(),
            format: Format::Human,
            fix: false,
            fix_unsafe: false,
            diff: false,
            only: walks.map(|finding| finding.name.to_owned()).collect(),
            skip: Vec::new(),
            fail_on: None,
            baseline: None,
            id: ids.to_vec(),
            watch: false,
            about: About::Walks,
        }
    }

    /// What the options say of what is reported, if they fit together and name what exists; says what does not.
    fn rules(&self, terminal: &mut Terminal) -> Option<settings::Check> {
        let mut troubles = Vec::new();
        let mut known = |names: &[String]| {
            let known = names.iter().filter_map(|name| {
                finding_named(name).map_err(|trouble| troubles.push(trouble)).ok().map(|finding| finding.name)
            });
            known.collect()
        };
        let rules = settings::Check {
            only: known(&self.only),
            skip: known(&self.skip),
            fail_on: self.fail_on.map(Severity::from),
        };
        if self.diff && self.format != Format::Human {
            let what = "a diff is not among the findings that a program reads";
            troubles.push(Trouble::new(
                "--diff",
                what,
                "leave out --format: the JSON names each fix and its edits",
            ));
        }
        if self.mends_in_place() && self.inputs.has_stdin() {
            let what = "standard input cannot be written over";
            troubles.push(Trouble::new("--fix", what, "add --diff to see what would change"));
        }
        if self.watch && self.inputs.has_stdin() {
            let what = "standard input is read once and cannot change";
            troubles.push(Trouble::new("--watch", what, "leave one of the two out"));
        }
        for trouble in &troubles {
            terminal.trouble(trouble);
        }
        troubles.is_empty().then_some(rules)
    }

    /// How a finding is written, if all of these files are lists that can be checked line by line: nothing of them is to be
    /// mended, and findings stand one behind the other.
    fn line_by_line(&self, sources: &[Source]) -> Option<Written> {
        let mends = self.fix || self.fix_unsafe || self.diff;
        let lists = !sources.is_empty() && sources.iter().all(|source| source.list);
        self.format.one_by_one().filter(|_| lists && !mends && self.about == About::All)
    }

    /// Says what of the baseline is found no more.
    fn say_gone(&self, known: &Identities, terminal: &mut Terminal) {
        if let (Some(path), left @ 1..) = (&self.baseline, known.left()) {
            let (name, are) = (path.display(), if left == 1 { "is" } else { "are" });
            let gone = counted(left, "finding");
            terminal.remark(&format!("{gone} of {name} {are} gone: it can be written anew"));
        }
    }

    /// What was found before.
    ///
    /// # Errors
    /// If it cannot be read.
    fn known(&self) -> Result<Identities, Trouble> {
        let Some(path) = &self.baseline else { return Ok(Identities::default()) };
        let name = path.display().to_string();
        let advice = "write it with `gridsetter check --format json`";
        let text = fs::read_to_string(path).map_err(|error| Trouble::new(&name, words(&error), advice))?;
        Identities::read(&text)
            .map_err(|line| Trouble::new(format!("{name}:{line}"), "this line is no finding", advice))
    }

    /// The files that were looked at, with the puzzles that were.
    fn judged<'a>(&self, files: &[Read], workspace: &'a Workspace) -> Vec<Judged<'a>> {
        let given = files.iter().enumerate().filter(|(_, file)| file.given);
        let mut judged: Vec<Judged> = given.map(|(book, _)| Judged { book, ids: Vec::new() }).collect();
        for (section, _, puzzle) in workspace.puzzles() {
            let Some(id) = puzzle.id.as_ref().map(|name| &name.text) else { continue };
            let asked = self.id.is_empty() || self.id.contains(id);
            if let (true, Ok(at)) = (asked, judged.binary_search_by_key(&section.book, |file| file.book)) {
                judged[at].ids.push(id);
            }
        }
        judged
    }

    fn mends_in_place(&self) -> bool {
        (self.fix || self.fix_unsafe) && !self.diff
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
    let puzzles =
        |meaning: &Meaning| meaning.entries.iter().filter(|entry| matches!(entry, Entry::Puzzle(_))).count();
    // How many puzzles stand up to the end of each section.
    let mut all = 0;
    let upto = workspace.sections().map(|(.., meaning)| {
        all += puzzles(meaning);
        all
    });
    let upto: Vec<usize> = upto.collect();
    terminal.begin();
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

/// Reads the files that were given, each with its settings behind what the options `said`. A file that cannot be read is
/// said and left out.
fn read(
    sources: impl Iterator<Item = (Source, Option<Arc<Project>>)>,
    said: &settings::Check,
    terminal: &mut Terminal,
) -> (Vec<Read>, Vec<Book>) {
    let mut files = Vec::new();
    let mut books = Vec::new();
    for (source, project) in sources {
        match source.read() {
            Err(trouble) => terminal.trouble(&trouble),
            Ok(text) => {
                terminal.detail(&format!("read {}", source.name));
                let ladder = project.as_ref().map(|it| Arc::clone(&it.settings.ladder));
                books.push(source.book(&text).with_ladder(ladder.unwrap_or_default()));
                let rules = project.as_ref().map_or_else(|| said.clone(), |it| said.or(&it.settings.check));
                files.push(Read { source, text, project, given: true, rules });
            }
        }
    }
    (files, books)
}

/// Puts the files that a `take` needs before those that were given: what two files say alike is then said of a given one.
fn join_needed(files: &mut Vec<Read>, books: &mut Vec<Book>, terminal: &mut Terminal) {
    let given = files.iter().zip(&*books).map(|(file, book)| Given {
        path: file.source.path.as_deref(),
        book,
        project: file.project.as_deref(),
    });
    for (at, Needed { source, text, book }) in needed(&given.collect::<Vec<_>>()).into_iter().enumerate() {
        terminal.detail(&format!("read {}, for a `take`", source.name));
        let rules = settings::Check::default();
        files.insert(at, Read { source, text, project: None, given: false, rules });
        books.insert(at, book);
    }
}

impl Read {
    /// Whether what it says may be mended: a list has no place for what is missing, what is not UTF-8 was not read to the
    /// byte, and what was not given is not touched.
    fn may_change(&self) -> bool {
        self.given && !self.source.list && matches!(self.text, Text::Utf8(_))
    }

    /// Whether a finding in it is something to act on.
    fn fails_on(&self, report: &Report) -> bool {
        report.severity >= self.rules.fail_on.unwrap_or(Severity::Warning)
    }

    /// The book that it is, with `text` by now.
    fn read_again(&self, text: &str) -> Book {
        if self.may_change() { Book::read(&self.source.name, text) } else { self.source.book(&self.text) }
    }

    /// What it said, if `workspace` says something else of it by now.
    fn changed<'a>(&'a self, now: &'a str) -> Option<&'a str> {
        match &self.text {
            Text::Utf8(before) if self.may_change() && **before != now => Some(before),
            _ => None,
        }
    }
}

fn show_changes(files: &[Read], workspace: &Workspace, terminal: &mut Terminal) -> Result<(), Closed> {
    for (file, book) in files.iter().zip(&workspace.books) {
        let now = book.tree.to_string();
        if let Some(before) = file.changed(&now) {
            terminal.print(&diff::unified(&file.source.name, before, &now, terminal.styled()))?;
        }
    }
    Ok(())
}

/// Writes what was mended; tells whether all of it could be written.
fn write_changes(
    files: &[Read],
    workspace: &Workspace,
    replacer: &Replacer,
    terminal: &mut Terminal,
) -> bool {
    let mut all_written = true;
    for (file, book) in files.iter().zip(&workspace.books) {
        if file.given && !file.may_change() {
            let why = if file.source.list { "is a list" } else { "is not UTF-8 text" };
            terminal.remark(&format!("{} {why}, so nothing of it is mended", file.source.name));
        }
        let now = book.tree.to_string();
        if let (Some(_), Some(path)) = (file.changed(&now), &file.source.path)
            && let Err(trouble) = replacer.replace(&file.source.name, path, file.text.bytes(), now.as_bytes())
        {
            terminal.trouble(&trouble);
            all_written = false;
        }
    }
    all_written
}
