//! How many puzzles a second the search settles: whether there is exactly one solution, and which. Beside it, in the
//! same run and on the same puzzles, a SAT solver: once with the clauses of the layout read anew for each puzzle, once
//! with all puzzles put to one solver as assumptions. Quote the ratios: the figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::solve::{self, Budget};

mod puzzles;
#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/sat.rs"]
mod sat;

use puzzles::random::Random;
use puzzles::random_minimal;
use sat::Sat;

fn main() {
    let classic = |side| Layout::classic(Size::new(side).unwrap()).unwrap();
    let mut random = Random::new(17);
    let nine = classic(9);
    let minimal: Vec<Grid> = (0..1000).map(|_| random_minimal(&mut random, &nine)).collect();
    compare("random minimal, size 9", &nine, &minimal);
    compare("cases of size 16", &classic(16), &cases("gen16"));
}

/// Settles the puzzles in each way, and prints what it took.
fn compare(name: &str, layout: &Layout, puzzles: &[Grid]) {
    let count = u32::try_from(puzzles.len()).unwrap();
    println!("{name}: {count} puzzles");
    let mut nodes = 0;
    let search = time(puzzles, |puzzle| {
        let outcome = solve::count(layout, puzzle, 2, Budget::default());
        nodes += outcome.nodes;
        outcome.count
    });
    let mut one_solver = Sat::new(layout);
    let assumptions = time(puzzles, |puzzle| one_solver.solutions(puzzle, 2).len() as u64);
    let fresh = time(puzzles, |puzzle| Sat::new(layout).solutions(puzzle, 2).len() as u64);
    for (way, taken) in
        [("search", search), ("SAT solver, assumptions", assumptions), ("SAT solver, read anew", fresh)]
    {
        println!(
            "  {way:24} {:9.0} puzzles/s {:10.1?} each {:8.1} x",
            f64::from(count) / taken.as_secs_f64(),
            taken / count,
            taken.as_secs_f64() / search.as_secs_f64()
        );
    }
    // The nodes of a search are fewer than 2^32, so that nothing is lost.
    println!("  nodes a puzzle: {:.1}", f64::from(u32::try_from(nodes).unwrap()) / f64::from(count));
}

/// The time to settle all puzzles, each of which must have one solution.
fn time(puzzles: &[Grid], mut solutions: impl FnMut(&Grid) -> u64) -> Duration {
    let start = Instant::now();
    for puzzle in puzzles {
        assert_eq!(solutions(puzzle), 1, "{puzzle}");
    }
    start.elapsed()
}

/// The puzzles of `tests/data/cases.tsv` whose ids begin so.
fn cases(beginning: &str) -> Vec<Grid> {
    let lines = include_str!("../tests/data/cases.tsv").lines();
    lines
        .filter(|line| line.starts_with(beginning))
        .map(|line| Grid::from_line(line.split('\t').nth(5).unwrap()).unwrap())
        .collect()
}
