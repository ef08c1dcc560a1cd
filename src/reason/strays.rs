//! Candidates that a digit could lose by itself. A laying of a digit is a place in each house that misses it, no two in
//! sight of each other. What reads nothing but places of one digit strikes nothing that a laying has: where each
//! candidate of a digit is in a laying, there is no fish and no chain of this digit.

use std::cell::OnceCell;

use super::tables::Tables;
use crate::board::{CellSet, Digit, MAX_SIDE, bits};
use crate::step::Position;

/// So many places are tried for a laying; if none is found then, its first place counts as one that is in none.
const MOST_TRIED: u32 = 100;

/// For each digit the candidates that are in no laying, looked for when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Strays(OnceCell<Vec<CellSet>>);

impl Strays {
    /// The digits that have strays, rising, each with them.
    pub(super) fn each(
        &self,
        tables: &Tables,
        position: &Position,
    ) -> impl Iterator<Item = (Digit, &CellSet)> {
        let digits = position.layout().size().digits();
        let of_all = || digits.iter().map(|digit| Search::new(digit, tables, position).strays()).collect();
        digits.iter().zip(self.0.get_or_init(of_all)).filter(|(_, strays)| !strays.is_empty())
    }
}

/// One for each row that misses the digit.
type Rows<T> = [T; MAX_SIDE as usize];

/// A search for the layings of a digit.
struct Search<'a> {
    digit: Digit,
    tables: &'a Tables,
    position: &'a Position,
    /// The houses that miss the digit, a bit for each.
    missing: u128,
    /// How many rows miss it.
    count: usize,
    /// Which they are.
    rows: Rows<usize>,
    places: Rows<u32>,
    /// The places that are in none of the layings so far.
    without: Rows<u32>,
    /// The places of the laying that is made.
    chosen: Rows<u8>,
    tried: u32,
}

impl<'a> Search<'a> {
    fn new(digit: Digit, tables: &'a Tables, position: &'a Position) -> Search<'a> {
        let mut missing = 0;
        for house in position.layout().house_ids() {
            missing |= u128::from(position.missing(house).contains(digit)) << house.place().min(127);
        }
        let (mut count, mut rows, mut places) = (0, Rows::default(), Rows::default());
        for (at, &row) in tables.rows.iter().enumerate() {
            if position.missing(row).contains(digit) {
                (rows[count], places[count]) = (at, position.places(row, digit));
                count += 1;
            }
        }
        let (without, chosen, tried) = (places, Rows::default(), 0);
        Search { digit, tables, position, missing, count, rows, places, without, chosen, tried }
    }

    fn strays(mut self) -> CellSet {
        if self.tables.houses_of.is_empty() {
            return self
                .tables
                .rows
                .iter()
                .map(|&row| self.position.cells(row, self.digit))
                .fold(CellSet::EMPTY, CellSet::union);
        }
        let mut strays = CellSet::EMPTY;
        for row in 0..self.count {
            while let Some(at) = bits(self.without[row]).next() {
                self.without[row] ^= 1 << at;
                (self.chosen[row], self.tried) = (at, 0);
                if self.go_on(0, row, self.houses_of(row, at)) {
                    for (without, at) in self.without.iter_mut().zip(self.chosen).take(self.count) {
                        *without &= !(1 << at);
                    }
                } else {
                    let house = self.tables.rows[self.rows[row]];
                    strays.insert(self.position.layout().at(house).cells[usize::from(at)]);
                }
            }
        }
        strays
    }

    /// Whether there is a laying with the place that is chosen in row `fixed`, with those that are chosen in the rows
    /// before `row`, and with others, where the houses in `used` have theirs.
    fn go_on(&mut self, row: usize, fixed: usize, used: u128) -> bool {
        if row == self.count {
            return used == self.missing;
        }
        if row == fixed {
            return self.go_on(row + 1, fixed, used);
        }
        // What is in no laying yet comes first.
        for places in [self.without[row], self.places[row] & !self.without[row]] {
            for at in bits(places) {
                self.tried += 1;
                if self.tried > MOST_TRIED {
                    return false;
                }
                let own = self.houses_of(row, at);
                if used & own == 0 {
                    self.chosen[row] = at;
                    if self.go_on(row + 1, fixed, used | own) {
                        return true;
                    }
                }
            }
        }
        false
    }

    fn houses_of(&self, row: usize, at: u8) -> u128 {
        self.tables.houses_of[self.rows[row] * self.tables.rows.len() + usize::from(at)]
    }
}
