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
        let of_all = || digits.iter().map(|digit| strays(digit, tables, position)).collect();
        digits.iter().zip(self.0.get_or_init(of_all)).filter(|(_, strays)| !strays.is_empty())
    }
}

/// The candidates of a digit that are in no laying.
fn strays(digit: Digit, tables: &Tables, position: &Position) -> CellSet {
    let mut strays = CellSet::EMPTY;
    if tables.houses_of.is_empty() {
        return *position.cells_with_candidate(digit);
    }
    let mut search = Search::new(digit, tables, position);
    for at in 0..search.count {
        while let Some(place) = bits(search.rows[at].without).next() {
            search.rows[at].without ^= 1 << place;
            if search.finds_laying(at, place) {
                for row in &mut search.rows[..search.count] {
                    row.without &= !(1 << row.chosen);
                }
            } else {
                let row = tables.rows[search.rows[at].number];
                strays.insert(position.layout().at(row).cells[usize::from(place)]);
            }
        }
    }
    strays
}

/// A row that misses the digit.
#[derive(Clone, Copy, Default)]
struct Row {
    number: usize,
    places: u32,
    /// Those of the places that are in none of the layings so far.
    without: u32,
    /// The place in the laying that is made.
    chosen: u8,
}

/// A search for the layings of a digit.
struct Search<'a> {
    houses_of: &'a [u128],
    side: usize,
    /// The houses that miss the digit.
    missing: u128,
    /// Those with the fewest places first.
    rows: [Row; MAX_SIDE as usize],
    count: usize,
    tried: u32,
}

impl<'a> Search<'a> {
    fn new(digit: Digit, tables: &'a Tables, position: &Position) -> Search<'a> {
        let side = tables.rows.len();
        let mut missing = 0;
        for (house, at) in position.layout().house_ids().zip(0..) {
            missing |= u128::from(position.missing(house).contains(digit)) << at;
        }
        let (mut rows, mut count) = ([Row::default(); MAX_SIDE as usize], 0);
        for (number, &row) in
            tables.rows.iter().enumerate().filter(|(number, _)| missing & (1 << number) != 0)
        {
            let places = position.places(row, digit);
            let few = places.count_ones();
            let mut at = count;
            while at > 0 && rows[at - 1].places.count_ones() > few {
                rows[at] = rows[at - 1];
                at -= 1;
            }
            rows[at] = Row { number, places, without: places, chosen: 0 };
            count += 1;
        }
        Search { houses_of: &tables.houses_of, side, missing, rows, count, tried: 0 }
    }

    /// Whether a laying with this place of a row is found; then it is chosen.
    fn finds_laying(&mut self, row: usize, place: u8) -> bool {
        self.tried = 0;
        self.rows[row].chosen = place;
        self.go_on(0, row, self.houses(row, place))
    }

    /// Goes on from a row, past the one that is fixed, where the houses in `used` have their places.
    fn go_on(&mut self, row: usize, fixed: usize, used: u128) -> bool {
        if row == self.count {
            return used == self.missing;
        }
        if row == fixed {
            return self.go_on(row + 1, fixed, used);
        }
        let Row { places, without, .. } = self.rows[row];
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
        self.houses_of[self.rows[row].number * self.side + usize::from(place)]
    }
}
