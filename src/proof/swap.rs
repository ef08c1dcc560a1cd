//! Whether the candidates of a swap could all be exchanged for a second solution.

use crate::board::{Cell, Digit, DigitSet, HouseId};
use crate::step::{Base, Position};

/// Whether a base is no swap, or a valid one. Where it is known that there is just one solution, the cells are open, so
/// that none is a given; beside the extras each has two candidates; and a house has each of these digits in none or two
/// of the cells. Then a house has as many of the digits as of the cells, and an exchange leaves it all its digits.
pub(super) fn is_valid(position: &Position, base: &Base) -> bool {
    let Base::Swap(swap) = base else { return true };
    let extras = |cell: Cell| -> DigitSet {
        swap.extras.iter().filter(|(at, _)| *at == cell).map(|(_, digit)| *digit).collect()
    };
    let pair = |cell: Cell| position.candidates(cell) - extras(cell);
    let mut held: Vec<(HouseId, Digit)> = Vec::with_capacity(8 * swap.cells.len());
    for &cell in &swap.cells {
        let digits = pair(cell);
        for slot in position.layout().slots(cell) {
            held.extend(digits.iter().map(|digit| (slot.house, digit)));
        }
    }
    held.sort_unstable();
    let each_once = swap.cells.is_sorted_by(|a, b| a < b);
    let there = |&(cell, digit)| swap.cells.contains(&cell) && position.candidates(cell).contains(digit);
    position.has_one_solution()
        && each_once
        && !swap.cells.is_empty()
        && swap.extras.iter().all(there)
        && swap.cells.iter().all(|&cell| pair(cell).len() == 2)
        && held.chunk_by(|a, b| a == b).all(|same| same.len() == 2)
}
