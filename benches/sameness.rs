//! How many puzzles a second get their form, by which those that are the same in another dress are known. Beside it, in
//! the same run and on the same puzzles, the exact search. Quote the ratios: the figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use gridsetter::board::{Cell, Grid, Layout, Size};
use gridsetter::sameness::{self, Transformation};
use gridsetter::solve;

mod puzzles;

use puzzles::random::{self, Random};
use puzzles::random_minimal;

fn main() {
    let classic = |side| Layout::classic(Size::new(side).unwrap()).unwrap();
    let mut random = Random::new(17);
    let nine = classic(9);
    let minimal: Vec<Grid> = (0..1000).map(|_| random_minimal(&mut random, &nine)).collect();
    compare("random minimal, size 9", &nine, &minimal);
    let in_line = classic(9).and_diagonals();
    compare("the same with both diagonals", &in_line, &minimal);
    for (side, count, given) in [(9, 500, 100), (16, 50, 100), (16, 50, 40), (25, 10, 100), (25, 10, 45)] {
        let layout = classic(side);
        let grids: Vec<Grid> = (0..count).map(|_| partly_full(&mut random, &layout, given)).collect();
        compare(&format!("size {side}, {given} % of the cells given"), &layout, &grids);
    }
    repeats(&mut random, &nine, &minimal);
}

/// Works out the forms and searches the puzzles, and prints what it took.
fn compare(name: &str, layout: &Layout, puzzles: &[Grid]) {
    let count = u32::try_from(puzzles.len()).unwrap();
    let form = time(puzzles, |puzzle| {
        black_box(sameness::canonical(layout, puzzle, sameness::Budget::default()).unwrap());
    });
    let search = time(puzzles, |puzzle| {
        black_box(solve::count(layout, puzzle, 2, solve::Budget { nodes: 100 }));
    });
    println!("{name}: {count} puzzles");
    for (way, taken) in [("form", form), ("search", search)] {
        println!(
            "  {way:8} {:9.0} puzzles/s {:10.1?} each {:8.2} x",
            f64::from(count) / taken.as_secs_f64(),
            taken / count,
            taken.as_secs_f64() / search.as_secs_f64()
        );
    }
}

fn time(puzzles: &[Grid], mut each: impl FnMut(&Grid)) -> Duration {
    let start = Instant::now();
    puzzles.iter().for_each(&mut each);
    start.elapsed()
}

/// A random full grid with so many cells of a hundred left in it.
fn partly_full(random: &mut Random, layout: &Layout, percent: usize) -> Grid {
    let mut grid = std::iter::from_fn(|| Some(random::full_grid(random, layout))).flatten().next().unwrap();
    let mut cells: Vec<Cell> = layout.size().all_cells().collect();
    random.shuffle(&mut cells);
    for &cell in &cells[cells.len() * percent / 100..] {
        grid.set(cell, None);
    }
    grid
}

/// Ten dresses of each puzzle, mixed: how long it takes to find out.
fn repeats(random: &mut Random, layout: &Layout, puzzles: &[Grid]) {
    let mut all: Vec<Grid> = Vec::new();
    for puzzle in puzzles {
        all.extend((0..10).map(|_| dress(random, layout.size()).apply(puzzle)));
    }
    random.shuffle(&mut all);
    let start = Instant::now();
    let form = |puzzle| sameness::canonical(layout, puzzle, sameness::Budget::default()).unwrap().form;
    let found = sameness::repeats(&all.iter().map(form).collect::<Vec<_>>());
    let taken = start.elapsed();
    assert_eq!(found.len(), all.len() - puzzles.len());
    println!("{} repeats among {} puzzles: {taken:.1?}", found.len(), all.len());
}

/// A random transformation that keeps boxes of three by three.
fn dress(random: &mut Random, size: Size) -> Transformation {
    let mut order = |blocks: u8, length: u8| -> Vec<u8> {
        let mut shuffled = |from: u8, to: u8| {
            let mut numbers: Vec<u8> = (from..to).collect();
            random.shuffle(&mut numbers);
            numbers
        };
        let blocks = shuffled(0, blocks);
        blocks.into_iter().flat_map(|block| shuffled(block * length, (block + 1) * length)).collect()
    };
    let (rows, columns, digits) = (order(3, 3), order(3, 3), order(9, 1));
    Transformation::new(size, random.one_in(2), &rows, &columns, &digits).unwrap()
}
