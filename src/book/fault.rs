//! What could be read and has no meaning as it stands.

use crate::board::HouseName;
use crate::notation::{Keyword, Span};

/// One place that has no meaning as it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fault {
    /// Where, in its section.
    pub span: Span,
    /// What is wrong there.
    pub kind: FaultKind,
}

/// What is wrong at a [`Fault`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FaultKind {
    /// A value that its statement cannot have; what it can have, as half a sentence.
    ValueUnreadable(Keyword, String),
    /// A puzzle that says things about itself and has no grid.
    GridMissing,
    /// A row has another count of cells than the board's side. At the first of a run of such rows.
    RowLength {
        /// Its cells.
        found: usize,
        /// The side, in cells.
        needed: usize,
        /// For a row of a sheet, whose cells are parted by blanks.
        sheet: bool,
    },
    /// A line of a list has a count of symbols that no size has.
    ListLength(usize),
    /// A grid has too few rows.
    RowsMissing {
        /// Its rows.
        found: usize,
        /// The side, in cells.
        needed: usize,
    },
    /// A grid has too many rows. At the first that is too many.
    RowsExtra {
        /// Its rows.
        found: usize,
        /// The side, in cells.
        needed: usize,
    },
    /// A symbol beyond the board's digits: the symbol and the side.
    SymbolOutside(char, u8),
    /// No boxes are usual at this side, and neither `boxes` nor `regions` says any.
    BoxesUnsaid(u8),
    /// The regions do not divide the board as they must; why, as half a sentence.
    RegionsShape(String),
    /// A complete grid of another side than was said or than nine.
    SizeUnsaid(u8),
    /// A mark that names a digit twice, or `!` beside several digits; why, as half a sentence.
    MarkUnreadable(String),
    /// A constraint (or an extra house) that cannot be understood; why, as half a sentence.
    ConstraintUnreadable(Keyword, String),
    /// No pattern has this name; the nearest one that exists.
    PatternUnknown(String, Option<&'static str>),
    /// A cell beyond the board; the side.
    CellOutside(u8),
    /// A digit beyond the board's; the symbol and the side.
    DigitOutside(char, u8),
    /// A house that this layout has not.
    HouseUnknown(HouseName),
    /// A reference in braces that reads as nothing that is known.
    ReferenceUnknown(String),
}
