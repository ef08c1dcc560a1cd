//! Locked candidates: wherever a house has its digit, cells outside it see it.

use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position};

/// All places of a digit in one house lie in a second one, which has it nowhere else; on an uneven layout also: all of
/// them are seen from a cell that shares no second house with them all.
pub(super) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers) {
    for crossing in &tables.crossings {
        let digits = position.missing(crossing.first) & position.missing(crossing.second);
        for digit in digits.iter() {
            let places = position.places(crossing.first, digit);
            let beyond = position.places(crossing.second, digit) & !crossing.in_second;
            if places & !crossing.in_first == 0 && places.count_ones() > 1 && beyond != 0 {
                let cells = position.cells_at(crossing.first, places);
                let claim = Claim::Within { house: crossing.first, digits: DigitSet::single(digit), cells };
                offer(vec![crossing.first, crossing.second], digit, cells, claim, offers);
            }
        }
    }
    if tables.uneven {
        for house in position.layout().house_ids() {
            for digit in position.missing(house).iter() {
                seen_by_chance(house, digit, position, offers);
            }
        }
    }
}

/// Cells outside a house that see all places of its digit, where these do not lie in a second house.
fn seen_by_chance(house: HouseId, digit: Digit, position: &Position, offers: &mut impl Offers) {
    let layout = position.layout();
    let cells = position.cells(house, digit);
    let in_second = |id| id != house && cells.is_subset(layout.at(id).set());
    if cells.len() < 2 || layout.house_ids().any(in_second) {
        return;
    }
    let holds = |cell| position.candidates(cell).contains(digit);
    let struck: CellSet = layout.common_peers(cells).iter().filter(|&cell| holds(cell)).collect();
    if !struck.is_empty() {
        let claim = Claim::IsNot { cells: struck, digits: DigitSet::single(digit) };
        offer(vec![house], digit, cells, claim, offers);
    }
}

fn offer(houses: Vec<HouseId>, digit: Digit, cells: CellSet, claim: Claim, offers: &mut impl Offers) {
    let Some(first) = cells.iter().next() else { return };
    let base = Base::Place(houses[0], digit);
    offers.offer(first, DigitSet::single(digit), || Deduction {
        pattern: Pattern::LockedCandidates,
        method: Method::Marks,
        seen: None,
        houses,
        claims: vec![claim],
        bases: vec![base],
        witnesses: Vec::new(),
    });
}
