//! Candidates that a digit could lose by itself. A laying of a digit is a place in each house that misses it, no two in
//! sight of each other. What reads nothing but places of one digit strikes nothing that a laying has: where each
//! candidate of a digit is in a laying, there is no fish and no chain of this digit.

use std::cell::OnceCell;

use super::tables::Tables;
use crate::board::{CellSet, Digit, MAX_SIDE, bits};
use crate::step::Position;

/// So many places are tried for a laying; if none is found then, its first place counts as one that is in none.
const MOST_TRIED: u32 = 60;

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
        let all = self.0.get_or_init(|| of_all(tables, position));
        position.layout().size().digits().iter().zip(all).filter(|(_, strays)| !strays.is_empty())
    }
}

/// For each digit the candidates that are in no laying.
fn of_all(tables: &Tables, position: &Position) -> Vec<CellSet> {
    let digits = position.layout().size().digits().iter();
    if tables.houses_of.is_empty() {
        return digits.map(|digit| *position.cells_with_candidate(digit)).collect();
    }
    let mut missing = [0; MAX_SIDE as usize];
    for (house, at) in position.layout().house_ids().zip(0..) {
        position.missing(house).iter().for_each(|digit| missing[digit.place()] |= 1 << at);
    }
    digits
        .map(|digit| Search::new(digit, missing[digit.place()], tables, position).strays(position))
        .collect()
}

/// A row that misses the digit.
#[derive(Clone, Copy, Default)]
struct Row {
    number: usize,
    places: u32,
    /// Those of the places that are in none of the layings so far.
    without: u32,
    /// The houses of its places, and of those of the rows behind it.
    onward: u128,
    /// The place in the laying that is made.
    chosen: u8,
}

/// A search for the layings of a digit.
struct Search<'a> {
    tables: &'a Tables,
    /// The houses that miss the digit.
    missing: u128,
    /// Those with the fewest places first.
    rows: [Row; MAX_SIDE as usize],
    count: usize,
    tried: u32,
}

impl<'a> Search<'a> {
    fn new(digit: Digit, missing: u128, tables: &'a Tables, position: &Position) -> Search<'a> {
        let (rows, count) = ([Row::default(); MAX_SIDE as usize], 0);
        let mut search = Search { tables, missing, rows, count, tried: 0 };
        for (number, &row) in tables.rows.iter().enumerate().filter(|(number, _)| missing & 1 << number != 0)
        {
            let places = position.places(row, digit);
            let few = places.count_ones();
            let mut at = search.count;
            while at > 0 && search.rows[at - 1].places.count_ones() > few {
                search.rows[at] = search.rows[at - 1];
                at -= 1;
            }
            search.rows[at] = Row { number, places, without: places, onward: 0, chosen: 0 };
            search.count += 1;
        }
        let mut onward = 0;
        for row in (0..search.count).rev() {
            onward |= bits(search.rows[row].places).fold(0, |all, place| all | search.houses(row, place));
            search.rows[row].onward = onward;
        }
        search
    }

    fn strays(&mut self, position: &Position) -> CellSet {
        let mut strays = CellSet::EMPTY;
        for row in 0..self.count {
            while let Some(place) = bits(self.rows[row].without).next() {
                self.rows[row].without ^= 1 << place;
                self.rows[row].chosen = place;
                self.tried = 0;
                if self.go_on(0, row, self.houses(row, place)) {
                    for row in &mut self.rows[..self.count] {
                        row.without &= !(1 << row.chosen);
                    }
                } else {
                    let row = self.tables.rows[self.rows[row].number];
                    strays.insert(position.layout().at(row).cells[usize::from(place)]);
                }
            }
        }
        strays
    }

    /// Whether there is a laying with what is chosen in the rows before this one and in the row that is fixed, where the
    /// houses in `used` have their places.
    fn go_on(&mut self, row: usize, fixed: usize, used: u128) -> bool {
        if row == self.count {
            return used == self.missing;
        }
        if row == fixed {
            return self.go_on(row + 1, fixed, used);
        }
        let Row { places, without, onward, .. } = self.rows[row];
        if self.missing & !(used | onward) != 0 {
            return false;
        }
        // What is in no laying yet comes first.
        for places in [without, places & !without] {
            for place in bits(places) {
                self.tried += 1;
                if self.tried > MOST_TRIED {
                    return false;
                }
                let own = self.houses(row, place);
                if used & own == 0 {
                    self.rows[row].chosen = place;
                    if self.go_on(row + 1, fixed, used | own) {
                        return true;
                    }
                }
            }
        }
        false
    }

    /// The houses of a place.
    fn houses(&self, row: usize, place: u8) -> u128 {
        self.tables.houses_of[self.rows[row].number * self.tables.rows.len() + usize::from(place)]
    }
}
