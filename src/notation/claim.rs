//! Claims, and the cells, houses and digits that they speak of, as written.
//!
//! Nothing here knows the size of the puzzle: `r46c1` is rows 4 and 6 in a 9x9 and row 46 elsewhere, so numbers
//! are kept as they stand, with their places, and are given meaning in `book/`.

use super::Span;

/// One claim of a step, of a remembered fact, or within braces in prose.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Claim {
    /// The whole claim.
    pub span: Span,
    /// What it says.
    pub says: Says,
}

/// What a [`Claim`] says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Says {
    /// `CELLS = DIGITS`: each of these cells holds one of these digits.
    Is(Vec<CellRange>, Digits),
    /// `CELLS not DIGITS`: none of these cells holds any of these digits.
    Not(Vec<CellRange>, Digits),
    /// `DIGITS of HOUSES in PLACE`, or `… not in PLACE`.
    Within {
        /// The digits spoken of.
        digits: Digits,
        /// Each of these houses has each of the digits there.
        houses: Vec<HouseRef>,
        /// `true` for `not in`.
        elsewhere: bool,
        /// Where.
        place: Vec<Place>,
    },
    /// `HOUSES misses DIGITS`: a look, not a deduction.
    Misses(Vec<HouseRef>, Digits),
    /// `CELLS open`: a look, not a deduction.
    Open(Vec<CellRange>),
}

/// Digits as written: `46`, `4 6` or `4/6`, with the place of each symbol in [`Digits::symbols`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Digits {
    /// From the first symbol to the last.
    pub span: Span,
    /// Each symbol (a capital or a digit sign; never repaired) and where it stands.
    pub symbols: Vec<(char, Span)>,
}

/// A cell as written, `r4c1` or `r46c1`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CellRef {
    /// The whole.
    pub span: Span,
    /// The figures after `r`.
    pub row: Span,
    /// The figures after `c`.
    pub col: Span,
}

/// A cell, or a range `r4c1..r6c3`: a rectangle, or in one line the cells in the order given.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CellRange {
    /// The cell, or where the range begins.
    pub from: CellRef,
    /// Where the range ends, if it is one.
    pub to: Option<CellRef>,
}

impl CellRange {
    /// The whole.
    pub fn span(&self) -> Span {
        self.to.map_or(self.from.span, |to| self.from.span.to(to.span))
    }
}

/// Which kind of house a word names.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum HouseWord {
    /// `row 4`
    Row,
    /// `col 1`
    Col,
    /// `box 6`
    Box,
    /// `region K`
    Region,
    /// `diagonal 1`
    Diagonal,
    /// `house window1`
    House,
}

/// One house: `col 1 2` is two of them with the same word. (`word` spans the word that both share.)
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct HouseRef {
    /// Its kind.
    pub kind: HouseWord,
    /// The place of the word `row`, `col` …
    pub word: Span,
    /// The number, letter or name after it.
    pub name: Span,
}

/// Part of a place: cells, or a house.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// Cells.
    Cells(CellRange),
    /// A house.
    House(HouseRef),
}

pub(super) fn read_claim_line(_text: &str, span: Span) -> Result<Claim, super::Fault> {
    let digits = Digits { span, symbols: Vec::new() };
    Ok(Claim { span, says: Says::Misses(Vec::new(), digits) })
}
