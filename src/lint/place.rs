//! Where things of a puzzle stand, and how its cells are listed in messages.

use super::PuzzleScene;
use crate::board::{Cell, Digit};
use crate::book::{Board, Fact, Facts};
use crate::notation::{Keyword, Span, Statement};
use std::fmt::Write;

/// A list in a message names at most so many cells: more are counted, for nobody reads them in a line.
const MOST_CELLS: usize = 8;

/// The cells as a message lists them: `r1c1 r1c4`; of a long list the first ones, and how many more there are.
pub(super) fn listed(cells: &[Cell]) -> String {
    let shown = if cells.len() > MOST_CELLS { MOST_CELLS - 1 } else { cells.len() };
    let mut text = cells[..shown].iter().map(Cell::to_string).collect::<Vec<_>>().join(" ");
    if shown < cells.len() {
        let _ = write!(text, " and {} more", cells.len() - shown);
    }
    text
}

/// Parts of a sentence, joined: `a`, `a and b`, `a, b and c`.
pub(super) fn joined(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

impl<'a> PuzzleScene<'a> {
    /// Where a cell of one of its grids stands.
    pub(super) fn cell(&self, board: &Board, cell: Cell) -> Span {
        board.place(self.section, cell)
    }

    /// The keyword of the puzzle's `givens`, for what is said of the puzzle as a whole; without them, its head.
    pub(super) fn givens_word(&self) -> Span {
        self.puzzle
            .givens
            .as_ref()
            .map_or(self.puzzle.head, |board| self.section.statements[board.statement].word)
    }

    /// Something claimed of the puzzle, and the digits that it is claimed of. `None` where it cannot be judged: a line
    /// is lost, or the claim is a default and this is a lesson, which need not be a puzzle.
    pub(super) fn claim<T>(
        &self,
        of: impl Fn(&'a Facts) -> &'a Option<Fact<T>>,
    ) -> Option<(&'a Fact<T>, &'a Board)> {
        let puzzle = self.puzzle;
        let fact = of(&puzzle.facts).as_ref()?;
        let judged = !puzzle.unsure && (fact.own || !puzzle.lesson);
        Some((fact, puzzle.givens.as_ref().filter(|_| judged)?))
    }

    /// Where to report that a claim is wrong: at the claim; where it is a default, at the puzzle's givens.
    pub(super) fn claim_span<T>(&self, fact: &Fact<T>) -> Span {
        if fact.own { fact.span } else { self.givens_word() }
    }

    /// The place of a claim's value, to write another one; `None` where it is a default.
    pub(super) fn claim_value<T>(&self, fact: &Fact<T>, keyword: Keyword) -> Option<Span> {
        let within = |statement: &&Statement| {
            statement.keyword == Some(keyword)
                && fact.span.start <= statement.word.start
                && statement.word.end <= fact.span.end
        };
        let statement = self.section.statements.iter().find(within).filter(|_| fact.own)?;
        let first = statement.values.first()?.span;
        Some(statement.values.iter().fold(first, |all, value| all.to(value.span)))
    }

    /// The changes that write these digits into a grid.
    pub(super) fn write(&self, board: &Board, digits: &[(Cell, Digit)]) -> Vec<(Span, String)> {
        digits.iter().map(|&(cell, digit)| (self.cell(board, cell), digit.to_string())).collect()
    }
}
