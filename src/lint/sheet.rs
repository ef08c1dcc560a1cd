//! A solver's sheet as its checks see it: what can still be trusted, and what cannot.
//!
//! The checks build on each other. What differs from the givens is not held against the rules as well; what breaks the
//! rules is not held against the solution; and marks are held only against entries that stand. So one slip of the pen
//! is one finding.

use super::PuzzleScene;
use super::repeats::{Repeat, repeats};
use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, Layout};
use crate::book::{self, Board, Token};
use crate::notation::Span;

/// A sheet of a puzzle that can be judged.
pub(super) struct Sheet<'a> {
    scene: &'a PuzzleScene<'a>,
    block: &'a book::Sheet,
    /// The houses of the puzzle.
    pub layout: &'a Layout,
    /// What the sheet began from: a lesson's position, or the givens.
    base: Option<&'a Board>,
}

impl<'a> Sheet<'a> {
    /// The sheets of a puzzle of which no line is lost; none where its solution would be known with more effort: what is held
    /// against what depends on it.
    pub fn all(scene: &'a PuzzleScene) -> impl Iterator<Item = Sheet<'a>> {
        let puzzle = scene.puzzle;
        let base = puzzle.position.as_ref().or(puzzle.givens.as_ref());
        let layout = puzzle.layout.as_deref().filter(|_| !puzzle.unsure && !puzzle.sheets.is_empty());
        let layout = layout.filter(|_| scene.may_be_judged());
        let with = move |layout| puzzle.sheets.iter().map(move |block| Sheet { scene, block, layout, base });
        layout.into_iter().flat_map(with)
    }

    /// What a cell says.
    pub fn token(&self, cell: Cell) -> Token {
        self.block.token(cell)
    }

    /// What each cell says, in reading order.
    pub fn tokens(&self) -> impl Iterator<Item = (Cell, Token)> {
        self.layout.size().all_cells().map(|cell| (cell, self.token(cell)))
    }

    /// Where a cell stands.
    pub fn cell(&self, cell: Cell) -> Span {
        self.block.place(self.scene.section, cell)
    }

    /// The digit that the cell had before anything was written.
    pub fn given(&self, cell: Cell) -> Option<Digit> {
        self.base.and_then(|board| board.grid[cell])
    }

    /// Where that digit stands.
    pub fn given_span(&self, cell: Cell) -> Option<Span> {
        self.base.map(|board| self.scene.cell(board, cell))
    }

    /// What the cell's digit would be if the token is right; `None` where nothing is said of that.
    pub fn says(token: Token) -> Option<DigitSet> {
        match token {
            Token::Empty => None,
            Token::Digit(digit) | Token::Known(digit) => Some(DigitSet::single(digit)),
            Token::Closed(digits) | Token::Open(digits) => Some(digits),
        }
    }

    /// The cells whose token leaves no room for the digit that was there from the start.
    pub fn against_given(&self) -> Vec<(Cell, Digit)> {
        let bad = |(cell, token)| {
            let given = self.given(cell)?;
            Sheet::says(token).filter(|digits| !digits.contains(given)).map(|_| (cell, given))
        };
        self.tokens().filter_map(bad).collect()
    }

    /// The digits from the start, and what was written since where nothing was given.
    fn written(&self) -> Grid {
        let empty = Grid::empty(self.layout.size());
        self.block.grid(self.base.map_or(&empty, |board| &board.grid))
    }

    /// Entries that a house holds twice.
    pub fn clashes(&self) -> Vec<Repeat> {
        repeats(self.layout, &self.written(), |cell| self.given(cell).is_some())
    }

    /// The digits that do not clash, whoever wrote them.
    fn peaceful(&self) -> Grid {
        let mut grid = self.written();
        let clashes = self.clashes();
        for cell in clashes.iter().flat_map(|clash| clash.others.iter().chain([&clash.cell])) {
            if self.given(*cell).is_none() {
                grid.set(*cell, None);
            }
        }
        grid
    }

    /// Entries that clash with nothing, and are not what the one solution has.
    pub fn wrong(&self) -> Vec<Cell> {
        let Some(solution) = self.scene.solution() else { return Vec::new() };
        let entries = self.peaceful();
        let wrong = entries.differing(solution) & entries.digits().map(|(cell, _)| cell).collect::<CellSet>();
        wrong.iter().collect()
    }

    /// The digits that marks are held against: no entry among them that is known to be wrong.
    pub fn standing(&self) -> Grid {
        let mut grid = self.peaceful();
        for cell in self.wrong() {
            grid.set(cell, None);
        }
        grid
    }

    /// The one solution, if all that is written agrees with it: from a wrong entry, wrong marks follow.
    pub fn solution(&self) -> Option<&'a Grid> {
        let sound = self.clashes().is_empty() && self.wrong().is_empty();
        self.scene.solution().filter(|_| sound)
    }

    /// The change that writes `text` over a cell's token, as wide as it was where another one follows in its row.
    pub fn write(&self, cell: Cell, text: &str) -> (Span, String) {
        let span = self.cell(cell);
        let last = cell.col() + 1 == self.layout.size().side();
        let width = if last { 0 } else { self.scene.section.at(span).chars().count() };
        (span, format!("{text:width$}"))
    }
}
