//! The search against a SAT solver, on random positions of random layouts.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, Digit, Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Difference, Stop};

use crate::random::{self, Random};
use crate::sat::Sat;

/// More than any random position here takes, so that every verdict is definite.
const BUDGET: Budget = Budget { nodes: 1_000_000 };

/// Goes through a plan of sizes, each with how many layouts of it are to be tried, and how many positions of each.
fn compare(seed: u64, plan: &[(u8, usize, usize)]) {
    let mut random = Random::new(seed);
    let mut tally: BTreeMap<u8, [usize; 3]> = BTreeMap::new();
    for &(side, layouts, positions) in plan {
        let size = Size::new(side).unwrap();
        for _ in 0..layouts {
            // Some layouts have no full grid at all.
            let (layout, full) = loop {
                let layout = random::layout(&mut random, size);
                if let Some(full) = random::full_grid(&mut random, &layout) {
                    break (layout, full);
                }
            };
            let mut sat = Sat::new(&layout);
            for _ in 0..positions {
                let givens = random::position(&mut random, &full);
                let count = agree(&layout, &givens, &mut sat);
                tally.entry(side).or_default()[count] += 1;
            }
        }
    }
    println!("size: positions with no, one, several solutions");
    for (side, counts) in &tally {
        println!("{side:4}: {counts:?}");
    }
    for sort in 0..3 {
        let positions: usize = tally.values().map(|counts| counts[sort]).sum();
        assert!(positions >= 20, "too few positions with {sort} solutions to mean anything: {tally:?}");
    }
}

/// Holds all that the search says of a position against the SAT solver; gives how many solutions there are, up to 2.
fn agree(layout: &Layout, givens: &Grid, sat: &mut Sat) -> usize {
    let place = format!("{givens} ({})", random::describe(layout));
    let found = solve::count(layout, givens, 2, BUDGET);
    let expected = sat.solutions(givens, 2);
    assert_eq!(found.count, expected.len() as u64, "{place}");
    assert_eq!(found.stopped, (expected.len() == 2).then_some(Stop::Limit), "{place}");
    if let Some(first) = &found.first {
        assert!(solves(layout, givens, first), "{place}: {first} is no solution");
    }
    if solve::contradiction(layout, givens).is_some() {
        assert_eq!(expected.len(), 0, "{place}: no contradiction");
    }
    match expected.len() {
        0 => {
            assert_eq!(solve::difference(layout, givens, BUDGET), None, "{place}");
            assert_eq!(solve::settling_given(layout, givens, BUDGET), None, "{place}");
        }
        1 => {
            assert_eq!(found.first.as_ref(), expected.first(), "{place}");
            let spare = solve::spare_givens(layout, givens, BUDGET);
            let expected: Vec<Cell> = givens
                .digits()
                .map(|(cell, _)| cell)
                .filter(|&cell| sat.solutions(&with(givens, cell, None), 2).len() == 1)
                .collect();
            assert_eq!((spare.cells, spare.undecided), (expected, false), "{place}");
        }
        _ => {
            let difference = solve::difference(layout, givens, BUDGET).expect(&place);
            check_difference(layout, givens, &difference, sat, &place);
            check_settling(layout, givens, sat, &place);
        }
    }
    expected.len()
}

pub fn with(grid: &Grid, cell: Cell, digit: Option<Digit>) -> Grid {
    let mut other = grid.clone();
    other.set(cell, digit);
    other
}

/// Whether a grid is full, keeps the givens and has each digit once in each house; knows nothing of the search.
pub fn solves(layout: &Layout, givens: &Grid, grid: &Grid) -> bool {
    grid.is_full()
        && givens.digits().all(|(cell, digit)| grid[cell] == Some(digit))
        && layout.houses().iter().all(|house| {
            layout
                .size()
                .digits()
                .iter()
                .all(|digit| house.cells.iter().any(|&cell| grid[cell] == Some(digit)))
        })
}

/// Two solutions, and none that agrees with both of them elsewhere gives a smaller difference.
fn check_difference(layout: &Layout, givens: &Grid, difference: &Difference, sat: &mut Sat, place: &str) {
    let Difference { first, second, cells, minimal } = difference;
    assert!(solves(layout, givens, first) && solves(layout, givens, second), "{place}");
    let differ = first.differing(second);
    assert!(!differ.is_empty() && differ.iter().eq(cells.iter().map(|at| at.cell)), "{place}");
    assert!(
        cells.iter().all(|at| first[at.cell] == Some(at.first) && second[at.cell] == Some(at.second)),
        "{place}"
    );
    assert!(*minimal, "{place}: not shrunk to the end");
    let common = differ.iter().fold(first.clone(), |grid, cell| with(&grid, cell, None));
    // Each cell tells all of them apart, so there are no more than digits.
    let inside = sat.solutions(&common, layout.size().usize() + 1);
    assert!(inside.contains(first) && inside.contains(second), "{place}");
    for (at, one) in inside.iter().enumerate() {
        for other in &inside[at + 1..] {
            assert_eq!(one.differing(other), differ, "{place}: {one} and {other} differ in less");
        }
    }
}

/// A digit that is said to settle does; where none is named and all solutions can be listed, none does.
fn check_settling(layout: &Layout, givens: &Grid, sat: &mut Sat, place: &str) {
    if let Some((cell, digit)) = solve::settling_given(layout, givens, BUDGET) {
        assert_eq!(givens[cell], None, "{place}");
        assert_eq!(sat.solutions(&with(givens, cell, Some(digit)), 2).len(), 1, "{place}: {cell} {digit}");
        return;
    }
    let all = sat.solutions(givens, 200);
    if all.len() < 200 {
        for cell in givens.empty_cells() {
            for digit in layout.size().digits().iter() {
                let holding = all.iter().filter(|grid| grid[cell] == Some(digit)).count();
                assert_ne!(holding, 1, "{place}: {digit} in {cell} would settle it");
            }
        }
    }
}

#[test]
fn agrees_with_a_sat_solver() {
    let plan = [
        (4, 120, 10),
        (5, 60, 12),
        (6, 70, 12),
        (7, 40, 12),
        (8, 40, 12),
        (9, 40, 12),
        (10, 12, 10),
        (12, 8, 8),
    ];
    compare(20_261_125, &plan);
}

#[test]
#[ignore = "takes minutes: ten times as many positions, and size 16"]
fn agrees_with_a_sat_solver_at_length() {
    let plan = [
        (4, 600, 10),
        (5, 400, 10),
        (6, 500, 12),
        (7, 300, 12),
        (8, 300, 12),
        (9, 400, 12),
        (10, 120, 10),
        (11, 80, 8),
        (12, 80, 8),
        (16, 30, 6),
    ];
    compare(611_953, &plan);
}
