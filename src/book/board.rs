//! Grids and sheets as they stand in a file.

use crate::board::{Cell, Digit, DigitSet, Grid};

/// A grid of digits, and where in its section it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Board {
    /// The digits.
    pub grid: Grid,
    /// The statement, as an index into the section's statements: [`Section::cell_span`](crate::notation::Section::cell_span)
    /// tells where a cell stands.
    pub statement: usize,
}

/// A solver's sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sheet {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// One token a cell, in reading order.
    pub tokens: Vec<Token>,
    /// The side of the board, in cells.
    pub side: u8,
    /// The statement, as an index into the section's statements.
    pub statement: usize,
}

/// What a sheet says of one cell.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Token {
    /// Nothing.
    Empty,
    /// `5`: written in.
    Digit(Digit),
    /// `5!`: known and not yet written in.
    Known(Digit),
    /// `46`: one of these.
    Closed(DigitSet),
    /// `46?`: noted here, with no claim about the rest of the cell.
    Open(DigitSet),
}

impl Sheet {
    /// What it says of `cell`.
    pub fn token(&self, cell: Cell) -> Token {
        self.tokens[usize::from(cell.row()) * usize::from(self.side) + usize::from(cell.col())]
    }
}
