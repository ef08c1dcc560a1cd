//! Almost locked sets: cells of a house that have one candidate more than they are.

use crate::board::{Cell, DigitSet};
use crate::reason::tables::Tables;
use crate::step::Position;

/// Calls `found` with each almost locked set of so many cells, once, houses in their order.
pub(super) fn each(
    size: usize,
    tables: &Tables,
    position: &Position,
    mut found: impl FnMut(&[Cell], DigitSet),
) {
    let (mut open, mut chosen, mut own) = (Vec::new(), Vec::new(), Vec::new());
    for house in position.layout().house_ids() {
        let cells = &position.layout().at(house).cells;
        let all = position.candidates_in(house).iter().copied().enumerate();
        open.clear();
        open.extend(all.filter(|(_, here)| here.len() > 1 && here.len() <= size + 1));
        choose(&open, size, DigitSet::EMPTY, &mut chosen, &mut |places: &[usize], digits| {
            let bits = places.iter().fold(0_u32, |bits, &at| bits | 1 << at);
            if !tables.in_an_earlier_house(house, bits) {
                own.clear();
                own.extend(places.iter().map(|&at| cells[at]));
                found(&own, digits);
            }
        });
    }
}

fn choose(
    open: &[(usize, DigitSet)],
    size: usize,
    union: DigitSet,
    chosen: &mut Vec<usize>,
    found: &mut impl FnMut(&[usize], DigitSet),
) {
    if chosen.len() == size {
        if union.len() == size + 1 {
            found(chosen, union);
        }
        return;
    }
    for (at, &(place, here)) in open.iter().enumerate() {
        let with = union | here;
        if open.len() - at >= size - chosen.len() && with.len() <= size + 1 {
            chosen.push(place);
            choose(&open[at + 1..], size, with, chosen, found);
            chosen.pop();
        }
    }
}
