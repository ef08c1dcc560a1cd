//! A puzzle or a lesson, as far as it could be understood.

use super::{Board, Facts, Sheet};
use crate::board::Layout;
use crate::notation::Span;
use std::sync::Arc;

/// What an item of a section means.
#[derive(Clone, Debug)]
pub enum Entry {
    /// Before the first part, puzzle, lesson or answer; what holds for all that follow is in the [`Meaning`](super::Meaning).
    Preface,
    /// A chapter.
    Part,
    /// A puzzle or a lesson.
    Puzzle(Box<Puzzle>),
    /// A solution kept apart from its puzzle.
    Answer(Answer),
}

/// A name as written, and where.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Name {
    /// The name itself.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A puzzle or a lesson.
#[derive(Clone, Debug)]
pub struct Puzzle {
    /// Its `puzzle` or `lesson` line, keyword to last value; where that is lost, its first statement's keyword.
    pub head: Span,
    /// Its id, where it has one.
    pub id: Option<Name>,
    /// Its title's lines, where it has one.
    pub title: Vec<String>,
    /// A lesson need not be a puzzle: its position is not counted.
    pub lesson: bool,
    /// Something of it is lost (its `puzzle` line, or a block's first line): it is kept and not judged.
    pub unsure: bool,
    /// It has a constraint that is not used in solving yet: it is not judged. Where each stands.
    pub unused_constraints: Vec<Span>,
    /// What is said of it: its own facts, then the defaults that hold here.
    pub facts: Facts,
    /// Where its cells lie and which houses they have; `None` where that is unsaid or broken.
    pub layout: Option<Arc<Layout>>,
    /// Its printed digits; `None` where there are none or the block is broken.
    pub givens: Option<Board>,
    /// Where a lesson starts.
    pub position: Option<Board>,
    /// The answer, where it is given with the puzzle.
    pub solution: Option<Board>,
    /// Solvers' sheets, in order.
    pub sheets: Vec<Sheet>,
    /// Named positions of its walks.
    pub points: Vec<Name>,
}

/// A solution kept apart from its puzzle.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Its `answer` line.
    pub head: Span,
    /// Which puzzle's.
    pub id: Option<Name>,
    /// The statement, as an index into the section's statements; its grid is read when the puzzle's size is known.
    pub statement: usize,
}
