//! Some digits that have as many places in a house, and some cells of a house that have as many candidates.

use super::choose::{Masks, choose};
use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position};

/// `size` digits that have `size` places in a house: their cells hold no others.
pub(super) fn hidden(size: u8, tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut masks = Masks::default();
    for house in position.layout().house_ids() {
        masks.take(position.places_of_missing(house), 1..=size.into());
        choose(&masks, size, |labels, places| {
            let digits: DigitSet = labels.iter().filter_map(|&at| Digit::new(at + 1)).collect();
            let cells = position.cells_at(house, places);
            let bases = || digits.iter().map(|digit| Base::Place(house, digit)).collect();
            let claim = Claim::Is { cells, digits };
            if cells.iter().any(|cell| !position.candidates(cell).is_subset(digits))
                || strikes_elsewhere(house, places, &claim, tables, position)
            {
                offer(Pattern::HiddenSet(size), house, claim, bases, offers);
            }
        });
    }
}

/// `size` cells of a house that have `size` candidates: no other cell that sees them all has one of these.
pub(super) fn naked(size: u8, tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut masks = Masks::default();
    for house in position.layout().house_ids() {
        let cells = &position.layout().at(house).cells;
        let candidates = position.candidates_in(house).iter().map(|set| set.bits());
        masks.take((0..).zip(candidates), 1..=size.into());
        choose(&masks, size, |labels, union| {
            let cells = labels.iter().map(|&at| cells[usize::from(at)]).collect();
            let bases = || {
                labels
                    .iter()
                    .map(|&at| Base::Cell(position.layout().at(house).cells[usize::from(at)]))
                    .collect()
            };
            let digits = DigitSet::from_bits(union);
            let own = labels.iter().fold(0_u32, |bits, &at| bits | 1 << at);
            let claim = Claim::Is { cells, digits };
            if digits.iter().any(|digit| position.places(house, digit) & !own != 0)
                || strikes_elsewhere(house, own, &claim, tables, position)
            {
                offer(Pattern::NakedSet(size), house, claim, bases, offers);
            }
        });
    }
}

/// Whether a claim about these cells of a house strikes something that cannot be seen within it.
fn strikes_elsewhere(
    house: HouseId,
    places: u32,
    claim: &Claim,
    tables: &Tables,
    position: &Position,
) -> bool {
    tables.may_strike_elsewhere(house, places) && position.strikes_any(std::slice::from_ref(claim))
}

fn offer(
    pattern: Pattern,
    house: HouseId,
    claim: Claim,
    bases: impl FnOnce() -> Vec<Base>,
    offers: &mut impl Offers<Deduction>,
) {
    let Some(first) = claim.cells().iter().next() else { return };
    offers.offer(first, claim.digits(), || Deduction {
        pattern,
        method: Method::Marks,
        seen: None,
        houses: vec![house],
        claims: vec![claim],
        bases: bases(),
        witnesses: Vec::new(),
        splits: 0,
    });
}
