//! One place for a digit, or one digit for a cell.

use super::nearest::{Focus, Offers};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// A digit for a cell. There are many at once, so that a step is only made of the one that is taken.
#[derive(Clone, Copy)]
pub(super) struct Single {
    /// The house in which the digit has one place, or the cell is the last one.
    house: Option<HouseId>,
    cell: Cell,
    digit: Digit,
}

impl Single {
    /// Writes the digit into the cell; gives the focus that this leaves.
    pub(super) fn write(self, position: &mut Position) -> Focus {
        position.place(self.cell, self.digit);
        Focus { cell: self.cell, digits: DigitSet::single(self.digit) }
    }

    /// The step that writes the digit into the cell.
    pub(super) fn into_step(self, pattern: Pattern) -> Deduction {
        let Single { house, cell, digit } = self;
        let hidden = house.filter(|_| pattern != Pattern::LastOpenCell);
        let claim = Claim::Is { cells: CellSet::single(cell), digits: DigitSet::single(digit) };
        let base = hidden.map_or(Base::Cell(cell), |house| Base::Place(house, digit));
        Deduction::with_marks(pattern, house, [claim], [base])
    }
}

/// A house with one open cell: it holds what the house misses.
pub(super) fn last_open_cell(position: &Position, offers: &mut impl Offers<Single>) {
    for (house, digit) in position.nearly_full() {
        if let Some(cell) = position.only_cell(house, digit) {
            offers.offer(cell, DigitSet::single(digit), || Single { house: Some(house), cell, digit });
        }
    }
}

/// A digit with one place in a house.
pub(super) fn hidden(houses: &[HouseId], position: &Position, offers: &mut impl Offers<Single>) {
    for &house in houses {
        for digit in position.missing_with(house, 1..=1).iter() {
            if let Some(cell) = position.only_cell(house, digit) {
                offers.offer(cell, DigitSet::single(digit), || Single { house: Some(house), cell, digit });
            }
        }
    }
}

/// A cell with one candidate.
pub(super) fn naked(rows: &[HouseId], position: &Position, offers: &mut impl Offers<Single>) {
    for &row in rows {
        for at in bits(position.cells_with(row, 1..=1)).map(usize::from) {
            if let Some(digit) = position.candidates_in(row)[at].only() {
                let cell = position.layout().at(row).cells[at];
                offers.offer(cell, DigitSet::single(digit), || Single { house: None, cell, digit });
            }
        }
    }
}
