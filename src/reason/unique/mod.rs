//! Uniqueness: cells that would hold two digits each in two ways, if it were not for their further candidates. Only
//! where it is known that there is one solution: then one of these is true.

mod follows;
mod loops;
mod rectangles;
mod sets;
mod ties;
mod trap;

use crate::board::{Cell, CellSet, Digit, DigitSet};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Position, Swap};

pub(super) use loops::find as loops;
pub(super) use rectangles::find as rectangles;
pub(super) use trap::find as last_bivalue_trap;

/// Cells that would hold two digits each in two ways, with their further candidates, of which there are some.
struct Deadly {
    pattern: Pattern,
    /// The two digits of a rectangle or a loop; none of a trap, which has many.
    pair: DigitSet,
    cells: Vec<Cell>,
    extras: Vec<(Cell, Digit)>,
}

impl Deadly {
    /// The cells of a rectangle or a loop, whose two digits are `pair`; `None` if they have no others.
    fn new(pattern: Pattern, mut cells: Vec<Cell>, pair: DigitSet, position: &Position) -> Option<Deadly> {
        cells.sort_unstable();
        let further = |cell: Cell| (position.candidates(cell) - pair).iter().map(move |digit| (cell, digit));
        let extras: Vec<(Cell, Digit)> = cells.iter().copied().flat_map(further).collect();
        (!extras.is_empty()).then_some(Deadly { pattern, pair, cells, extras })
    }

    fn base(&self) -> Base {
        Base::Swap(Swap { cells: self.cells.clone(), extras: self.extras.clone() })
    }

    /// The cells that have further candidates, in reading order.
    fn open(&self) -> Vec<Cell> {
        let mut open: Vec<Cell> = self.extras.iter().map(|(cell, _)| *cell).collect();
        open.dedup();
        open
    }

    /// The further candidates of all cells.
    fn further(&self) -> DigitSet {
        self.extras.iter().map(|(_, digit)| *digit).collect()
    }

    /// The cells in which a digit is a further candidate.
    fn cells_with(&self, digit: Digit) -> CellSet {
        self.extras.iter().filter(|(_, other)| *other == digit).map(|(cell, _)| *cell).collect()
    }
}

/// Candidates that are struck, as claims: the cells of digits that leave the same ones together.
fn claims(struck: &[(Cell, Digit)]) -> Vec<Claim> {
    let mut claims: Vec<(CellSet, DigitSet)> = Vec::new();
    let digits: DigitSet = struck.iter().map(|(_, digit)| *digit).collect();
    for digit in digits.iter() {
        let cells: CellSet =
            struck.iter().filter(|(_, other)| *other == digit).map(|(cell, _)| *cell).collect();
        match claims.iter_mut().find(|(same, _)| *same == cells) {
            Some((_, digits)) => *digits |= DigitSet::single(digit),
            None => claims.push((cells, DigitSet::single(digit))),
        }
    }
    claims.into_iter().map(|(cells, digits)| Claim::IsNot { cells, digits }).collect()
}
