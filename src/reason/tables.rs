//! What the finders need of a layout, made once.

use std::ops::Range;

use crate::board::{CellSet, Digit, DigitSet, HouseId, HouseName, Layout};
use crate::step::{Claim, Position};

/// Where a house crosses another in two cells or more.
#[derive(Clone, Copy, Debug)]
pub(super) struct Crossing {
    pub(super) second: HouseId,
    /// The places of the cells that both have, in the first house.
    pub(super) in_first: u32,
    /// The same in the second house.
    pub(super) in_second: u32,
}

#[derive(Debug)]
pub(super) struct Tables {
    /// All houses.
    houses: Vec<HouseId>,
    pub(super) blocks: Vec<HouseId>,
    pub(super) not_blocks: Vec<HouseId>,
    pub(super) rows: Vec<HouseId>,
    pub(super) columns: Vec<HouseId>,
    pub(super) crossings: Vec<Crossing>,
    /// For each house, which of the crossings it comes first in.
    crossings_of: Vec<Range<usize>>,
    /// For each place of each house, those of the crossings of the house that have it, and all places that these have.
    crossings_at: Vec<(u32, Range<usize>)>,
    /// Those crossings, one place behind the other.
    by_place: Vec<Crossing>,
    /// For each cell in reading order its houses, a bit for each. Empty where a layout has more than 128: there neither
    /// rectangles nor loops are looked for.
    pub(super) houses_of: Vec<u128>,
    /// The same without the rows, which come first. Empty where a layout has more than 64 of these: there no candidate counts
    /// as one that is in no laying.
    houses_beside_row: Vec<u64>,
    /// How many cells two houses share at most.
    pub(super) widest_crossing: u8,
    /// Whether cells that do not all lie in two common houses may still all be seen from one cell outside.
    pub(super) uneven: bool,
}

impl Tables {
    pub(super) fn new(layout: &Layout) -> Tables {
        let named = |wanted: &dyn Fn(&HouseName) -> bool| -> Vec<HouseId> {
            layout.house_ids().filter(|&id| wanted(&layout.at(id).name)).collect()
        };
        let mut crossings = Vec::new();
        let (mut crossings_of, mut crossings_at, mut by_place) = (Vec::new(), Vec::new(), Vec::new());
        for first in layout.house_ids() {
            let begin = crossings.len();
            for second in layout.house_ids().filter(|&second| second != first) {
                let shared = *layout.at(first).set() & *layout.at(second).set();
                if !shared.is_empty() && shared.len() > 1 {
                    let places = |house| places(layout, house, shared);
                    crossings.push(Crossing { second, in_first: places(first), in_second: places(second) });
                }
            }
            for place in 0..layout.size().side() {
                let (at, has) = (by_place.len(), |crossing: &&Crossing| crossing.in_first & 1 << place != 0);
                by_place.extend(crossings[begin..].iter().filter(has).copied());
                let all = by_place[at..].iter().fold(0, |all, crossing| all | crossing.in_first);
                crossings_at.push((all, at..by_place.len()));
            }
            crossings_of.push(begin..crossings.len());
        }
        let widths = crossings.iter().map(|crossing| crossing.in_first.count_ones().to_le_bytes()[0]);
        let plain =
            |house: &HouseName| matches!(house, HouseName::Row(_) | HouseName::Column(_) | HouseName::Box(_));
        let houses_of = houses_of(layout).unwrap_or_default();
        let beside_row = |houses: &u128| u64::try_from(houses >> layout.size().side());
        Tables {
            houses: layout.house_ids().collect(),
            blocks: named(&HouseName::is_block),
            not_blocks: named(&|house| !house.is_block()),
            rows: named(&|house| matches!(house, HouseName::Row(_))),
            columns: named(&|house| matches!(house, HouseName::Column(_))),
            widest_crossing: widths.max().unwrap_or_default(),
            crossings,
            crossings_of,
            crossings_at,
            by_place,
            houses_beside_row: houses_of.iter().map(beside_row).collect::<Result<_, _>>().unwrap_or_default(),
            houses_of,
            uneven: !layout.houses().iter().all(|house| plain(&house.name)),
        }
    }
}

impl Tables {
    /// The houses of these bits.
    pub(super) fn houses_at(&self, houses: u128) -> impl Iterator<Item = HouseId> {
        let mut rest = houses;
        std::iter::from_fn(move || {
            let house = self.houses.get(rest.trailing_zeros() as usize)?;
            rest &= rest - 1;
            Some(*house)
        })
    }

    /// For each cell of a row its other houses, a bit for each. Empty where a layout has more than 64 of these.
    pub(super) fn houses_beside(&self, row: usize) -> &[u64] {
        let side = self.rows.len();
        self.houses_beside_row.get(row * side..(row + 1) * side).unwrap_or_default()
    }

    /// Where a house crosses others in two cells or more.
    pub(super) fn crossings_of(&self, house: HouseId) -> &[Crossing] {
        &self.crossings[self.crossings_of[house.place()].clone()]
    }

    /// Where a house crosses others that have all of these cells of it, one at least, by a bit for each.
    pub(super) fn crossings_around(&self, house: HouseId, places: u32) -> impl Iterator<Item = &Crossing> {
        // What has all of them has the first.
        let first = house.place() * self.rows.len() + places.trailing_zeros() as usize;
        let (all, at) = &self.crossings_at[first];
        let crossings = if places & !all == 0 { &self.by_place[at.clone()] } else { &[] };
        crossings.iter().filter(move |crossing| places & !crossing.in_first == 0)
    }

    /// Whether cells of a house, one at least, by a bit for each, all lie in a house that comes before it.
    pub(super) fn in_an_earlier_house(&self, house: HouseId, places: u32) -> bool {
        self.crossings_around(house, places).any(|crossing| crossing.second < house)
    }

    /// Whether, if these cells of a house, a bit for each, hold just as many digits, something outside it is struck.
    pub(super) fn strikes_elsewhere(
        &self,
        house: HouseId,
        places: u32,
        digits: DigitSet,
        position: &Position,
    ) -> bool {
        if self.uneven {
            return position.strikes_any(&[Claim::Is { cells: position.cells_at(house, places), digits }]);
        }
        let strikes = |crossing: &Crossing| digits.iter().any(|digit| crossing.strikes(digit, position));
        self.crossings_around(house, places).any(strikes)
    }
}

impl Crossing {
    /// Whether the second house misses a digit and could have it in other cells than both have.
    pub(super) fn strikes(&self, digit: Digit, position: &Position) -> bool {
        position.missing(self.second).contains(digit)
            && position.places(self.second, digit) & !self.in_second != 0
    }
}

/// For each cell in reading order its houses, a bit for each; `None` if there are too many.
fn houses_of(layout: &Layout) -> Option<Vec<u128>> {
    let bit = |house: HouseId| u32::try_from(house.place()).ok().and_then(|at| 1_u128.checked_shl(at));
    let all = |cell| layout.slots(cell).iter().try_fold(0, |all, slot| Some(all | bit(slot.house)?));
    layout.size().all_cells().map(all).collect()
}

/// The places of these cells in a house, a bit for each.
pub(super) fn places(layout: &Layout, house: HouseId, cells: CellSet) -> u32 {
    layout
        .at(house)
        .cells
        .iter()
        .zip(0..)
        .filter(|(cell, _)| cells.contains(**cell))
        .fold(0, |bits, (_, at)| bits | 1 << at)
}
