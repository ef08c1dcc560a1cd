//! Where things of a puzzle stand, and how they are changed.

use super::PuzzleScene;
use super::finding::item_at;
use crate::board::{Cell, Digit};
use crate::book::{Board, Fact, Facts};
use crate::notation::{Keyword, Section, Span, Statement, Value};

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
        of: impl Fn(&'a Facts) -> Option<&'a Fact<T>>,
    ) -> Option<(&'a Fact<T>, &'a Board)> {
        let puzzle = self.puzzle;
        let fact = of(&puzzle.facts)?;
        let judged = !puzzle.unsure && (fact.own || !puzzle.lesson);
        Some((fact, puzzle.givens.as_ref().filter(|_| judged)?))
    }

    /// Where to report that a claim is wrong: at the claim; where it is a default, at the puzzle's givens.
    pub(super) fn claim_span<T>(&self, fact: &Fact<T>) -> Span {
        if fact.own { fact.span } else { self.givens_word() }
    }

    /// The place of a claim's value, to write another one; `None` where it is a default.
    pub(super) fn claim_value<T>(&self, fact: &Fact<T>, keyword: Keyword) -> Option<Span> {
        let values = values_of(self.section, fact, keyword).filter(|_| fact.own)?;
        let first = values.first()?.span;
        Some(values.iter().fold(first, |all, value| all.to(value.span)))
    }

    /// The change that writes a digit into a grid.
    pub(super) fn write(&self, board: &Board, cell: Cell, digit: Digit) -> (Span, String) {
        (self.cell(board, cell), digit.to_string())
    }
}

/// The values of the statement that says something of a puzzle of this section.
pub(super) fn values_of<'a, T>(
    section: &'a Section,
    fact: &Fact<T>,
    keyword: Keyword,
) -> Option<&'a [Value]> {
    let within = |statement: &&Statement| {
        statement.keyword == Some(keyword)
            && fact.span.start <= statement.word.start
            && statement.word.end <= fact.span.end
    };
    section.statements.iter().find(within).map(|statement| &*statement.values)
}

/// The change that puts a statement behind the line that is the head of a puzzle.
pub(super) fn behind_head(section: &Section, head: Span, statement: &str) -> (Span, String) {
    let item = &section.items[item_at(section, head.start)];
    behind(section, section.statements_of(item).first().map_or(0, |head| head.line), statement)
}

/// The change that puts a statement behind a line.
pub(super) fn behind(section: &Section, line: u32, statement: &str) -> (Span, String) {
    let line = &section.lines[line as usize];
    let end = line.span.end as usize + line.ending.text().len();
    (Span::new(end, end), format!("{statement}{}", line.ending.text()))
}
