//! How many puzzles a second the search settles: whether there is exactly one solution, and which. Beside each way to
//! search, in the same run and on the same puzzles, stand a plain search, and a SAT solver: once with all puzzles put to
//! one solver as assumptions, once with the clauses of the layout read anew for each. Then how long it takes to see that
//! each given is needed; how far single puzzles of sizes 16 and 25 are from the mean; and how many of size 25 are settled
//! within a budget. Quote the ratios: the figures depend on the machine.
//!
//! `cargo bench --bench solve -- Avx2 1000` only makes 1000 puzzles of size 9 and settles so many of them in this way,
//! for a profiler that counts instructions; what making them takes shows with 0.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Stop, Way};

mod puzzles;
#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/sat.rs"]
mod sat;
#[path = "references/simple.rs"]
mod simple;

use puzzles::random::{Random, full_grid, puzzle_of};
use puzzles::random_minimal;
use sat::Sat;

/// Puzzles of size 9. The slower references get fewer of them.
const MANY: usize = 10_000;
const FEW: usize = 1_000;
/// Puzzles of size 16, and of size 25.
const LARGE: usize = 200;
const HUGE: usize = 10;

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

    let sixteen = classic(16);
    let puzzles: Vec<Grid> = (0..LARGE).map(|_| random_minimal(&mut random, &sixteen)).collect();
    println!("random minimal puzzles of size 16");
    let best = each_way(&sixteen, &puzzles);
    spread(&puzzles, |puzzle| settle(Way::General, &sixteen, puzzle));
    sat_solver(&sixteen, &puzzles, best);

    let twenty_five = classic(25);
    println!("size 25, by budget");
    let mut puzzles = cases("gen25");
    puzzles.extend(cases("pub25"));
    puzzles.extend(cases("none25"));
    puzzles.push(Grid::empty(twenty_five.size()));
    by_budget(&twenty_five, &puzzles);
    println!("random puzzles of size 25, which can spare few givens");
    let nearly = |random: &mut Random| {
        let full = std::iter::from_fn(|| Some(full_grid(random, &twenty_five))).flatten().next().unwrap();
        puzzle_of(random, &twenty_five, &full, Budget { nodes: 100 })
    };
    let puzzles: Vec<Grid> = (0..HUGE).map(|_| nearly(&mut random)).collect();
    let best = each_way(&twenty_five, &puzzles);
    spread(&puzzles, |puzzle| settle(Way::General, &twenty_five, puzzle));
    sat_solver(&twenty_five, &puzzles, best);
}

/// How long single puzzles take.
fn spread(puzzles: &[Grid], mut solutions: impl FnMut(&Grid) -> u64) {
    let each = |puzzle: &Grid| time(std::slice::from_ref(puzzle), &mut solutions);
    let mut times: Vec<Duration> = puzzles.iter().map(each).collect();
    times.sort_unstable();
    let at = |percent: usize| times[(times.len() - 1) * percent / 100];
    println!("    half within {:.2?}, 99 of 100 within {:.2?}, all within {:.2?}", at(50), at(99), at(100));
}

/// How many puzzles are settled within some budgets, and what settling one, or giving it up, takes.
fn by_budget(layout: &Layout, puzzles: &[Grid]) {
    for nodes in [100, 1_000, 10_000, Budget::default().nodes] {
        let mut settled = 0;
        let mut longest = Duration::ZERO;
        let start = Instant::now();
        for puzzle in puzzles {
            let start = Instant::now();
            let found = solve::count(layout, puzzle, 2, Budget { nodes });
            settled += usize::from(found.stopped != Some(Stop::Budget));
            longest = longest.max(start.elapsed());
        }
        let mean = start.elapsed() / u32::try_from(puzzles.len()).unwrap();
        println!(
            "  {nodes:6} nodes: {settled} of {} settled, {mean:.2?} each, {longest:.2?} at most",
            puzzles.len()
        );
    }
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
