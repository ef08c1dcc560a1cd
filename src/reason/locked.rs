//! Locked candidates: wherever a house has its digit, cells outside it see it.

use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// All places of a digit in one house lie in a second one, which has it nowhere else; on an uneven layout also: all of
/// them are seen from a cell that lies in no house with them all. One place is seen from every cell in its sight: that
/// matters only on a ladder without hidden singles.
pub(super) fn find(
    tables: &Tables,
    position: &Position,
    confined: &mut Confined,
    offers: &mut impl Offers<Deduction>,
) {
    for &(house, second, digit) in confined.look_at(tables, position) {
        let cells = || position.cells(house, digit);
        let claim = || Claim::Within { house, digits: DigitSet::single(digit), cells: cells() };
        offer(&[house, second], digit, position, claim, offers);
    }
    for house in position.layout().house_ids() {
        let digits =
            if tables.uneven { position.missing(house) } else { position.missing_with(house, 1..=1) };
        for digit in digits.iter() {
            seen_by_chance(house, digit, position, offers);
        }
    }
}

/// Where a digit has all its places in a house in a second one too, which has it elsewhere; kept as long as the digit has
/// the same places, since it is missing wherever it has one.
#[derive(Debug, Default)]
pub(super) struct Confined {
    /// For each digit its places when it was looked at last.
    places: Vec<CellSet>,
    /// In the order of the houses.
    found: Vec<(HouseId, HouseId, Digit)>,
}

impl Confined {
    fn look_at(&mut self, tables: &Tables, position: &Position) -> &[(HouseId, HouseId, Digit)] {
        let layout = position.layout();
        self.places.resize(layout.size().usize(), CellSet::EMPTY);
        let mut changed = DigitSet::EMPTY;
        for (digit, known) in layout.size().digits().iter().zip(&mut self.places) {
            let places = position.cells_with_candidate(digit);
            if known != places {
                *known = *places;
                changed.insert(digit);
            }
        }
        self.found.retain(|&(.., digit)| !changed.contains(digit));
        for house in layout.house_ids() {
            let places_in = position.places_in(house);
            let digits = position.missing_with(house, 2..=tables.widest_crossing) & changed;
            for digit in digits.iter() {
                let crossings = tables.crossings_around(house, places_in[digit.place()]);
                crossings.filter(|crossing| crossing.strikes(digit, position)).for_each(|crossing| {
                    self.found.push((house, crossing.second, digit));
                });
            }
        }
        // They were looked for digit by digit.
        self.found.sort_unstable();
        &self.found
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
        let claim = || Claim::IsNot { cells: struck, digits: DigitSet::single(digit) };
        offer(&[house], digit, position, claim, offers);
    }
}

/// Offers the step that comes of where the first of these houses can have a digit.
fn offer(
    houses: &[HouseId],
    digit: Digit,
    position: &Position,
    claim: impl FnOnce() -> Claim,
    offers: &mut impl Offers<Deduction>,
) {
    let house = houses[0];
    let first = position.places(house, digit).trailing_zeros() as usize;
    offers.offer(position.layout().at(house).cells[first], DigitSet::single(digit), || {
        let base = Base::Place(house, digit);
        Deduction::with_marks(Pattern::LockedCandidates, houses.iter().copied(), [claim()], [base])
    });
}
