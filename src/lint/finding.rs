//! What a finding is.

use super::Draft;
use crate::board::Grid;
use crate::book::{self, Puzzle, SectionId, Verdict, Workspace};
use crate::notation::{self, Section, Span};
use std::cell::OnceCell;

/// A kind of finding: a row of the table.
pub struct Finding {
    /// What it is called: in output, in `allow`, in `explain`.
    pub name: &'static str,
    /// Which group of the page list it stands in.
    pub group: Group,
    /// How grave it is, where no setting says otherwise.
    pub severity: Severity,
    /// Who finds it.
    pub check: Check,
    /// The text of its own source file; [`Finding::page`] takes the page from its top.
    pub source: &'static str,
}

/// What findings are about.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Group {
    Lines,
    Items,
    Grids,
    Puzzles,
    Sheets,
    Walks,
    Books,
}

/// How grave a finding is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// True and idle, or style.
    Info,
    /// Readable and possible, but not as said, or not decided.
    Warning,
    /// Cannot be read, or is contradicted by the puzzle itself.
    Error,
}

/// Who finds a finding.
#[derive(Clone, Copy)]
pub enum Check {
    /// Reading finds it, as a fault of the notation. `None` for faults of other kinds.
    Syntax(fn(&Scene, &notation::Fault) -> Option<Draft>),
    /// Reading finds it, as a fault of meaning. `None` for faults of other kinds.
    Meaning(fn(&Scene, &book::Fault) -> Option<Draft>),
    /// It is found by looking at one puzzle.
    Puzzle(fn(&PuzzleScene) -> Vec<Draft>),
    /// It is found by looking at all files together.
    Workspace(fn(&Workspace) -> Vec<(SectionId, Draft)>),
    /// It is found while the others are gathered: only `allow-unused`, which must know what they said.
    Afterwards,
}

/// What a check of a fault may look at: the section that it stands in.
pub struct Scene<'a> {
    /// The section, for its text and statements.
    pub section: &'a Section,
    /// What it means.
    pub meaning: &'a book::Meaning,
}

impl<'a> Scene<'a> {
    /// The text at `span`.
    pub fn at(&self, span: Span) -> &'a str {
        span.of(&self.section.text)
    }
}

/// What a check of a puzzle may look at.
pub struct PuzzleScene<'a> {
    /// The section that the puzzle stands in.
    pub section: &'a Section,
    /// The puzzle.
    pub puzzle: &'a Puzzle,
    /// The exact search's verdict, found when first asked for.
    pub(super) verdict: OnceCell<Verdict>,
}

impl PuzzleScene<'_> {
    /// How many solutions the puzzle has.
    pub fn verdict(&self) -> &Verdict {
        self.verdict.get_or_init(|| Verdict::of(self.puzzle))
    }

    /// The one solution, if there is exactly one.
    pub fn solution(&self) -> Option<&Grid> {
        match self.verdict() {
            Verdict::One(grid) => Some(grid),
            _ => None,
        }
    }
}
