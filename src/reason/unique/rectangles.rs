//! Unique rectangles: the four cells of two rows and two columns that could all hold the same two digits.

use super::{Deadly, follows};
use crate::board::{Cell, DigitSet, HouseId, Layout, MAX_SIDE, Slot};
use crate::ladder::Pattern;
use crate::reason::nearest::Offers;
use crate::reason::tables::Tables;
use crate::step::{Deduction, Position};

pub(in crate::reason) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    if !position.has_one_solution() {
        return;
    }
    let mut found: Vec<Deadly> = Vec::new();
    for (at, &upper) in tables.rows.iter().enumerate() {
        for &lower in &tables.rows[at + 1..] {
            let both = position.candidates_in(upper).iter().zip(position.candidates_in(lower));
            let mut columns = [(0, DigitSet::EMPTY); MAX_SIDE as usize];
            let mut count = 0;
            for (column, (&one, &other)) in both.enumerate() {
                columns[count] = (column, one & other);
                count += usize::from(has_two(one & other));
            }
            for (at, &(left, first)) in columns[..count].iter().enumerate() {
                for &(right, second) in columns[at + 1..count].iter().filter(|(_, it)| has_two(first & *it)) {
                    let corners = Corners::new([upper, lower], [left, right], tables, position.layout());
                    if corners.alternate(position.layout()) {
                        corners.extend(&mut found, first & second, position);
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
    cells: [Cell; 4],
    /// The line from each corner to the next.
    lines: [HouseId; 4],
}

impl Corners {
    fn new(rows: [HouseId; 2], columns: [usize; 2], tables: &Tables, layout: &Layout) -> Corners {
        let [upper, lower] = rows.map(|row| &layout.at(row).cells);
        let [left, right] = columns;
        Corners {
            cells: [upper[left], upper[right], lower[right], lower[left]],
            lines: [rows[0], tables.columns[right], rows[1], tables.columns[left]],
        }
    }

    /// Whether each other house of a corner has just one more of them, a neighbour: then two digits that alternate can be
    /// exchanged.
    fn alternate(&self, layout: &Layout) -> bool {
        let others = self.cells.map(|cell| others(cell, layout));
        (0..4).all(|at| {
            others[at].iter().all(|slot| {
                let is_in = |corner: usize| has(others[corner % 4], slot.house);
                is_in(at + 1) != is_in(at + 3) && !is_in(at + 2)
            })
        })
    }

    /// Adds the rectangle for each two of the digits, if anything may follow from it.
    fn extend(&self, found: &mut Vec<Deadly>, digits: DigitSet, position: &Position) {
        let candidates = self.cells.map(|cell| position.candidates(cell));
        for first in digits.iter() {
            for second in digits.iter().filter(|&second| second > first) {
                let pair: DigitSet = [first, second].into_iter().collect();
                if self.may_lead_on(pair, candidates.map(|here| here - pair), position) {
                    found.extend(Deadly::new(Pattern::UniqueRectangle, self.cells.to_vec(), pair, position));
                }
            }
        }
    }

    /// Whether anything may follow if the corners have these candidates beside the pair: it follows at once, or houses tie
    /// all but one of the corners that have some, or two neighbours have them all.
    fn may_lead_on(&self, pair: DigitSet, extras: [DigitSet; 4], position: &Position) -> bool {
        let is_open = extras.map(|extras| !extras.is_empty());
        let open = is_open.iter().filter(|is_open| **is_open).count();
        let further = extras.into_iter().fold(DigitSet::EMPTY, DigitSet::union);
        if open < 2 || further.only().is_some() {
            return true;
        }
        if open == 2 && (is_open[0] != is_open[2]) {
            return true;
        }
        let mut is_tied = [false; 4];
        for at in 0..4 {
            let next = (at + 1) % 4;
            let layout = position.layout();
            let [here, beside] = [at, next].map(|at| others(self.cells[at], layout));
            let common = here.iter().map(|slot| slot.house).filter(|&house| has(beside, house));
            let mut houses = common.chain([self.lines[at]]);
            if houses.any(|house| !(position.digits_with(house, 2..=2) & pair).is_empty()) {
                (is_tied[at], is_tied[next]) = (true, true);
            }
        }
        (0..4).filter(|&at| is_open[at] && !is_tied[at]).count() < 2
    }
}

/// A cell's places in its houses beside its row and its column.
fn others(cell: Cell, layout: &Layout) -> &[Slot] {
    &layout.slots(cell)[2..]
}

fn has(slots: &[Slot], house: HouseId) -> bool {
    slots.iter().any(|slot| slot.house == house)
}
