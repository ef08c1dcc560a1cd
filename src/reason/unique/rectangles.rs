//! Unique rectangles: the four cells of two rows and two columns that could all hold the same two digits.

use super::{Deadly, follows};
use crate::board::{DigitSet, HouseId, MAX_SIDE, bits};
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
            let both = position.candidates_in(upper).iter().zip(position.candidates_in(lower));
            let mut common = [DigitSet::EMPTY; MAX_SIDE as usize];
            let mut columns = 0_u32;
            for ((&one, &other), column) in both.zip(0..) {
                common[column] = one & other;
                columns |= u32::from(has_two(one & other)) << column;
            }
            for left in bits(columns) {
                for right in bits(columns & !1 << left) {
                    let digits = common[usize::from(left)] & common[usize::from(right)];
                    if has_two(digits) {
                        let corners = Corners::new([upper, lower], [left, right], tables, position);
                        if corners.alternate() {
                            corners.add(digits, tables, position, &mut found);
                        }
                    }
                }
            }
        }
    }
    follows::offer_all(&found, position, offers);
}

fn has_two(digits: DigitSet) -> bool {
    digits.bits() & digits.bits().wrapping_sub(1) != 0
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
        for first in digits.iter() {
            for second in digits.iter().filter(|&second| second > first) {
                let pair: DigitSet = [first, second].into_iter().collect();
                if self.may_lead_on(pair, tables, position) {
                    let row = |row: HouseId| &position.layout().at(row).cells;
                    let [upper, lower] = self.rows.map(row);
                    let cells = [upper, lower].into_iter().flat_map(|row| self.columns.map(|at| row[at]));
                    found.extend(Deadly::new(Pattern::UniqueRectangle, cells.collect(), pair, position));
                }
            }
        }
    }

    /// Whether anything may follow of a pair: at once, or since only two neighbours have further candidates, or by ties.
    fn may_lead_on(&self, pair: DigitSet, tables: &Tables, position: &Position) -> bool {
        let extras = self.candidates.map(|here| here - pair);
        let is_open = extras.map(|extras| !extras.is_empty());
        let open = is_open.iter().filter(|is_open| **is_open).count();
        let further = extras.into_iter().fold(DigitSet::EMPTY, DigitSet::union);
        open < 2
            || further.only().is_some()
            || (open == 2 && is_open[0] != is_open[2])
            || self.ties_lead_on(pair, is_open, tables, position)
    }

    /// Whether a digit of the pair in one corner brings the pair into all corners that are open, see [`ties`](super::ties).
    fn ties_lead_on(&self, pair: DigitSet, is_open: [bool; 4], tables: &Tables, position: &Position) -> bool {
        // For each corner and the next one the digits that some house of both has in no other cell.
        let ties: [DigitSet; 4] = std::array::from_fn(|at| {
            let common = tables.houses_at(self.houses[at] & self.houses[(at + 1) % 4]);
            common.map(|house| position.digits_with(house, 2..=2)).fold(DigitSet::EMPTY, DigitSet::union)
        });
        let is_tied = |at: usize| !((ties[at] | ties[(at + 3) % 4]) & pair).is_empty();
        if (0..4).filter(|&at| is_open[at] && !is_tied(at)).count() > 1 {
            return false;
        }
        let open = (0..4).filter(|&at| is_open[at]).fold(0, |open, at| open | 1 << at);
        pair.iter().any(|even| {
            // The corners alternate: of each corner, from which others it follows that it holds its digit.
            let odd = pair - DigitSet::single(even);
            let follows: [u8; 4] = std::array::from_fn(|at| {
                let digit = if at % 2 == 0 { DigitSet::single(even) } else { odd };
                let [next, opposite, before] = [1, 2, 3].map(|further| 1 << ((at + further) % 4));
                let clean = if is_open[at] { 0 } else { next | before };
                let tied = |edge: usize, to: u8| if digit.is_subset(ties[edge]) { to | opposite } else { 0 };
                clean | tied(at, next) | tied((at + 3) % 4, before)
            });
            let reached = |first: usize| {
                let step = |so: u8, at: usize| so | u8::from(follows[at] & so != 0) << at;
                (0..12).map(|step| step % 4).fold(1 << first, step)
            };
            (0..4).any(|first| open & !reached(first) == 0)
        })
    }
}
