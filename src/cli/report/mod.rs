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
        let styled = terminal.styled();
        let one_by_one: &dyn Fn(&Report) -> String = match format {
            Format::Human => &|report| human::finding(report, self.places, styled),
            Format::Json => &|report| json::finding(report, self.places),
            Format::Github => &|report| github::annotation(report, self.places),
            Format::Sarif => return terminal.print(&sarif::log(self)),
            Format::Gitlab => return terminal.print(&gitlab::list(self)),
            Format::Junit => return terminal.print(&junit::suites(self)),
        };
        self.reports.iter().try_for_each(|report| terminal.print(&one_by_one(report)))
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
