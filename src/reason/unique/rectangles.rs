//! Unique rectangles: the four cells of two rows and two columns that could all hold the same two digits.

use super::{Deadly, alternate, follows};
use crate::board::{Cell, DigitSet, MAX_SIDE};
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
                count += usize::from((one & other).len() > 1);
            }
            for (at, &(left, first)) in columns[..count].iter().enumerate() {
                for &(right, second) in
                    columns[..count][at + 1..].iter().filter(|(_, it)| (first & *it).len() > 1)
                {
                    let cells = |row| &position.layout().at(row).cells;
                    // Around: neighbours alternate.
                    let corners =
                        [cells(upper)[left], cells(upper)[right], cells(lower)[right], cells(lower)[left]];
                    extend(&mut found, corners, first & second, position);
                }
            }
        }
    }
    follows::offer_all(&found, position, offers);
}

/// The rectangle with these corners, for each two of the digits.
fn extend(found: &mut Vec<Deadly>, corners: [Cell; 4], digits: DigitSet, position: &Position) {
    if !alternate(&corners, position.layout()) {
        return;
    }
    for first in digits.iter() {
        for second in digits.iter().filter(|&second| second > first) {
            let pair: DigitSet = [first, second].into_iter().collect();
            found.extend(Deadly::new(Pattern::UniqueRectangle, corners.to_vec(), pair, position));
        }
    }
}
