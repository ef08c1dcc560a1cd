//! How long reasoning takes beside an exact search, on the same random minimal puzzles in the same run. Quote the
//! ratios: the figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::ladder::Ladder;
use gridsetter::reason::{Focus, Reasoner, Walk};
use gridsetter::solve::{self, Budget};
use gridsetter::step::{Deduction, Position};

#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/random.rs"]
mod random;

use random::Random;

/// How many puzzles.
const COUNT: u32 = 1000;
/// How often each job is done; the quickest counts, since other work on the machine only slows.
const ROUNDS: usize = 5;
/// The patterns from this one on are left out.
const FIRST_LEFT_OUT: &str = "single-digit chain";

fn main() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let mut random = Random::new(17);
    let puzzles: Vec<Grid> = (0..COUNT).map(|_| random::minimal(&mut random, &layout).0).collect();
    let ladder = Ladder::default();
    let rungs = ladder.rungs().iter().take_while(|rung| rung.name.name != FIRST_LEFT_OUT);
    let reasoner = Reasoner::new(&layout, &Ladder::new(rungs.copied().collect(), [].into()));

    println!("{COUNT} random minimal puzzles of size 9, ladder up to the largest basic fish");
    let search = time("exact search", None, &puzzles, |puzzle| {
        usize::from(solve::count(&layout, puzzle, 2, Budget::default()).count == 1)
    });
    let print = |name, job: &mut dyn FnMut(&Grid) -> usize| _ = time(name, Some(search), &puzzles, job);
    print("ladder", &mut |puzzle| climb(&reasoner, Position::new(&layout, puzzle), |_| ()));
    print("ladder, steps kept", &mut |puzzle| {
        let mut kept = Vec::new();
        climb(&reasoner, Position::new(&layout, puzzle), |step| kept.push(step)) + kept.len() / 1000
    });
    print("walk with proofs", &mut |puzzle| {
        usize::from(Walk::with_marks(&reasoner, Position::new(&layout, puzzle)).is_finished())
    });
    print("walk by scanning", &mut |puzzle| usize::from(Walk::by_scanning(&reasoner, puzzle).is_finished()));
    first_steps(&reasoner, &layout, &puzzles);
}

/// Goes up the ladder to the end, with no proofs; 1 if the grid is full then.
fn climb(reasoner: &Reasoner, mut position: Position, mut each: impl FnMut(Deduction)) -> usize {
    let mut focus = None;
    while let Some(step) = reasoner.unproved(&position, focus.as_ref()) {
        position.apply(&step.claims);
        focus = Focus::of(&step);
        each(step);
    }
    usize::from(position.is_finished())
}

/// Prints what a job takes for a puzzle, and for how many of them it gives 1; gives the time for one.
fn time(
    name: &str,
    reference: Option<Duration>,
    puzzles: &[Grid],
    mut job: impl FnMut(&Grid) -> usize,
) -> Duration {
    let mut done = 0;
    let total: Duration = puzzles.iter().map(|puzzle| quickest(|| done += job(puzzle))).sum();
    let each = total / COUNT;
    let ratio = each.as_secs_f64() / reference.unwrap_or(each).as_secs_f64();
    println!("  {name:20} {each:10.1?} each {ratio:8.1} x   {} finished", done / ROUNDS);
    each
}

/// The least time that a job takes.
fn quickest(mut job: impl FnMut()) -> Duration {
    let round = |_| {
        let start = Instant::now();
        job();
        start.elapsed()
    };
    (0..ROUNDS).map(round).min().unwrap()
}

/// Prints what the first step takes, over every position of the walks: a reader may ask at any of them.
fn first_steps(reasoner: &Reasoner, layout: &Layout, puzzles: &[Grid]) {
    let mut taken: Vec<Duration> = Vec::new();
    for puzzle in &puzzles[..puzzles.len() / 10] {
        let walk = Walk::with_marks(reasoner, Position::new(layout, puzzle));
        for (position, _) in walk.positions() {
            taken.push(quickest(|| assert!(reasoner.next(&position, None).is_some())));
        }
    }
    taken.sort_unstable();
    let count = u32::try_from(taken.len()).unwrap();
    let mean = taken.iter().sum::<Duration>() / count;
    let high = taken[taken.len() * 99 / 100];
    println!(
        "  first step of {count} positions, proved: mean {mean:.1?}, 99 of 100 within {high:.1?}, worst {:.1?}",
        taken[taken.len() - 1]
    );
}
