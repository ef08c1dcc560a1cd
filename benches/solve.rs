//! How many puzzles a second the search settles: whether there is exactly one solution, and which. Beside each way to
//! search, in the same run and on the same puzzles, stand a plain search, and a SAT solver: once with all puzzles put to
//! one solver as assumptions, once with the clauses of the layout read anew for each. Then how long it takes to see that
//! each given is needed. Quote the ratios: the figures depend on the machine.
//!
//! `cargo bench --bench solve -- Avx2 1000` only makes 1000 puzzles of size 9 and settles so many of them in this way,
//! for a profiler that counts instructions; what making them takes shows with 0.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Way};

mod puzzles;
#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/sat.rs"]
mod sat;
#[path = "references/simple.rs"]
mod simple;

use puzzles::random::Random;
use puzzles::random_minimal;
use sat::Sat;

/// Puzzles of size 9. The slower references get fewer of them.
const MANY: usize = 10_000;
const FEW: usize = 1_000;

fn main() {
    let classic = |side| Layout::classic(Size::new(side).unwrap()).unwrap();
    let nine = classic(9);
    let mut random = Random::new(17);
    let mut minimal = |count| (0..count).map(|_| random_minimal(&mut random, &nine)).collect::<Vec<Grid>>();

    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    if let [way, count] = &arguments[..] {
        let way = Way::all(&nine).find(|known| format!("{known:?}") == *way).expect("a way of this machine");
        let count: usize = count.parse().expect("how many puzzles, at most 1000");
        minimal(FEW)[..count].iter().for_each(|puzzle| assert_eq!(settle(way, &nine, puzzle), 1));
        return;
    }

    let minimal = minimal(MANY);
    println!("random minimal puzzles of size 9");
    let best = each_way(&nine, &minimal);
    report("plain search", time(&minimal[..FEW], |puzzle| simple::count(puzzle, 2)), best);
    sat_solver(&nine, &minimal[..FEW], best);
    let needed = time(&minimal[..FEW], |puzzle| {
        let spare = solve::spare_givens(&nine, puzzle, Budget::default());
        1 + spare.cells.len() as u64
    });
    report("is each given needed?", needed, best);

    println!("cases of size 16");
    let cases = cases("gen16");
    let sixteen = classic(16);
    let best = each_way(&sixteen, &cases);
    sat_solver(&sixteen, &cases, best);
}

/// Measures every way to search, and gives the time of the best.
fn each_way(layout: &Layout, puzzles: &[Grid]) -> Duration {
    let mut best = None;
    for way in Way::all(layout) {
        let some = if way == Way::General { &puzzles[..puzzles.len().min(FEW)] } else { puzzles };
        let taken = time(some, |puzzle| settle(way, layout, puzzle));
        report(&format!("{way:?}"), taken, *best.get_or_insert(taken));
    }
    best.unwrap()
}

fn sat_solver(layout: &Layout, puzzles: &[Grid], best: Duration) {
    // Once: what it learnt in a first run would help it in a second.
    let mut one = Sat::new(layout);
    let assumptions = time_once(puzzles, &mut |puzzle| one.solutions(puzzle, 2).len() as u64);
    report("SAT solver, assumptions", assumptions, best);
    let anew = time_once(puzzles, &mut |puzzle| Sat::new(layout).solutions(puzzle, 2).len() as u64);
    report("SAT solver, read anew", anew, best);
}

fn settle(way: Way, layout: &Layout, puzzle: &Grid) -> u64 {
    solve::solutions_by(way, layout, puzzle, Budget::default()).take(2).count() as u64
}

fn report(name: &str, taken: Duration, best: Duration) {
    let ratio = taken.as_secs_f64() / best.as_secs_f64();
    println!("  {name:24} {:9.0} puzzles/s {taken:10.2?} each {ratio:8.2} x", 1.0 / taken.as_secs_f64());
}

/// The time that a puzzle takes in the best of three runs.
fn time(puzzles: &[Grid], mut solutions: impl FnMut(&Grid) -> u64) -> Duration {
    (0..3).map(|_| time_once(puzzles, &mut solutions)).min().unwrap()
}

/// The time that a puzzle takes; each must have one solution.
fn time_once(puzzles: &[Grid], solutions: &mut impl FnMut(&Grid) -> u64) -> Duration {
    let start = Instant::now();
    for puzzle in puzzles {
        assert_eq!(solutions(puzzle), 1, "{puzzle}");
    }
    start.elapsed() / u32::try_from(puzzles.len()).unwrap()
}

/// The puzzles of `tests/data/cases.tsv` whose ids begin so.
fn cases(beginning: &str) -> Vec<Grid> {
    let lines = include_str!("../tests/data/cases.tsv").lines();
    lines
        .filter(|line| line.starts_with(beginning))
        .map(|line| Grid::from_line(line.split('\t').nth(5).unwrap()).unwrap())
        .collect()
}
