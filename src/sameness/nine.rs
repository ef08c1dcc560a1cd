//! The form of a puzzle of size 9 with boxes of three by three, in little more time than it takes to solve it.
//!
//! Of all dresses of the puzzle the least is looked for, by its pattern first: which cells have a given. Row 1 is to be
//! tidy (boxes with few givens first, and in each box the givens first), the rest of its band least, then the two other
//! bands. Mostly one or two dresses remain; of those the one is least in which the digits come first, named in the order
//! in which they appear. What becomes row 1 is one of the lines that can be made tidy in the fewest ways; as that is the
//! same whatever the dress, each puzzle comes to one form.
//!
//! A pattern of which many dresses look alike, such as that of a full grid, is left to the general search.

use std::cmp::Ordering;

use super::transformation::Transformation;
use crate::board::{Digit, Grid};

/// The most dresses that are looked at in one step.
const MANY: u32 = 500;

/// A pattern of a line: a bit for each of its nine places that holds a given.
type Pattern = u16;

/// The six orders of three things.
const ORDERS: [[u8; 3]; 6] = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];

/// What a pattern of three places becomes in each order.
const MOVED: [[Pattern; 8]; 6] = [
    [0, 1, 2, 3, 4, 5, 6, 7],
    [0, 1, 4, 5, 2, 3, 6, 7],
    [0, 2, 1, 3, 4, 6, 5, 7],
    [0, 4, 1, 5, 2, 6, 3, 7],
    [0, 2, 4, 6, 1, 3, 5, 7],
    [0, 4, 2, 6, 1, 5, 3, 7],
];

/// For each pattern of three places the orders that put its givens first.
const TIDY: [&[u8]; 8] =
    [&[0, 1, 2, 3, 4, 5], &[0, 1], &[2, 3], &[0, 2], &[4, 5], &[1, 4], &[3, 5], &[0, 1, 2, 3, 4, 5]];

/// An order of the places of a line that keeps the boxes together: which box comes first, second and third, and for each
/// of these in which order its places come.
#[derive(Clone, Copy)]
struct Places {
    boxes: [u8; 3],
    within: [u8; 3],
}

impl Places {
    /// What a pattern becomes in this order.
    fn of(self, pattern: Pattern) -> Pattern {
        let moved =
            |at: usize| MOVED[usize::from(self.within[at])][box_of(pattern, self.boxes[at])] << (3 * at);
        moved(0) | moved(1) | moved(2)
    }

    /// Which place becomes the first, second and so on.
    fn sources(self) -> [u8; 9] {
        std::array::from_fn(|at| 3 * self.boxes[at / 3] + ORDERS[usize::from(self.within[at / 3])][at % 3])
    }

    /// Calls for every order that makes a pattern tidy.
    fn tidying(pattern: Pattern, mut each: impl FnMut(Places)) {
        for boxes in ORDERS {
            if !boxes.map(|at| box_of(pattern, at).count_ones()).is_sorted() {
                continue;
            }
            let [first, second, third] = boxes.map(|at| TIDY[box_of(pattern, at)]);
            for &first in first {
                for &second in second {
                    for &third in third {
                        each(Places { boxes, within: [first, second, third] });
                    }
                }
            }
        }
    }
}

/// How many orders make a pattern tidy.
const fn ways_to_tidy(pattern: Pattern) -> u32 {
    const fn within(givens: u32) -> u32 {
        if givens == 0 || givens == 3 { 6 } else { 2 }
    }
    let first = (pattern & 7).count_ones();
    let second = (pattern >> 3 & 7).count_ones();
    let third = (pattern >> 6 & 7).count_ones();
    let boxes = match (first == second, second == third, third == first) {
        (true, true, true) => 6,
        (false, false, false) => 1,
        _ => 2,
    };
    boxes * within(first) * within(second) * within(third)
}

/// For each pattern in how many ways it can be made tidy and, in the four lowest bits, how many givens it has.
static KINDS: [u32; 512] = {
    let mut kinds = [0; 512];
    let mut pattern = 0;
    while pattern < 512 {
        kinds[pattern as usize] = ways_to_tidy(pattern) << 4 | pattern.count_ones();
        pattern += 1;
    }
    kinds
};

/// The pattern of one of a line's three boxes.
fn box_of(pattern: Pattern, at: u8) -> usize {
    usize::from(pattern >> (3 * at) & 7)
}

/// Those of the things offered that have the least key.
struct Least<K, T> {
    key: Option<K>,
    things: Vec<T>,
}

impl<K: Ord, T> Least<K, T> {
    fn new() -> Least<K, T> {
        Least { key: None, things: Vec::with_capacity(8) }
    }

    fn offer(&mut self, key: K, thing: T) {
        let order = self.key.as_ref().map_or(Ordering::Less, |least| key.cmp(least));
        if order.is_lt() {
            self.things.clear();
            self.key = Some(key);
        }
        if order.is_le() {
            self.things.push(thing);
        }
    }
}

/// Three lines of a band, in one order.
type Band = [usize; 3];

/// The least dress of a puzzle of size 9 with the usual houses, and what carries the puzzle to it. `None` if too many
/// dresses look alike: that is the same for each dress.
pub fn least_dress(givens: &Grid) -> Option<(Vec<u8>, Transformation)> {
    let puzzle = Puzzle::new(givens);
    let mut bands = Least::new();
    for first in puzzle.first_lines()? {
        let others = others_of_band(first).map(|line| puzzle.lines[line]);
        Places::tidying(puzzle.lines[first], |places| {
            let [one, other] = others.map(|pattern| places.of(pattern));
            bands.offer((one.min(other), one.max(other)), (first, places));
        });
    }
    let mut patterns = Least::new();
    for (first, places) in bands.things {
        patterns.offer(puzzle.below(first, places), (first, places));
    }
    let mut dresses = Least::new();
    let mut looked_at = 0;
    for (first, places) in patterns.things {
        let columns = places.sources();
        for rows in puzzle.row_orders(first, places) {
            looked_at += 1;
            if looked_at > MANY {
                return None;
            }
            let (named, digits) = puzzle.named(&rows, &columns);
            dresses.offer(named, (rows, columns, digits));
        }
    }
    let (rows, columns, digits) = *dresses.things.first()?;
    let appearing = digits.into_iter().filter_map(Digit::new);
    let dress = Transformation::naming(givens.size(), rows[0] >= 9, &rows.map(place), &columns, appearing);
    Some((dresses.key?.to_vec(), dress))
}

/// A line's number among those that run like it.
fn place(line: usize) -> u8 {
    (line % 9).to_le_bytes()[0]
}

/// The other two lines of a line's band.
fn others_of_band(line: usize) -> [usize; 2] {
    let first = line - line % 3;
    [first + (line + 1) % 3, first + (line + 2) % 3]
}

/// The other two bands of lines that run like this one.
fn other_bands(line: usize) -> [Band; 2] {
    let (side, band) = (line / 9, line / 3 % 3);
    [1, 2].map(|next| [0, 1, 2].map(|at| 9 * side + (band + next) % 3 * 3 + at))
}

struct Puzzle {
    /// The digits by rows, 0 for none, and the same by columns.
    digits: [[u8; 9]; 18],
    /// The patterns of the nine rows and the nine columns.
    lines: [Pattern; 18],
}

impl Puzzle {
    fn new(givens: &Grid) -> Puzzle {
        let mut puzzle = Puzzle { digits: [[0; 9]; 18], lines: [0; 18] };
        for (row, cells) in givens.cells().chunks_exact(9).enumerate() {
            for (column, digit) in cells.iter().enumerate() {
                let Some(digit) = digit else { continue };
                for (line, at) in [(row, column), (9 + column, row)] {
                    puzzle.digits[line][at] = digit.value();
                    puzzle.lines[line] |= 1 << at;
                }
            }
        }
        puzzle
    }

    /// The lines that may become row 1: those of the kind that can be made tidy in the fewest ways, all of the kind
    /// together. `None` if these are many.
    fn first_lines(&self) -> Option<impl Iterator<Item = usize>> {
        let of_line = self.lines.map(|pattern| KINDS[usize::from(pattern)]);
        // In one number, the ways foremost: comparing all with all is then quick.
        let kinds: [u32; 18] = std::array::from_fn(|line| {
            let [one, other] = others_of_band(line).map(|line| of_line[line] & 15);
            of_line[line] << 8 | one.min(other) << 4 | one.max(other)
        });
        let ways =
            |kind: u32| (kind >> 12) * kinds.iter().map(|&other| u32::from(other == kind)).sum::<u32>();
        let (ways, kind) = kinds.iter().map(|&kind| (ways(kind), kind)).min()?;
        (ways <= MANY).then(|| (0..18).filter(move |&line| kinds[line] == kind))
    }

    /// The patterns of the two other bands, in the least order.
    fn below(&self, first: usize, places: Places) -> [[Pattern; 3]; 2] {
        let mut bands = other_bands(first).map(|band| {
            let mut patterns = band.map(|line| places.of(self.lines[line]));
            patterns.sort_unstable();
            patterns
        });
        bands.sort_unstable();
        bands
    }

    /// The orders of the rows that give the least pattern.
    fn row_orders(&self, first: usize, places: Places) -> Vec<[usize; 9]> {
        let side = first - first % 9;
        let patterns: [Pattern; 9] = std::array::from_fn(|at| places.of(self.lines[side + at]));
        let pattern = |line: usize| patterns[line - side];
        let rows = |one: usize, other: usize| may_precede(&(pattern(one), one), &(pattern(other), other));
        let bands = |one: &Band, other: &Band| {
            may_precede(&(one.map(pattern), one[0]), &(other.map(pattern), other[0]))
        };
        let all = |band: Band| ORDERS.into_iter().map(move |order| order.map(|at| band[usize::from(at)]));
        let least =
            |band: Band| all(band).filter(move |band| rows(band[0], band[1]) && rows(band[1], band[2]));
        let [second, third] = others_of_band(first);
        let [one, other] = other_bands(first);
        let mut orders = Vec::new();
        let tops = [[first, second, third], [first, third, second]];
        for top in tops.into_iter().filter(|top| rows(top[1], top[2])) {
            for (upper, lower) in [(one, other), (other, one)] {
                for upper in least(upper) {
                    for lower in least(lower).filter(|lower| bands(&upper, lower)) {
                        orders.push(std::array::from_fn(|at| [top, upper, lower][at / 3][at % 3]));
                    }
                }
            }
        }
        orders
    }

    /// The digits after a change of order, named in the order in which they appear; and this order, with a 0 for each
    /// digit that does not.
    fn named(&self, rows: &[usize; 9], columns: &[u8; 9]) -> ([u8; 81], [u8; 9]) {
        let (mut names, mut appeared, mut last) = ([0; 10], [0; 9], 0);
        let mut named = [0; 81];
        for (&row, named) in rows.iter().zip(named.chunks_exact_mut(9)) {
            for (&column, named) in columns.iter().zip(named) {
                let digit = self.digits[row][usize::from(column)];
                if digit > 0 {
                    let name = &mut names[usize::from(digit)];
                    if *name == 0 {
                        appeared[usize::from(last)] = digit;
                        last += 1;
                        *name = last;
                    }
                    *named = *name;
                }
            }
        }
        (named, appeared)
    }
}

/// Whether a line or band of the pattern and number of `one` may stand before that of `other`. Of orders that differ in
/// what is empty only, one will do.
fn may_precede<P: PartialOrd + Default>(one: &(P, usize), other: &(P, usize)) -> bool {
    one.0 < other.0 || one.0 == other.0 && (one.0 > P::default() || one.1 < other.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_right() {
        for (order, moved) in ORDERS.iter().zip(MOVED) {
            for (pattern, moved) in (0..).zip(moved) {
                let bit = |at: usize| (pattern >> order[at] & 1) << at;
                assert_eq!(moved, bit(0) | bit(1) | bit(2));
            }
        }
        for (pattern, tidy) in TIDY.iter().enumerate() {
            let first = (1 << pattern.count_ones()) - 1;
            let all: Vec<u8> = (0..6).filter(|&order| MOVED[usize::from(order)][pattern] == first).collect();
            assert_eq!(*tidy, all);
        }
        for pattern in 0..512 {
            let mut ways = 0;
            Places::tidying(pattern, |_| ways += 1);
            assert_eq!(ways, ways_to_tidy(pattern));
        }
    }

    #[test]
    fn what_is_too_regular_is_left_to_the_general_search() {
        let of = |line: &str| least_dress(&Grid::from_line(line).unwrap()).is_some();
        assert!(!of(&".".repeat(81)));
        assert!(!of(&"1".repeat(81)));
        assert!(of(".......1.4.........2...........5.4.7..8...3....1.9....3..4..2...5.1........8.6..."));
    }
}
