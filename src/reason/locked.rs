//! Locked candidates: wherever a house has its digit, cells outside it see it.

use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position};

/// All places of a digit in one house lie in a second one, which has it nowhere else; on an uneven layout also: all of
/// them are seen from a cell that lies in no house with them all. One place is seen from every cell in its sight: that
/// matters only on a ladder without hidden singles.
pub(super) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    for crossing in &tables.crossings {
        let digits = position.missing(crossing.first) & position.missing(crossing.second);
        for digit in digits.iter() {
            let places = position.places(crossing.first, digit);
            let inside = places & !crossing.in_first == 0 && places & places.wrapping_sub(1) != 0;
            if inside && position.places(crossing.second, digit) & !crossing.in_second != 0 {
                let cells = position.cells_at(crossing.first, places);
                let claim = Claim::Within { house: crossing.first, digits: DigitSet::single(digit), cells };
                offer(&[crossing.first, crossing.second], digit, cells, claim, offers);
            }
        }
    }
    for house in position.layout().house_ids() {
        let digits = if tables.uneven { position.missing(house) } else { position.with_one_place(house) };
        for digit in digits.iter() {
            seen_by_chance(house, digit, position, offers);
        }
    }
}

/// Cells that see all places of a digit in a house, and do not lie in a second house with all of them.
fn seen_by_chance(house: HouseId, digit: Digit, position: &Position, offers: &mut impl Offers<Deduction>) {
    let layout = position.layout();
    let cells = position.cells(house, digit);
    if cells.is_empty() {
        return;
    }
    // A digit with one place shares no line of sight with others: whatever sees it is cleared.
    let several = cells.len() > 1;
    let seconds = layout.house_ids().map(|id| *layout.at(id).set());
    let seconds = seconds.filter(|second| several && cells.is_subset(second));
    let seconds = seconds.reduce(CellSet::union).unwrap_or_default();
    let holds = |cell: &Cell| position.candidates(*cell).contains(digit);
    let struck: CellSet = (layout.common_peers(cells) - seconds).iter().filter(holds).collect();
    if !struck.is_empty() {
        let claim = Claim::IsNot { cells: struck, digits: DigitSet::single(digit) };
        offer(&[house], digit, cells, claim, offers);
    }
}

fn offer(
    houses: &[HouseId],
    digit: Digit,
    cells: CellSet,
    claim: Claim,
    offers: &mut impl Offers<Deduction>,
) {
    let Some(first) = cells.iter().next() else { return };
    let base = Base::Place(houses[0], digit);
    offers.offer(first, DigitSet::single(digit), || Deduction {
        pattern: Pattern::LockedCandidates,
        method: Method::Marks,
        seen: None,
        houses: houses.to_vec(),
        claims: vec![claim],
        bases: vec![base],
        witnesses: Vec::new(),
        splits: 0,
    });
}
