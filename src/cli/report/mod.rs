//! Findings as `check` writes them, a file a format.

mod github;
mod gitlab;
mod human;
mod identity;
mod json;
mod junit;
mod sarif;

pub use identity::Identities;

use super::place::Places;
use super::terminal::{Closed, Terminal};
use crate::book::Spot;
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

/// What was found, and in what.
pub struct Found<'a> {
    /// What was found, in order of file and place.
    pub reports: &'a [Report],
    /// Where all places are.
    pub places: &'a Places<'a>,
    /// The files that were looked at, in order.
    pub files: Vec<Judged<'a>>,
    /// Whether a finding is something to act on.
    pub fails: &'a dyn Fn(&Report) -> bool,
}

/// A file that was looked at.
pub struct Judged<'a> {
    /// Its index among the books of the workspace.
    pub book: usize,
    /// The ids of its puzzles and lessons, as far as they have one, in order.
    pub ids: Vec<&'a str>,
}

impl Found<'_> {
    /// Writes all of it to standard output.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more.
    pub fn print(&self, format: Format, terminal: &mut Terminal) -> Result<(), Closed> {
        let Some(write) = format.one_by_one() else {
            return terminal.print(&match format {
                Format::Gitlab => gitlab::list(self),
                Format::Junit => junit::suites(self),
                _ => sarif::log(self),
            });
        };
        let (places, styled) = (self.places, terminal.styled());
        for some in self.reports.chunks(AT_ONCE) {
            let written = some.par_iter().map(|report| write(report, places, styled));
            for text in written.collect::<Vec<_>>() {
                terminal.print(&text)?;
            }
        }
        Ok(())
    }
}

/// How a finding is written by itself; the last says whether it may be coloured.
pub type Written = fn(&Report, &Places, bool) -> String;

impl Format {
    /// How a finding is written, where they stand one behind the other; `None` where they are parts of a whole.
    pub fn one_by_one(self) -> Option<Written> {
        match self {
            Format::Human => Some(human::finding),
            Format::Json => Some(|report, places, _| json::finding(report, places)),
            Format::Github => Some(|report, places, _| github::annotation(report, places)),
            Format::Sarif | Format::Gitlab | Format::Junit => None,
        }
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
