//! One place for a digit, or one digit for a cell.

use super::nearest::Offers;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position};

/// A step that writes a digit into a cell.
fn placed(pattern: Pattern, houses: Vec<HouseId>, cell: Cell, digit: Digit, base: Base) -> Deduction {
    Deduction {
        pattern,
        method: Method::Marks,
        seen: None,
        houses,
        claims: vec![Claim::Is { cells: CellSet::single(cell), digits: DigitSet::single(digit) }],
        bases: vec![base],
        witnesses: Vec::new(),
    }
}

/// A house with one open cell: it holds what the house misses.
pub(super) fn last_open_cell(position: &Position, offers: &mut impl Offers) {
    for house in position.layout().house_ids() {
        if let Some(digit) = position.missing(house).only()
            && let Some(cell) = position.cells(house, digit).iter().next()
        {
            offers.offer(cell, DigitSet::single(digit), || {
                placed(Pattern::LastOpenCell, vec![house], cell, digit, Base::Cell(cell))
            });
        }
    }
}

/// A digit with one place in a house.
pub(super) fn hidden(pattern: Pattern, houses: &[HouseId], position: &Position, offers: &mut impl Offers) {
    for &house in houses {
        for digit in position.missing(house).iter() {
            let places = position.places(house, digit);
            if places.is_power_of_two() {
                let cell = position.layout().at(house).cells[places.trailing_zeros() as usize];
                offers.offer(cell, DigitSet::single(digit), || {
                    placed(pattern, vec![house], cell, digit, Base::Place(house, digit))
                });
            }
        }
    }
}

/// A cell with one candidate.
pub(super) fn naked(position: &Position, offers: &mut impl Offers) {
    for cell in position.layout().size().all_cells() {
        if let Some(digit) = position.candidates(cell).only() {
            offers.offer(cell, DigitSet::single(digit), || {
                placed(Pattern::NakedSingle, Vec::new(), cell, digit, Base::Cell(cell))
            });
        }
    }
}
