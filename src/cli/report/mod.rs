//! Findings as `check` writes them, a file a format.

mod github;
mod gitlab;
mod human;
mod identity;
mod json;
mod junit;
mod sarif;

pub use identity::Identities;
use identity::Marks;

use super::place::Places;
use super::terminal::{Closed, Terminal};
use crate::book::{SectionId, Spot};
use crate::lint::Report;
use clap::ValueEnum;
use rayon::prelude::*;

/// So many findings are put into words at once, on all processors.
const AT_ONCE: usize = 256;

/// How findings are written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
pub enum Format {
    /// For people: the line, a mark, and what to do
    Human,
    /// For programs: one JSON object a line
    Json,
    /// For code scanning: SARIF 2.1.0
    Sarif,
    /// For the log of a GitHub workflow: one annotation a line
    Github,
    /// For the code quality report of GitLab: a JSON array
    Gitlab,
    /// For what collects test results: `JUnit` XML, one test a puzzle
    Junit,
}

/// How a finding is written by itself; the last says whether it may be coloured.
pub type ByItself = fn(&Report, &Places, bool) -> String;

impl Format {
    /// How a finding is written, where they stand one behind the other; `None` where they are parts of a whole.
    pub fn by_itself(self) -> Option<ByItself> {
        match self {
            Format::Human => Some(human::finding),
            Format::Json => Some(|report, places, _| json::finding(report, places)),
            Format::Github => Some(|report, places, _| github::annotation(report, places)),
            Format::Sarif | Format::Gitlab | Format::Junit => None,
        }
    }

    /// Findings in this format, of which nothing is written yet.
    pub fn document(self, styled: bool) -> Box<dyn Document> {
        match (self, self.by_itself()) {
            (_, Some(write)) => Box::new(Lines { write, styled }),
            (Format::Gitlab, _) => Box::new(gitlab::List::default()),
            (Format::Junit, _) => Box::new(junit::Suites::default()),
            _ => Box::new(sarif::Log::default()),
        }
    }
}

/// A finding to be written.
pub struct Told<'a> {
    pub report: &'a Report,
    /// Where all places are.
    pub places: &'a Places<'a>,
    /// Whether it is something to act on.
    pub fails: bool,
}

/// Findings on their way out: each method gives what is written next. Nothing of them is kept but what those that follow
/// need.
pub trait Document {
    /// What stands before the first finding.
    fn begin(&mut self) -> String {
        String::new()
    }

    /// What comes is of another file, or of the first.
    fn file(&mut self, _name: &str) -> String {
        String::new()
    }

    /// A finding.
    fn finding(&mut self, told: &Told) -> String;

    /// A puzzle of which there is nothing to say.
    fn passes(&mut self, _id: &str) -> String {
        String::new()
    }

    /// What stands behind the last finding.
    fn end(&mut self) -> String {
        String::new()
    }
}

/// One finding behind the other.
struct Lines {
    write: ByItself,
    styled: bool,
}

impl Document for Lines {
    fn finding(&mut self, told: &Told) -> String {
        (self.write)(told.report, told.places, self.styled)
    }
}

/// What stands between what comes, before each but the first.
#[derive(Default)]
struct Comma(bool);

impl Comma {
    fn next(&mut self) -> &'static str {
        if std::mem::replace(&mut self.0, true) { "," } else { "" }
    }
}

/// What was found, and in what.
pub struct Found<'a> {
    /// What was found, in order of file and place.
    pub reports: &'a [Report],
    /// Where all places are.
    pub places: &'a Places<'a>,
    /// The files that were looked at, in order: not every format asks for them.
    pub files: &'a dyn Fn() -> Vec<Judged<'a>>,
    /// Whether a finding is something to act on.
    pub fails: &'a dyn Fn(&Report) -> bool,
}

/// A file that was looked at.
pub struct Judged<'a> {
    /// Its index among the books of the workspace.
    pub book: usize,
    /// Its puzzles and lessons, as far as they have an id, in order: the section and the id of each.
    pub puzzles: Vec<(SectionId, &'a str)>,
}

impl Found<'_> {
    /// Writes all of it to standard output.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more.
    pub fn print(&self, format: Format, terminal: &mut Terminal) -> Result<(), Closed> {
        let (places, styled) = (self.places, terminal.styled());
        let Some(write) = format.by_itself() else {
            return self.print_whole(&mut *format.document(styled), terminal);
        };
        for some in self.reports.chunks(AT_ONCE) {
            let written = some.par_iter().map(|report| write(report, places, styled));
            for text in written.collect::<Vec<_>>() {
                terminal.print(&text)?;
            }
        }
        Ok(())
    }

    /// The same, file by file and puzzle by puzzle.
    fn print_whole(&self, output: &mut dyn Document, terminal: &mut Terminal) -> Result<(), Closed> {
        terminal.print(&output.begin())?;
        let mut reports = self.reports.iter().peekable();
        for file in (self.files)() {
            terminal.print(&output.file(self.places.file(file.book)))?;
            let mut hit = None;
            let ends = file.puzzles.iter().map(|(section, id)| (*section, Some(id)));
            let end_of_file = (SectionId { book: file.book, section: usize::MAX }, None);
            for (section, id) in ends.chain([end_of_file]) {
                while let Some(report) = reports.next_if(|report| report.spot.section <= section) {
                    hit = Some(report.spot.section);
                    let told = Told { report, places: self.places, fails: (self.fails)(report) };
                    terminal.print(&output.finding(&told))?;
                }
                if let Some(id) = id.filter(|_| hit != Some(section)) {
                    terminal.print(&output.passes(id))?;
                }
            }
        }
        terminal.print(&output.end())
    }
}

/// The file that `spot` stands in, as forges know it: by its path in the repository, without `./`.
fn path<'a>(spot: Spot, places: &Places<'a>) -> &'a str {
    let file = places.file(spot.section.book);
    file.strip_prefix("./").unwrap_or(file)
}

/// What is wrong and what to do, in one line.
fn said(report: &Report) -> String {
    format!("{}; {}", report.message, report.help)
}
