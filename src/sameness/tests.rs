use proptest::prelude::*;

use super::incidence::Incidence;
use super::*;
use crate::board::{Cell, Digit, Size};

fn classic(side: u8) -> Layout {
    Layout::classic(Size::new(side).unwrap()).unwrap()
}

fn form(layout: &Layout, grid: &Grid) -> Form {
    canonical(layout, grid, Budget::default()).unwrap().form
}

/// An order of the lines that keeps blocks of so many together.
fn lines(blocks: u8, length: u8) -> impl Strategy<Value = Vec<u8>> {
    let order = |count: u8| Just((0..count).collect::<Vec<u8>>()).prop_shuffle();
    let within = proptest::collection::vec(order(length), usize::from(blocks));
    (order(blocks), within).prop_map(move |(blocks, within)| {
        blocks
            .iter()
            .flat_map(|&block| within[usize::from(block)].iter().map(move |at| block * length + at))
            .collect()
    })
}

/// A transformation that keeps the usual houses.
fn dress(side: u8) -> impl Strategy<Value = Transformation> {
    let boxes = classic(side).boxes().unwrap();
    let digits = Just((0..side).collect::<Vec<u8>>()).prop_shuffle();
    let (rows, columns) = (lines(side / boxes.rows, boxes.rows), lines(side / boxes.columns, boxes.columns));
    (any::<bool>(), rows, columns, digits).prop_map(move |(transposed, rows, columns, digits)| {
        let transposed = transposed && boxes.rows == boxes.columns;
        Transformation::new(Size::new(side).unwrap(), transposed, &rows, &columns, &digits).unwrap()
    })
}

/// A grid with some digits, which may clash.
fn grid(side: u8, most: usize) -> impl Strategy<Value = Grid> {
    proptest::collection::vec((0..side, 0..side, 1..=side), 1..=most).prop_map(move |givens| {
        let mut grid = Grid::empty(Size::new(side).unwrap());
        for (row, column, digit) in givens {
            grid.set(Cell::new(row, column), Digit::new(digit));
        }
        grid
    })
}

/// The grid with one given moved to another cell, or with another digit in its place.
fn near(grid: &Grid, given: usize, to: Option<(u8, u8)>) -> Grid {
    let mut near = grid.clone();
    let (cell, digit) = grid.digits().nth(given % grid.filled()).unwrap();
    near.set(cell, None);
    match to {
        Some((row, column)) => near.set(Cell::new(row, column), Some(digit)),
        None => near.set(cell, Digit::new(digit.value() % grid.size().side() + 1)),
    }
    near
}

/// Every image of a grid of size 4: all orders that keep the boxes, all names of the digits; by plain listing.
fn images(grid: &Grid) -> Vec<String> {
    let lines = |flip: [bool; 3]| {
        let half = |at: usize| {
            let at = if flip[0] { 1 - at } else { at };
            if flip[1 + at] { [2 * at + 1, 2 * at] } else { [2 * at, 2 * at + 1] }
        };
        [half(0), half(1)].concat()
    };
    let flips = || (0..8).map(move |bits| lines([bits & 1 > 0, bits & 2 > 0, bits & 4 > 0]));
    let given: Vec<u8> = grid.to_string().into_bytes();
    let mut names: Vec<[u8; 4]> = Vec::new();
    for name in 0..256_u32 {
        let name = [0, 2, 4, 6].map(|shift| b'1' + (name >> shift & 3).to_le_bytes()[0]);
        if b"1234".iter().all(|digit| name.contains(digit)) {
            names.push(name);
        }
    }
    let mut images = Vec::new();
    for (rows, columns) in flips().flat_map(|rows| flips().map(move |columns| (rows.clone(), columns))) {
        for transposed in [false, true] {
            for names in &names {
                let sign = |at: usize| {
                    let (row, column) = (rows[at / 4], columns[at % 4]);
                    match given[if transposed { 4 * column + row } else { 4 * row + column }] {
                        b'.' => '.',
                        digit => char::from(names[usize::from(digit - b'1')]),
                    }
                };
                images.push((0..16).map(sign).collect());
            }
        }
    }
    images
}

#[test]
fn there_are_as_many_images_as_moves_and_names() {
    let all = images(&Grid::from_line("1234............").unwrap());
    assert_eq!(all.len(), 128 * 24);
}

proptest! {
    #[test]
    fn at_size_4_two_are_the_same_exactly_if_one_is_an_image(
        one in grid(4, 12), given in 0..12_usize, to in proptest::option::of((0..4_u8, 0..4_u8)), dress in dress(4)
    ) {
        let layout = classic(4);
        let other = dress.apply(&near(&one, given, to));
        let image = images(&one).contains(&other.to_string());
        prop_assert_eq!(form(&layout, &one) == form(&layout, &other), image);
        let symmetries = symmetries(&layout, &one, Budget::default()).unwrap();
        let itself = images(&one).into_iter().filter(|image| *image == one.to_string()).count() as u128;
        let given = one.digits().map(|(_, digit)| digit).collect::<crate::board::DigitSet>().len();
        let unused: u128 = (1..=4 - given as u128).product();
        prop_assert_eq!(symmetries * unused, itself);
    }

    #[test]
    fn the_quick_way_and_the_general_search_agree(
        one in grid(9, 40), given in 0..81_usize, to in proptest::option::of((0..9_u8, 0..9_u8)), dress in dress(9)
    ) {
        let layout = classic(9);
        let general = |grid: &Grid| {
            search::search(&Incidence::new(&layout, grid), Budget::default()).map(|found| found.picture)
        };
        let quick = |grid: &Grid| nine::least_dress(grid).map(|(picture, _)| picture);
        let same = dress.apply(&one);
        prop_assert_eq!(quick(&one), quick(&same));
        prop_assert_eq!(general(&one), general(&same));
        let other = dress.apply(&near(&one, given, to));
        prop_assert_eq!(form(&layout, &one) == form(&layout, &other), general(&one) == general(&other));
    }

    #[test]
    fn two_transformations_make_one(one in grid(6, 36), first in dress(6), second in dress(6)) {
        let both = first.then(&second);
        prop_assert_eq!(both.apply(&one), second.apply(&first.apply(&one)));
        prop_assert_eq!(first.then(&first.inverse()), Transformation::identity(one.size()));
        prop_assert_eq!(both.inverse(), second.inverse().then(&first.inverse()));
        let turn = Transformation::new(one.size(), true, &[5, 4, 3, 2, 1, 0], &[0, 1, 2, 3, 4, 5], &[0, 1, 2, 3, 4, 5]);
        let turned = first.then(&turn.unwrap());
        prop_assert_eq!(turned.apply(&one), turn.unwrap().apply(&first.apply(&one)));
        prop_assert_eq!(turned.then(&turned.inverse()), Transformation::identity(one.size()));
        prop_assert!(may_be_same(&one, &turned.then(&second).apply(&one)));
        prop_assert_eq!(turned.then(&second).inverse().apply(&turned.then(&second).apply(&one)), one);
    }
}

#[test]
fn a_glance_tells_apart_what_differs_in_number() {
    let grid = |line: &str| Grid::from_line(line).unwrap();
    let one = grid("12..3...........");
    let same = |line: &str| may_be_same(&one, &grid(line));
    assert!(same("4...32.........."), "columns for rows, and other digits");
    assert!(!same("12..3..........4"), "a given more");
    assert!(!same("12..2..........."), "a digit twice");
    assert!(!same("12.....3........"), "no two in a column");
}

#[test]
fn a_transformation_says_where_lines_come_from() {
    let size = Size::new(4).unwrap();
    let grid = Grid::from_line("12.....3........").unwrap();
    let of = |transposed, rows: [u8; 4]| {
        Transformation::new(size, transposed, &rows, &[0, 1, 2, 3], &[3, 1, 2, 0]).unwrap()
    };
    // Row 2 comes first; 1 is called 4.
    assert_eq!(of(false, [1, 0, 3, 2]).apply(&grid).to_string(), "...342..........");
    // Column 2 comes first.
    let turned = of(true, [1, 0, 3, 2]);
    assert_eq!(turned.apply(&grid).to_string(), "2...4....3......");
    assert_eq!(turned.source(Cell::new(2, 1)), Cell::new(1, 3));
    assert_eq!(
        (turned.transposed(), turned.rows(), turned.digits()),
        (true, &[1, 0, 3, 2][..], &[3, 1, 2, 0][..])
    );
    assert_eq!(Transformation::new(size, false, &[0, 1, 2, 2], &[0, 1, 2, 3], &[0, 1, 2, 3]), None);
    assert_eq!(Transformation::new(size, false, &[0, 1, 2], &[0, 1, 2, 3], &[0, 1, 2, 3]), None);
}

#[test]
fn past_the_budget_nothing_is_said() {
    for side in [4, 9, 25] {
        let layout = classic(side);
        let empty = Grid::empty(layout.size());
        assert_eq!(canonical(&layout, &empty, Budget { nodes: 3 }), Err(Undecided));
        assert_eq!(symmetries(&layout, &empty, Budget { nodes: 3 }), Err(Undecided));
        assert!(canonical(&layout, &empty, Budget::default()).is_ok());
    }
}

#[test]
fn repeats_name_the_first_and_how() {
    let (four, boxes) =
        (classic(4), Layout::with_boxes(Size::new(4).unwrap(), BoxShape { rows: 1, columns: 4 }));
    let grids =
        ["1234............", "....2143........", "12..............", "....3214........", "1234............"];
    let grids = grids.map(|line| Grid::from_line(line).unwrap());
    let mut puzzles: Vec<(&Layout, &Grid)> = grids.iter().map(|grid| (&four, grid)).collect();
    puzzles[4].0 = boxes.as_ref().unwrap();
    let form = |(layout, grid): (&Layout, &Grid)| canonical(layout, grid, Budget::default()).unwrap();
    let formed: Vec<Canonical> = puzzles.into_iter().map(form).collect();
    let found = repeats(formed.iter().map(|canonical| &canonical.form));
    let shown: Vec<(usize, usize)> = found.iter().map(|repeat| (repeat.puzzle, repeat.first)).collect();
    assert_eq!(shown, [(1, 0), (3, 0)]);
    for repeat in &found {
        let how = formed[repeat.first].to(&formed[repeat.puzzle]).unwrap();
        assert_eq!(how.apply(&grids[repeat.first]), grids[repeat.puzzle]);
    }
}
