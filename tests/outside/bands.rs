//! The number of grids of size 9, counted without any search, from how rows, columns and boxes cross.
//!
//! A grid is looked at as three bands of three boxes. What its bands have to do with each other is only which three
//! digits each column has in each band: so for each choice of these sets the ways to fill the bands are multiplied.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, HouseName, Layout, Size};
use gridsetter::solve::{self, Budget};

use crate::random::{self, Random};

/// All nine digits, as bits.
const ALL: u16 = 0x1ff;
/// The sets of the columns of a box: three of three digits, which are all nine together. The least comes first.
type Columns = [u16; 3];
/// Which digit takes the place of each.
type Names = [u16; 9];

/// Every way to give the columns of a box their digits, but for the order of the columns. The first is 123 456 789.
fn all_columns() -> Vec<Columns> {
    let threes = || (0..=ALL).filter(|set| set.count_ones() == 3);
    let mut all = Vec::new();
    for first in threes().filter(|set| set & 1 != 0) {
        let least = (ALL & !first).trailing_zeros();
        for second in threes().filter(|set| set & first == 0 && set >> least & 1 != 0) {
            all.push([first, second, ALL & !first & !second]);
        }
    }
    all
}

/// The sets of three rows of a box whose columns hold these sets, in every way.
fn rows_of(columns: Columns) -> Vec<[u16; 3]> {
    let bits = |set: u16| (0..9).map(|digit| 1 << digit).filter(move |bit| set & bit != 0);
    let one_each = |left: Columns| {
        let [a, b, c] = left;
        bits(a).flat_map(move |a| bits(b).flat_map(move |b| bits(c).map(move |c| a | b | c)))
    };
    let mut all = Vec::new();
    for first in one_each(columns) {
        let left = columns.map(|column| column & !first);
        all.extend(one_each(left).map(|second| [first, second, ALL & !first & !second]));
    }
    all
}

/// How many ways there are to fill a band whose columns hold these sets.
fn fillings(boxes: [Columns; 3]) -> u64 {
    let second_rows = rows_of(boxes[1]);
    let mut count = 0;
    for first in rows_of(boxes[0]) {
        for second in &second_rows {
            let fits = |row: usize| {
                let third = ALL & !first[row] & !second[row];
                first[row] & second[row] == 0
                    && boxes[2].iter().all(|column| (column & third).is_power_of_two())
            };
            count += u64::from((0..3).all(fits));
        }
    }
    count
}

fn renamed(columns: Columns, names: Names) -> Columns {
    let mut renamed =
        columns.map(|set| (0..9).fold(0, |all, digit| all | (set >> digit & 1) << names[digit]));
    renamed.sort_by_key(|set| set.trailing_zeros());
    renamed
}

/// The names that leave 123 456 789 what it is.
fn keeping_the_first() -> Vec<Names> {
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    let mut all = Vec::new();
    for sets in orders {
        for number in 0..216 {
            let within = [orders[number / 36], orders[number / 6 % 6], orders[number % 6]];
            all.push(std::array::from_fn(|digit| sets[digit / 3] * 3 + within[digit / 3][digit % 3]));
        }
    }
    all
}

/// Names that turn these sets into 123 456 789.
fn to_the_first(columns: Columns) -> Names {
    let mut names = [0; 9];
    let digits = columns.iter().flat_map(|set| (0..9).filter(move |digit| set >> digit & 1 != 0));
    for (digit, name) in digits.zip(0..) {
        names[digit] = name;
    }
    names
}

/// The columns of the middle and of the last band that go with these of the first, by number.
fn below(columns: Columns, number: &BTreeMap<Columns, usize>) -> Vec<(usize, usize)> {
    let sorted = |mut columns: Columns| {
        columns.sort_by_key(|set| set.trailing_zeros());
        number[&columns]
    };
    let three_without = |taken: u16| (0..=ALL).filter(move |set| set.count_ones() == 3 && set & taken == 0);
    let mut all = Vec::new();
    for first in three_without(columns[0]) {
        for second in three_without(columns[1] | first) {
            let third = ALL & !first & !second;
            if third & columns[2] == 0 {
                let middle = [first, second, third];
                let last = std::array::from_fn(|at| ALL & !columns[at] & !middle[at]);
                all.push((sorted(middle), sorted(last)));
            }
        }
    }
    all
}

#[test]
fn every_grid_of_size_9() {
    let all = all_columns();
    let number: BTreeMap<Columns, usize> = all.iter().copied().zip(0..).collect();
    assert_eq!((all.len(), renamed(all[0], to_the_first(all[0]))), (280, all[0]));

    // The fillings of a band whose first box has the first columns. Other names for the digits, and the other two boxes
    // in the other order, change nothing: so one of each such class is counted.
    let alike: Vec<Vec<usize>> = keeping_the_first()
        .into_iter()
        .map(|names| all.iter().map(|&columns| number[&renamed(columns, names)]).collect())
        .collect();
    let mut bands = vec![[0; 280]; 280];
    let mut classes = Vec::new();
    let mut seen = vec![[false; 280]; 280];
    for second in 0..280 {
        for third in 0..280 {
            if seen[second][third] {
                continue;
            }
            let count = fillings([all[0], all[second], all[third]]);
            let mut size = 0_u64;
            for names in &alike {
                let (one, other) = (names[second], names[third]);
                for (one, other) in [(one, other), (other, one)] {
                    size += u64::from(!seen[one][other]);
                    seen[one][other] = true;
                    bands[one][other] = count;
                }
            }
            classes.push((second, third, size));
        }
    }

    // What the columns of a box are, if those of another become the first.
    let beside: Vec<Vec<usize>> = all
        .iter()
        .map(|&columns| all.iter().map(|&other| number[&renamed(other, to_the_first(columns))]).collect())
        .collect();
    let stacks: Vec<Vec<(usize, usize)>> = all.iter().map(|&columns| below(columns, &number)).collect();
    let completions = |second: usize, third: usize| {
        let mut sum = 0;
        for &(middle, last) in &stacks[0] {
            let (middle, last) = (&beside[middle], &beside[last]);
            for &(middle_2, last_2) in &stacks[second] {
                let (middle_row, last_row) = (&bands[middle[middle_2]], &bands[last[last_2]]);
                for &(middle_3, last_3) in &stacks[third] {
                    sum += middle_row[middle[middle_3]] * last_row[last[last_3]];
                }
            }
        }
        sum
    };

    // The first box can have any columns in any order, 1680; the columns of the other two can come in 36 orders.
    let (mut first_bands, mut grids) = (0_u128, 0_u128);
    for &(second, third, size) in &classes {
        let band = u128::from(size * bands[second][third]) * 1680 * 36;
        first_bands += band;
        grids += band * u128::from(completions(second, third));
    }
    // B. Felgenhauer, F. Jarvis, "Enumerating possible Sudoku grids", 2005: 9! times 2,612,736 first bands, from memory;
    // and the number of grids, OEIS A107739.
    assert_eq!(first_bands, 362_880 * 2_612_736);
    assert_eq!(grids, 6_670_903_752_021_072_936_960);
}

#[test]
fn a_last_band_is_filled_in_as_many_ways_as_the_search_finds() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let mut random = Random::new(2005);
    for _ in 0..30 {
        let full = random::minimal(&mut random, &layout).1;
        let mut columns = [[0; 3]; 3];
        let mut above = full.clone();
        for (columns, at) in columns.iter_mut().zip(7..) {
            for &cell in &layout.house(&HouseName::Box(at)).unwrap().cells {
                columns[usize::from(cell.col()) % 3] |= 1 << full[cell].unwrap().place();
                above.set(cell, None);
            }
        }
        let found = solve::count(&layout, &above, u64::MAX, Budget { nodes: u64::MAX });
        assert_eq!(found.count, fillings(columns), "{above}");
    }
}

#[test]
fn boxes_cross_lines_as_the_count_has_it() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let box_of =
        |cell: Cell| layout.houses_of(cell).find(|house| matches!(house.name, HouseName::Box(_))).unwrap();
    for cell in layout.size().all_cells() {
        let found = &box_of(cell).cells;
        let first = found[0];
        assert_eq!((first.row() % 3, first.col() % 3), (0, 0));
        let expected: Vec<Cell> =
            (0..9).map(|at| Cell::new(first.row() + at / 3, first.col() + at % 3)).collect();
        assert_eq!(found, &expected);
    }
    assert_eq!(layout.houses().len(), 27);
}
