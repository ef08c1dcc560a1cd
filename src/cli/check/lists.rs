//! Checking lists of any length: each line by itself, and of what came before only what it takes to know it again.
//!
//! What stands in a list refers to nothing, so there is to say of a line what it says alone, and that an earlier one has
//! its id or is the same puzzle. That is found by looking at these two lines together.

use super::memory::{Memory, Own, Traits};
use crate::book::SectionId;
use crate::cli::course::{Part, each_part};
use crate::cli::ids::Ids;
use crate::cli::input::Source;
use crate::cli::project::Projects;
use crate::cli::puzzles::Together;
use crate::cli::report::{Format, Identities, Told};
use crate::cli::sum::Sum;
use crate::cli::terminal::{Closed, Terminal};
use crate::lint::{
    self, Effort, Finding, Report, Said, Severity, id_repeated, repeated_puzzle, repeats_undecided,
};
use crate::settings;
use std::collections::HashSet;
use std::sync::Arc;

/// How lists are checked.
pub struct Lists<'a> {
    pub sources: &'a [Source],
    /// What the options say of what is reported.
    pub said: &'a settings::Check,
    /// The ids that are asked for; if there are none, all are.
    pub asked: &'a [String],
    pub ids: &'a Ids,
    /// How findings are written.
    pub format: Format,
}

/// What was found in a piece of a list.
struct Found {
    all: Arc<Together>,
    rules: settings::Check,
    lines: Vec<Line>,
}

/// What was found in a line by itself.
struct Line {
    hits: Vec<Hit>,
    /// The id of its puzzle, if that is asked for.
    id: Option<String>,
    /// If it is a puzzle.
    traits: Option<Traits>,
}

/// A finding, the lines that it is about, and how it is written, as far as that can be said of it alone.
struct Hit {
    report: Report,
    all: Arc<Together>,
    text: Option<String>,
}

impl Lists<'_> {
    /// Checks them, and writes what is found and not `known`; tells what it came to.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more, or the user wants no more.
    pub fn check(
        &self,
        known: &mut Identities,
        projects: &mut Projects,
        terminal: &mut Terminal,
    ) -> Result<Sum, Closed> {
        let styled = terminal.styled();
        let mut output = self.format.document(styled);
        let (mut sum, mut memory, mut once) = (Sum::default(), Memory::default(), HashSet::new());
        terminal.print(&output.begin())?;
        let mut take = |found: Found, terminal: &mut Terminal| {
            let (ahead, book) = (found.all.ahead(0), &found.all.workspace().books[0]);
            // Each list has just one piece with nothing before it.
            if ahead == 0 {
                sum.files += 1;
                terminal.print(&output.file(&book.name))?;
            }
            let mut puzzles = 0;
            for ((section, line), ahead) in book.tree.sections.iter().zip(found.lines).zip(ahead..) {
                let (mut hits, is_puzzle) = (line.hits, line.traits.is_some());
                if let Some(traits) = line.traits {
                    let own = Own { file: &book.name, ahead, text: &section.text };
                    hits.extend(self.beside_others(memory.meet(&traits, &own), &found.rules, styled));
                }
                hits.sort_by_key(|hit| hit.report.spot.span);
                hits.retain(|Hit { report, .. }| {
                    let is_new =
                        !report.finding.once_a_file() || once.insert((sum.files, report.message.clone()));
                    is_new && !known.take(report, &book.name)
                });
                puzzles += usize::from(is_puzzle);
                sum.hit += usize::from(is_puzzle && !hits.is_empty());
                if let Some(id) = line.id.filter(|_| hits.is_empty()) {
                    terminal.print(&output.passes(&id))?;
                }
                for Hit { report, all, text } in hits {
                    sum.add(&report);
                    let fails = report.severity >= found.rules.fail_on.unwrap_or(Severity::Warning);
                    if fails {
                        terminal.found();
                    }
                    let told = Told { report: &report, places: &all.places(), fails };
                    terminal.print(&text.unwrap_or_else(|| output.finding(&told)))?;
                }
            }
            sum.puzzles += puzzles;
            Ok(puzzles)
        };
        let ended =
            each_part(self.sources, projects, terminal, &|part: &Part| self.look(part, styled), &mut take);
        // What is left off before its end is a whole as far as it goes.
        terminal.print(&output.end())?;
        ended.map(|()| sum)
    }

    fn look(&self, part: &Part, styled: bool) -> Found {
        let all = Arc::clone(part.all);
        let rules = self.said.or(&all.settings(0).check);
        let lines = part.sections.clone().map_while(|section| {
            let at = SectionId { book: 0, section };
            (!part.is_given_up()).then(|| self.line(&all, at, &rules, styled))
        });
        let lines = lines.collect();
        Found { all, rules, lines }
    }

    fn line(&self, all: &Arc<Together>, at: SectionId, rules: &settings::Check, styled: bool) -> Line {
        let (workspace, ladder) = (all.workspace(), &all.settings(0).ladder);
        let said = Said::of(workspace.section(at), workspace.meaning(at), ladder, Effort::Full);
        // Of most lines there is nothing to say.
        let reports = if said.is_empty() {
            Vec::new()
        } else {
            lint::check_alone(&workspace.books[0], at.section, &said, &[])
        };
        let hits = reports.into_iter().filter_map(|report| self.hit(report, rules, all, styled)).collect();
        let mut id = None;
        let traits = all.puzzles_of(at).next().map(|(.., puzzle)| {
            let name = puzzle.id.as_ref().map(|id| &id.text);
            id = name.filter(|_| self.ids.take(puzzle)).cloned();
            let (repeats, undecided) =
                (rules.reports(&repeated_puzzle::FINDING), rules.reports(&repeats_undecided::FINDING));
            let form = if repeats || undecided { puzzle.form() } else { None };
            let form = form.map(|form| form.map(|(.., form)| form.clone()));
            Traits {
                id: name.filter(|_| rules.reports(&id_repeated::FINDING)).cloned(),
                form: form.filter(|form| repeats || form.is_err()),
            }
        });
        Line { hits, id, traits }
    }

    /// What is found of the last one of each of these lines, which are looked at together.
    fn beside_others(
        &self,
        lines: Vec<(&'static Finding, Together)>,
        rules: &settings::Check,
        styled: bool,
    ) -> Vec<Hit> {
        let found = lines.into_iter().flat_map(|(finding, lines)| {
            let last = lines.workspace().books.len() - 1;
            let lines = Arc::new(lines);
            let mut reports = lint::check(lines.workspace());
            reports
                .retain(|report| report.spot.section.book == last && std::ptr::eq(report.finding, finding));
            let hits = reports.into_iter().filter_map(|report| self.hit(report, rules, &lines, styled));
            hits.collect::<Vec<_>>()
        });
        found.collect()
    }

    /// A finding, if it is asked for. A list has no place for what is missing: nothing of it is mended.
    fn hit(
        &self,
        mut report: Report,
        rules: &settings::Check,
        all: &Arc<Together>,
        styled: bool,
    ) -> Option<Hit> {
        let id_fits =
            self.asked.is_empty() || report.puzzle.as_ref().is_some_and(|puzzle| self.asked.contains(puzzle));
        if !id_fits || !rules.reports(report.finding) {
            return None;
        }
        report.fixes.clear();
        let text = self.format.by_itself().map(|write| write(&report, &all.places(), styled));
        Some(Hit { report, all: Arc::clone(all), text })
    }
}
