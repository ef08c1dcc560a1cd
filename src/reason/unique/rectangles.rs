//! Unique rectangles: the four cells of two rows and two columns that could all hold the same two digits.

use super::{Deadly, follows};
use crate::board::{DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::reason::nearest::Offers;
use crate::reason::tables::Tables;
use crate::step::{Deduction, Position};

pub(in crate::reason) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    if !position.has_one_solution() || tables.houses_of.is_empty() {
        return;
    }
    let mut found: Vec<Deadly> = Vec::new();
    for (at, &upper) in tables.rows.iter().enumerate() {
        for &lower in &tables.rows[at + 1..] {
            let rows = [upper, lower];
            let columns = columns_of_two(rows.map(|row| position.places_in(row)));
            let common = rows.map(|row| position.candidates_in(row));
            let common = |column: u8| common[0][usize::from(column)] & common[1][usize::from(column)];
            for left in bits(columns) {
                for right in bits(columns & !1 << left) {
                    let digits = common(left) & common(right);
                    let corners = Corners::new(rows, [left, right], tables, position);
                    if has_two(digits.bits()) & corners.alternate() {
                        corners.add(digits, tables, position, &mut found);
                    }
                }
            }
        }
    }
    follows::offer_all(&found, position, offers);
}

fn has_two(bits: u32) -> bool {
    bits & bits.wrapping_sub(1) != 0
}

/// The columns in which two rows, with these places of each digit, have two digits in common that they have in common in
/// another column too. Without a branch: none of this can be foreseen.
fn columns_of_two([upper, lower]: [&[u32]; 2]) -> u32 {
    let (mut one, mut two) = (0, 0);
    for (upper, lower) in upper.iter().zip(lower) {
        let both = upper & lower;
        let both = if has_two(both) { both } else { 0 };
        two |= one & both;
        one |= both;
    }
    two
}

/// Four cells, around: neighbours share a line.
struct Corners {
    rows: [HouseId; 2],
    columns: [usize; 2],
    /// The candidates of each.
    candidates: [DigitSet; 4],
    /// The houses of each, a bit for each.
    houses: [u128; 4],
}

impl Corners {
    fn new(rows: [HouseId; 2], columns: [u8; 2], tables: &Tables, position: &Position) -> Corners {
        let columns = columns.map(usize::from);
        let [upper, lower] = rows;
        let [left, right] = columns;
        let places = [(upper, left), (upper, right), (lower, right), (lower, left)];
        Corners {
            rows,
            columns,
            candidates: places.map(|(row, column)| position.candidates_in(row)[column]),
            houses: places.map(|(row, column)| tables.houses_of[row.place() * tables.rows.len() + column]),
        }
    }

    /// Whether each house of a corner has just one more of them, a neighbour: then two digits that alternate can be
    /// exchanged.
    fn alternate(&self) -> bool {
        let [a, b, c, d] = self.houses;
        (a & c) | (b & d) == 0 && a | c == b | d
    }

    /// Adds the rectangle for each two of these digits, if anything may follow from it.
    fn add(&self, digits: DigitSet, tables: &Tables, position: &Position, found: &mut Vec<Deadly>) {
        let ties = self.ties(tables, position);
        for first in bits(digits.bits()) {
            for second in bits(digits.bits() & !1 << first) {
                let pair = DigitSet::from_bits(1 << first | 1 << second);
                if self.may_lead_on(pair, ties) {
                    let row = |row: HouseId| &position.layout().at(row).cells;
                    let [upper, lower] = self.rows.map(row);
                    let cells = [upper, lower].into_iter().flat_map(|row| self.columns.map(|at| row[at]));
                    found.extend(Deadly::new(Pattern::UniqueRectangle, cells.collect(), pair, position));
                }
            }
        }
    }

    /// For each corner and the next one the digits that some house of both has in no other cell.
    fn ties(&self, tables: &Tables, position: &Position) -> [DigitSet; 4] {
        let mut ties = [DigitSet::EMPTY; 4];
        // Each house is one of the first or of the third corner, and either of the second or of the fourth.
        for (corner, edges) in [(0, [3, 0]), (2, [2, 1])] {
            for house in tables.houses_at(self.houses[corner]) {
                let has_second = self.houses[1] & 1 << house.place() != 0;
                ties[edges[usize::from(has_second)]] |= position.digits_with(house, 2..=2);
            }
        }
        ties
    }

    /// Whether anything may follow of a pair: at once, or since only two neighbours have further candidates, or by ties.
    fn may_lead_on(&self, pair: DigitSet, ties: [DigitSet; 4]) -> bool {
        let extras = self.candidates.map(|here| here - pair);
        let open = corners(|at| !extras[at].is_empty());
        let further = extras.into_iter().fold(DigitSet::EMPTY, DigitSet::union);
        !has_two(open)
            || !has_two(further.bits())
            || matches!(open, 0b0011 | 0b0110 | 0b1100 | 0b1001)
            || ties_lead_on(pair, open, ties)
    }
}

/// The corners of which something is true, a bit for each.
fn corners(is_one: impl Fn(usize) -> bool) -> u32 {
    (0..4).fold(0, |all, at| all | u32::from(is_one(at)) << at)
}

/// Whether a digit of the pair in one corner brings the pair into all corners that are open, see [`ties`](super::ties).
fn ties_lead_on(pair: DigitSet, open: u32, ties: [DigitSet; 4]) -> bool {
    let tied = corners(|at| !((ties[at] | ties[(at + 3) % 4]) & pair).is_empty());
    if has_two(open & !tied) {
        return false;
    }
    pair.iter().any(|even| {
        // The corners alternate: of each corner, from which it follows that it holds its digit.
        let odd = pair - DigitSet::single(even);
        let mut from: [u32; 4] = std::array::from_fn(|at| {
            let digit = if at % 2 == 0 { DigitSet::single(even) } else { odd };
            let [next, opposite, before] = [1, 2, 3].map(|further| 1 << ((at + further) % 4));
            let clean = if open & 1 << at != 0 { 0 } else { next | before };
            let tied = |edge: usize, to: u32| if digit.is_subset(ties[edge]) { to | opposite } else { 0 };
            1 << at | clean | tied(at, next) | tied((at + 3) % 4, before)
        });
        for by in 0..4 {
            from = from.map(|all| if all & 1 << by != 0 { all | from[by] } else { all });
        }
        (0..4).filter(|at| open & 1 << at != 0).fold(0b1111, |all, at| all & from[at]) != 0
    })
}
