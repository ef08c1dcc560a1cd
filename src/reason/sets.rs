//! Some digits that have as many places in a house, and some cells of a house that have as many candidates.

use super::choose::choose;
use super::nearest::Offers;
use super::parts::Parts;
use super::tables::Tables;
use crate::board::{DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// `size` digits that have `size` places in a house: their cells hold no others.
pub(super) fn hidden(
    size: u8,
    tables: &Tables,
    position: &Position,
    parts: &mut Parts,
    offers: &mut impl Offers<Deduction>,
) {
    for &house in parts.open(tables, position) {
        let candidates = position.candidates_in(house);
        let few = position.missing_with(house, 1..=size).iter();
        let few = few.map(|digit| (digit.value() - 1, position.places(house, digit)));
        choose(size, few, |own, places| {
            let digits = DigitSet::from_bits(own);
            let holds_others = |at| !candidates[usize::from(at)].is_subset(digits);
            if bits(places).any(holds_others) || tables.strikes_elsewhere(house, places, digits, position) {
                let bases = || digits.iter().map(|digit| Base::Place(house, digit)).collect();
                offer(Pattern::HiddenSet(size), house, (places, digits), bases, position, offers);
            }
        });
    }
}

/// `size` cells of a house that have `size` candidates: no other cell that sees them all has one of these.
pub(super) fn naked(
    size: u8,
    tables: &Tables,
    position: &Position,
    parts: &mut Parts,
    offers: &mut impl Offers<Deduction>,
) {
    for &house in parts.open(tables, position) {
        let candidates = position.candidates_in(house);
        let few = bits(position.cells_with(house, 1..=size));
        let few = few.map(|at| (at, candidates[usize::from(at)].bits()));
        choose(size, few, |own, union| {
            let digits = DigitSet::from_bits(union);
            let elsewhere = |digit| position.places(house, digit) & !own != 0;
            if digits.iter().any(elsewhere) || tables.strikes_elsewhere(house, own, digits, position) {
                let bases = || position.cells_at(house, own).iter().map(Base::Cell).collect();
                offer(Pattern::NakedSet(size), house, (own, digits), bases, position, offers);
            }
        });
    }
}

/// Offers the step that some cells of a house, a bit for each, hold just these digits.
fn offer(
    pattern: Pattern,
    house: HouseId,
    (places, digits): (u32, DigitSet),
    bases: impl FnOnce() -> Vec<Base>,
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    let cells = position.cells_at(house, places);
    let Some(first) = cells.first() else { return };
    offers.offer(first, digits, || {
        Deduction::with_marks(pattern, [house], [Claim::Is { cells, digits }], bases())
    });
}
