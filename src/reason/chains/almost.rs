//! Almost locked sets: cells of a house that have one candidate more than they are.

use crate::board::{DigitSet, HouseId, bits};
use crate::reason::choose::choose_with;
use crate::reason::tables::Tables;
use crate::step::Position;

/// Calls `found` with each almost locked set of so many cells, once, houses in their order: with its house, its cells
/// there, a bit for each, and its digits.
pub(super) fn each(
    size: u8,
    tables: &Tables,
    position: &Position,
    mut found: impl FnMut(HouseId, u32, DigitSet),
) {
    // The rows have all cells.
    let houses = if size == 1 { position.layout().size().usize() } else { usize::MAX };
    for house in position.layout().house_ids().take(houses) {
        let candidates = position.candidates_in(house);
        let few = position.cells_with(house, 2..=size + 1);
        let mut take = |own, union| {
            if !tables.in_an_earlier_house(house, own) {
                found(house, own, DigitSet::from_bits(union));
            }
        };
        if size == 1 {
            bits(few).for_each(|at| take(1 << at, candidates[usize::from(at)].bits()));
        } else {
            let sets = bits(few).map(|at| (at, candidates[usize::from(at)].bits()));
            choose_with(size, size + 1, sets, take);
        }
    }
}
