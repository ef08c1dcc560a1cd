//! Candidates that a digit could lose by itself. A laying of a digit is a place in each house that misses it, no two in
//! sight of each other. What reads nothing but places of one digit strikes nothing that a laying has: where each
//! candidate of a digit is in a laying, there is no fish and no chain of this digit.

use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, MAX_SIDE, bits};
use crate::step::Position;

/// So many places are tried for a laying; if none is found then, its first place counts as one that is in none.
const MOST_TRIED: u32 = 60;

/// For each digit the candidates that are in no laying, looked for when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Strays {
    digits: Vec<Known>,
    /// The digits that have some.
    with_strays: DigitSet,
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
        self.with_strays.iter().map(|digit| (digit, &self.digits[digit.place()].strays))
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
        self.with_strays = DigitSet::EMPTY;
        let mut search = Search::new(layout.size().usize());
        for ((digit, known), missing) in layout.size().digits().iter().zip(&mut self.digits).zip(missing) {
            let places = *position.cells_with_candidate(digit);
            if known.places != places || known.missing != missing {
                let strays = if tables.houses_beside_row.is_empty() {
                    places
                } else {
                    search.take(digit, missing, tables, position);
                    search.strays()
                };
                *known = Known { places, missing, strays };
            }
            if !known.strays.is_empty() {
                self.with_strays.insert(digit);
            }
        }
    }
}

/// A row that misses the digit, with the range of its places. Those that are in none of the layings so far come first.
struct Row {
    begin: usize,
    laid: usize,
    end: usize,
    /// The houses beside rows of its places, and of those of the rows behind it.
    onward: u64,
    /// The place in the laying that is made.
    chosen: usize,
}

/// A search for the layings of a digit.
struct Search {
    /// The houses beside rows that miss the digit.
    missing: u64,
    /// Its places, each with its houses beside its row.
    places: Vec<(Cell, u64)>,
    /// Those with the fewest places first.
    rows: Vec<Row>,
    tried: u32,
}

impl Search {
    /// A search on a grid of this side.
    fn new(side: usize) -> Search {
        Search { missing: 0, places: Vec::with_capacity(8 * side), rows: Vec::with_capacity(side), tried: 0 }
    }

    /// Takes the places of a digit.
    fn take(&mut self, digit: Digit, (rows, houses): (u32, u64), tables: &Tables, position: &Position) {
        self.missing = houses;
        self.places.clear();
        self.rows.clear();
        for number in bits(rows).map(usize::from) {
            let (row, begin) = (tables.rows[number], self.places.len());
            let cells = &position.layout().at(row).cells;
            let houses_of = &tables.houses_beside_row[number * cells.len()..];
            for at in bits(position.places(row, digit)).map(usize::from) {
                self.places.push((cells[at], houses_of[at]));
            }
            let end = self.places.len();
            self.rows.push(Row { begin, laid: end, end, onward: 0, chosen: begin });
        }
        self.rows.sort_unstable_by_key(|row| row.end - row.begin);
        let mut onward = 0;
        for row in self.rows.iter_mut().rev() {
            onward |= self.places[row.begin..row.end].iter().fold(0, |all, (_, houses)| all | houses);
            row.onward = onward;
        }
    }

    /// The places that are in no laying.
    fn strays(&mut self) -> CellSet {
        let mut strays = CellSet::EMPTY;
        for fixed in 0..self.rows.len() {
            while self.rows[fixed].begin < self.rows[fixed].laid {
                let place = self.rows[fixed].begin;
                self.rows[fixed].chosen = place;
                self.tried = 0;
                let (cell, houses) = self.places[place];
                if self.go_on(0, fixed, houses) {
                    for row in self.rows.iter_mut().filter(|row| row.chosen < row.laid) {
                        row.laid -= 1;
                        self.places.swap(row.chosen, row.laid);
                    }
                } else {
                    // It is no use to others.
                    strays.insert(cell);
                    self.rows[fixed].begin += 1;
                }
            }
        }
        strays
    }

    /// Whether there is a laying with what is chosen in the rows before this one and in the row that is fixed, where the
    /// houses in `used` have their places.
    fn go_on(&mut self, row: usize, fixed: usize, used: u64) -> bool {
        let row = row + usize::from(row == fixed);
        let Some(&Row { begin, end, onward, .. }) = self.rows.get(row) else { return used == self.missing };
        if self.missing & !(used | onward) != 0 {
            return false;
        }
        for place in begin..end {
            let houses = self.places[place].1;
            if used & houses == 0 {
                self.tried += 1;
                self.rows[row].chosen = place;
                if self.tried > MOST_TRIED || self.go_on(row + 1, fixed, used | houses) {
                    return self.tried <= MOST_TRIED;
                }
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{Grid, HouseId, Layout, Size};
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
