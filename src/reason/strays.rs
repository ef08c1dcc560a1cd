//! Candidates that a digit could lose by itself. A laying of a digit is a place in each house that misses it, no two in
//! sight of each other. What reads nothing but places of one digit strikes nothing that a laying has: where each
//! candidate of a digit is in a laying, there is no fish and no chain of this digit.

use super::tables::Tables;
use crate::board::{CellSet, Digit, DigitSet, HouseId, MAX_SIDE, bits};
use crate::step::Position;

/// So many places are tried for a laying; if none is found then, its first place counts as one that is in none.
const MOST_TRIED: u32 = 60;

/// For each digit the candidates that are in no laying, looked for when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Strays {
    digits: Vec<Known>,
    /// The digits that have some.
    found: DigitSet,
    /// Whether they are those of the position that is looked at.
    are_known: bool,
}

/// The strays of a digit that has these places, and is missing in these rows and other houses.
#[derive(Clone, Default, Debug)]
struct Known {
    places: CellSet,
    missing: (u32, u64),
    strays: CellSet,
}

impl Strays {
    /// Another position is looked at.
    pub(super) fn turn(&mut self) {
        self.are_known = false;
    }

    /// The digits that have strays, rising, each with them.
    pub(super) fn each(
        &mut self,
        tables: &Tables,
        position: &Position,
    ) -> impl Iterator<Item = (Digit, &CellSet)> {
        if !self.are_known {
            self.look_at(tables, position);
            self.are_known = true;
        }
        self.found.iter().map(|digit| (digit, &self.digits[digit.place()].strays))
    }

    fn look_at(&mut self, tables: &Tables, position: &Position) {
        let layout = position.layout();
        self.digits.resize(layout.size().usize(), Known::default());
        let mut missing = [(0, 0); MAX_SIDE as usize];
        for (&row, at) in tables.rows.iter().zip(0..) {
            position.missing(row).iter().for_each(|digit| missing[digit.place()].0 |= 1 << at);
        }
        for (house, at) in layout.house_ids().skip(tables.rows.len()).zip(0..64) {
            position.missing(house).iter().for_each(|digit| missing[digit.place()].1 |= 1 << at);
        }
        self.found = DigitSet::EMPTY;
        let mut search = Search { missing: 0, rows: Vec::with_capacity(tables.rows.len()) };
        for ((digit, known), missing) in layout.size().digits().iter().zip(&mut self.digits).zip(missing) {
            let places = *position.cells_with_candidate(digit);
            if known.places != places || known.missing != missing {
                let strays = if tables.houses_beside(0).is_empty() {
                    places
                } else {
                    search.take(digit, missing, tables, position);
                    search.strays(position)
                };
                *known = Known { places, missing, strays };
            }
            if !known.strays.is_empty() {
                self.found.insert(digit);
            }
        }
    }
}

/// The places of the digit in a row that misses it, a bit for each.
struct Row<'a> {
    id: HouseId,
    /// For each cell its other houses.
    houses: &'a [u64],
    places: u32,
    /// How many they are.
    count: u32,
    /// Those that are in none of the layings so far.
    new: u32,
    /// The houses beside rows of its places, and of those of the rows behind it.
    onward: u64,
    /// The place in the laying that is made, a bit.
    chosen: u32,
    /// The places that have not been tried yet.
    rest: u32,
    /// The houses of the laying that is made, up to here.
    used: u64,
}

impl Row<'_> {
    /// Chooses the next place that has none of these houses; tells whether there is one. Those in no laying come first.
    fn goes_on(&mut self, used: u64) -> bool {
        while self.rest != 0 {
            let new = self.rest & self.new;
            let at = if new == 0 { self.rest } else { new }.trailing_zeros();
            self.rest ^= 1 << at;
            let houses = self.houses[at as usize];
            if used & houses == 0 {
                (self.chosen, self.used) = (1 << at, used | houses);
                return true;
            }
        }
        false
    }
}

/// A search for the layings of a digit.
struct Search<'a> {
    /// The houses beside rows that miss the digit.
    missing: u64,
    /// Those with the fewest places first.
    rows: Vec<Row<'a>>,
}

impl<'a> Search<'a> {
    /// Takes the places of a digit.
    fn take(&mut self, digit: Digit, (rows, houses): (u32, u64), tables: &'a Tables, position: &Position) {
        self.missing = houses;
        self.rows.clear();
        for at in bits(rows).map(usize::from) {
            let (id, houses) = (tables.rows[at], tables.houses_beside(at));
            let places = position.places(id, digit);
            let count = places.count_ones();
            self.rows.push(Row {
                id,
                houses,
                places,
                count,
                new: places,
                onward: 0,
                chosen: 0,
                rest: 0,
                used: 0,
            });
        }
        self.rows.sort_unstable_by_key(|row| row.count);
        let mut onward = 0;
        for row in self.rows.iter_mut().rev() {
            onward |= bits(row.places).fold(0, |all, at| all | row.houses[usize::from(at)]);
            row.onward = onward;
        }
    }

    /// The places that are in no laying.
    fn strays(&mut self, position: &Position) -> CellSet {
        let mut strays = CellSet::EMPTY;
        for fixed in 0..self.rows.len() {
            while let Some(at) = bits(self.rows[fixed].new).next() {
                self.rows[fixed].chosen = 1 << at;
                if self.is_laid(fixed, self.rows[fixed].houses[usize::from(at)]) {
                    self.rows.iter_mut().for_each(|row| row.new &= !row.chosen);
                } else {
                    // It is no use to others.
                    let row = &mut self.rows[fixed];
                    row.new ^= 1 << at;
                    row.places ^= 1 << at;
                    strays.insert(position.layout().at(row.id).cells[usize::from(at)]);
                }
            }
        }
        strays
    }

    /// Whether there is a laying with what is chosen in the row that is fixed, which has these houses.
    fn is_laid(&mut self, fixed: usize, houses: u64) -> bool {
        let (mut at, mut tried) = (0, 0);
        loop {
            let used = self.used_before(at, houses);
            match self.rows.get_mut(at) {
                None if used == self.missing => return true,
                Some(row) if at == fixed => {
                    row.used = used;
                    at += 1;
                    continue;
                }
                Some(row) if self.missing & !(used | row.onward) == 0 => {
                    row.rest = row.places;
                    at += 1;
                }
                _ => {}
            }
            loop {
                let Some(before) = at.checked_sub(1) else { return false };
                let used = self.used_before(before, houses);
                if before != fixed && self.rows[before].goes_on(used) {
                    break;
                }
                at = before;
            }
            tried += 1;
            if tried > MOST_TRIED {
                return false;
            }
        }
    }

    /// The houses of the laying that is made, before a row: at first those of the row that is fixed.
    fn used_before(&self, row: usize, fixed: u64) -> u64 {
        row.checked_sub(1).map_or(fixed, |before| self.rows[before].used)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{Cell, Grid, Layout, Size};
    use proptest::prelude::*;

    /// Whether the digit can have these cells and one in each of these houses more, no two in sight of each other.
    fn can_be_laid(digit: Digit, chosen: CellSet, position: &Position) -> bool {
        let layout = position.layout();
        let open = |house: &HouseId| {
            position.missing(*house).contains(digit) && (*layout.at(*house).set() & chosen).is_empty()
        };
        let Some(house) = layout.house_ids().find(open) else { return true };
        position.cells(house, digit).iter().any(|cell| {
            (*layout.peers(cell) & chosen).is_empty()
                && can_be_laid(digit, chosen | CellSet::single(cell), position)
        })
    }

    proptest! {
        #[test]
        fn strays_are_in_no_laying(
            digits in proptest::collection::vec(0_u8..12, 16),
            struck in proptest::collection::vec((0_usize..16, 0_u32..16), 0..8),
            diagonals in any::<bool>(),
        ) {
            let size = Size::new(4).unwrap();
            let layout = Layout::classic(size).unwrap();
            let layout = if diagonals { layout.and_diagonals() } else { layout };
            let cells: Vec<Cell> = size.all_cells().collect();
            let mut grid = Grid::empty(size);
            for (&cell, digit) in cells.iter().zip(digits) {
                let digit = Digit::new(digit).filter(|digit| digit.value() <= size.side());
                let is_free = digit.is_some_and(|digit| layout.peers(cell).iter().all(|at| grid[at] != Some(digit)));
                grid.set(cell, digit.filter(|_| is_free));
            }
            let mut position = Position::new(&layout, &grid);
            for (at, bits) in struck {
                position.strike(cells[at], DigitSet::from_bits(bits));
            }
            let mut strays = Strays::default();
            let found: Vec<(Digit, CellSet)> =
                strays.each(&Tables::new(&layout), &position).map(|(digit, strays)| (digit, *strays)).collect();
            let expected = |digit| {
                let places = *position.cells_with_candidate(digit);
                let is_stray = |cell: &Cell| !can_be_laid(digit, CellSet::single(*cell), &position);
                (digit, places.iter().filter(is_stray).collect::<CellSet>())
            };
            let expected: Vec<_> =
                size.digits().iter().map(expected).filter(|(_, strays)| !strays.is_empty()).collect();
            prop_assert_eq!(found, expected);
        }
    }
}
