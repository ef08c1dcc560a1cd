//! Checking lists of any length: each line by itself, and of what came before only what it takes to know it again.
//!
//! What stands in a list refers to nothing, so there is to say of a line what it says alone, and that an earlier one has
//! its id or is the same puzzle. That is found by looking at these two lines together.

use super::course::{Part, each_part};
use super::firsts::Firsts;
use super::ids::Ids;
use super::input::Source;
use super::project::Projects;
use super::puzzles::Together;
use super::report::{Identities, Written};
use super::sum::Sum;
use super::terminal::{Closed, Terminal};
use crate::book::{Book, Name, SectionId};
use crate::lint::{self, Effort, Finding, Report, Said, Severity, id_repeated, repeated_puzzle};
use crate::sameness::Form;
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
    /// How a finding is written, and whether it may be coloured.
    pub write: Written,
    pub styled: bool,
}

/// What was found in a piece of a list.
struct Found {
    all: Arc<Together>,
    rules: settings::Check,
    lines: Vec<Line>,
}

/// What was found in a line by itself, as it is written.
struct Line {
    reports: Vec<(Report, String)>,
    /// If it is a puzzle.
    traits: Option<Traits>,
}

/// What two puzzles may have in common, as far as that is to be reported.
struct Traits {
    id: Option<String>,
    form: Option<Form>,
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
        let (mut sum, mut memory, mut once) = (Sum::default(), Memory::default(), HashSet::new());
        let mut take = |found: Found, terminal: &mut Terminal| {
            let (ahead, book) = (found.all.ahead(0), &found.all.workspace().books[0]);
            // Each list has just one piece with nothing before it.
            sum.files += usize::from(ahead == 0);
            let mut puzzles = 0;
            for ((section, line), ahead) in book.tree.sections.iter().zip(found.lines).zip(ahead..) {
                let (mut reports, is_puzzle) = (line.reports, line.traits.is_some());
                if let Some(traits) = line.traits {
                    let own = Own { file: &book.name, ahead, text: &section.text };
                    reports.extend(self.of_two(memory.meet(&traits, &own), &found.rules));
                }
                reports.sort_by_key(|(report, _)| report.spot.span);
                reports.retain(|(report, _)| {
                    let is_new =
                        !report.finding.once_a_file() || once.insert((sum.files, report.message.clone()));
                    is_new && !known.take(report, &book.name)
                });
                puzzles += usize::from(is_puzzle);
                sum.hit += usize::from(is_puzzle && !reports.is_empty());
                for (report, text) in &reports {
                    sum.add(report);
                    if report.severity >= found.rules.fail_on.unwrap_or(Severity::Warning) {
                        terminal.found();
                    }
                    terminal.print(text)?;
                }
            }
            sum.puzzles += puzzles;
            Ok(puzzles)
        };
        each_part(self.sources, projects, terminal, &|part: &Part| self.look(part), &mut take)?;
        Ok(sum)
    }

    fn look(&self, part: &Part) -> Found {
        let all = Arc::clone(part.all);
        let rules = self.said.or(&all.settings(0).check);
        let lines = part.sections.clone().map_while(|section| {
            let at = SectionId { book: 0, section };
            (!part.is_given_up()).then(|| self.line(&all, at, &rules))
        });
        let lines = lines.collect();
        Found { all, rules, lines }
    }

    fn line(&self, all: &Together, at: SectionId, rules: &settings::Check) -> Line {
        let (workspace, ladder) = (all.workspace(), &all.settings(0).ladder);
        let said = Said::of(workspace.section(at), workspace.meaning(at), ladder, Effort::Full);
        // Of most lines there is nothing to say.
        let reports = if said.is_empty() {
            Vec::new()
        } else {
            lint::check_alone(&workspace.books[0], at.section, &said, &[])
        };
        let reports = reports.into_iter().filter_map(|report| self.written(report, rules, all)).collect();
        let traits = all.puzzles_of(at).next().map(|(.., puzzle)| {
            self.ids.take(puzzle);
            let (ids, forms) =
                (rules.reports(&id_repeated::FINDING), rules.reports(&repeated_puzzle::FINDING));
            let id = puzzle.id.as_ref().filter(|_| ids).map(|id| id.text.clone());
            let form = || Some(puzzle.form()?.ok()?.2.form.clone());
            Traits { id, form: if forms { form() } else { None } }
        });
        Line { reports, traits }
    }

    /// What is found of the second one in each of these pairs of lines.
    fn of_two(
        &self,
        pairs: impl IntoIterator<Item = (&'static Finding, Together)>,
        rules: &settings::Check,
    ) -> Vec<(Report, String)> {
        let found = pairs.into_iter().flat_map(|(finding, both)| {
            let mut reports = lint::check(both.workspace());
            reports.retain(|report| report.spot.section.book == 1 && std::ptr::eq(report.finding, finding));
            reports
                .into_iter()
                .filter_map(move |report| self.written(report, rules, &both))
                .collect::<Vec<_>>()
        });
        found.collect()
    }

    /// A finding as it is written, if it is asked for. A list has no place for what is missing: nothing of it is mended.
    fn written(
        &self,
        mut report: Report,
        rules: &settings::Check,
        all: &Together,
    ) -> Option<(Report, String)> {
        let id_fits =
            self.asked.is_empty() || report.puzzle.as_ref().is_some_and(|puzzle| self.asked.contains(puzzle));
        if !id_fits || !rules.reports(report.finding) {
            return None;
        }
        report.fixes.clear();
        let text = (self.write)(&report, &all.places(), self.styled);
        Some((report, text))
    }
}

/// A line of a list, and what stands before it.
struct Own<'a> {
    file: &'a str,
    ahead: usize,
    text: &'a str,
}

/// The lines that others can be the same as: of each about 110 bytes beside its text.
#[derive(Default)]
struct Memory {
    ids: Firsts<u32>,
    forms: Firsts<u32>,
    files: Vec<String>,
    lines: Vec<Kept>,
    /// The texts of the lines, one behind the other.
    text: String,
}

/// A line that is kept.
struct Kept {
    file: u32,
    ahead: usize,
    /// Where its text begins.
    begin: usize,
}

impl Memory {
    /// The earlier lines with which `own` has its traits in common, each with it. What is new about it is kept.
    fn meet(&mut self, traits: &Traits, own: &Own) -> Vec<(&'static Finding, Together)> {
        let bears = |line: &u32, id: &String| {
            let name: Option<Name> = self.book(*line).puzzles().next().and_then(|puzzle| puzzle.id.clone());
            name.is_some_and(|name| name.text == *id)
        };
        let has = |line: &u32, form: &Form| {
            let book = self.book(*line);
            let its = book.puzzles().next().and_then(|puzzle| puzzle.form()?.ok());
            its.is_some_and(|its| its.2.form == *form)
        };
        let of_id = traits.id.as_ref().map(|id| self.ids.find(id, |line| bears(line, id)).copied());
        let of_form = traits.form.as_ref().map(|form| self.forms.find(form, |line| has(line, form)).copied());
        let pairs = [(&id_repeated::FINDING, of_id), (&repeated_puzzle::FINDING, of_form)];
        let pairs = pairs.into_iter().filter_map(|(finding, first)| {
            let first = first??;
            let own_book = Book::read_list(own.file, own.text);
            Some((
                finding,
                Together::new([
                    (self.book(first), self.lines[first as usize].ahead, None),
                    (own_book, own.ahead, None),
                ]),
            ))
        });
        let pairs = pairs.collect();
        if of_id == Some(None) || of_form == Some(None) {
            let Some(line) = self.keep(own) else { return pairs };
            if let (Some(id), Some(None)) = (&traits.id, of_id) {
                self.ids.add(id, line);
            }
            if let (Some(form), Some(None)) = (&traits.form, of_form) {
                self.forms.add(form, line);
            }
        }
        pairs
    }

    /// Keeps a line; where there is no more room to count it, nothing is kept.
    fn keep(&mut self, own: &Own) -> Option<u32> {
        if self.files.last().is_none_or(|file| file != own.file) {
            self.files.push(own.file.to_owned());
        }
        let (line, file) = (u32::try_from(self.lines.len()).ok()?, u32::try_from(self.files.len() - 1).ok()?);
        self.lines.push(Kept { file, ahead: own.ahead, begin: self.text.len() });
        self.text.push_str(own.text);
        Some(line)
    }

    /// A line that was kept, read again.
    fn book(&self, line: u32) -> Book {
        let at = line as usize;
        let end = self.lines.get(at + 1).map_or(self.text.len(), |next| next.begin);
        let kept = &self.lines[at];
        Book::read_list(&self.files[kept.file as usize], &self.text[kept.begin..end])
    }
}
