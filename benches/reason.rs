//! How long reasoning takes beside an exact search, on the same random minimal puzzles in the same run. Quote the
//! ratios: the figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::ladder::{Ladder, Rung};
use gridsetter::reason::{Climb, Focus, Reasoner, Walk};
use gridsetter::solve::{self, Budget};
use gridsetter::step::Position;

#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/random.rs"]
mod random;

use random::Random;

/// How many puzzles.
const COUNT: u32 = 1000;
/// How often each job is done; the quickest counts, since other work on the machine only slows.
const ROUNDS: usize = 5;
/// The first pattern that is beyond basic fish, and the last resort.
const BEYOND_FISH: &str = "single-digit chain";
const LAST_RESORT: &str = "trial";

fn main() {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let mut random = Random::new(17);
    let puzzles: Vec<Grid> = (0..COUNT).map(|_| random::minimal(&mut random, &layout).0).collect();
    let ladder = Ladder::default();
    let reasoner = |takes: &dyn Fn(&Rung) -> bool| {
        let rungs = ladder.rungs().iter().copied().take_while(|rung| takes(rung));
        Reasoner::new(&layout, &Ladder::new(rungs.collect(), [].into()))
    };
    let fish = reasoner(&|rung| rung.name.name != BEYOND_FISH);
    let without_trial = reasoner(&|rung| rung.name.name != LAST_RESORT);
    let whole = reasoner(&|_| true);
    let start = |puzzle: &Grid| Position::new(&layout, puzzle).with_one_solution();

    println!("{COUNT} random minimal puzzles of size 9");
    let search = time("exact search", None, &puzzles, |puzzle| {
        usize::from(solve::count(&layout, puzzle, 2, Budget::default()).count == 1)
    });
    let print = |name, job: &mut dyn FnMut(&Grid) -> usize| _ = time(name, Some(search), &puzzles, job);
    print("to the largest fish", &mut |puzzle| climb(&fish, start(puzzle)));
    print("... steps kept", &mut |puzzle| climb_keeping(&fish, start(puzzle)));
    for (name, level) in [("to level 5", 5), ("to level 6", 6)] {
        let reasoner = reasoner(&|rung| rung.level <= level);
        print(name, &mut |puzzle| climb(&reasoner, start(puzzle)));
    }
    print("whole ladder", &mut |puzzle| climb(&whole, start(puzzle)));
    print("... steps kept", &mut |puzzle| climb_keeping(&whole, start(puzzle)));
    print("walk with proofs", &mut |puzzle| {
        usize::from(Walk::with_marks(&whole, start(puzzle)).is_finished())
    });
    print("walk by scanning", &mut |puzzle| usize::from(Walk::by_scanning(&whole, puzzle).is_finished()));
    next_steps(&without_trial, &puzzles, start);
}

/// Goes up the ladder to the end, with no proofs; 1 if the grid is full then.
fn climb(reasoner: &Reasoner, mut position: Position) -> usize {
    let (mut climb, mut focus) = (Climb::new(reasoner), None);
    while let Some((_, next)) = climb.advance(&mut position, focus.as_ref()) {
        focus = next;
    }
    usize::from(position.is_finished())
}

/// The same, where the steps with their claims and bases are kept.
fn climb_keeping(reasoner: &Reasoner, mut position: Position) -> usize {
    let (mut climb, mut kept) = (Climb::new(reasoner), Vec::new());
    while let Some(step) = climb.unproved(&position, kept.last().and_then(Focus::of).as_ref()) {
        position.apply(&step.claims);
        kept.push(step);
    }
    usize::from(position.is_finished() && !kept.is_empty())
}

/// Prints what a job takes for a puzzle, and for how many of them it gives 1; gives the time for one.
fn time(
    name: &str,
    reference: Option<Duration>,
    puzzles: &[Grid],
    mut job: impl FnMut(&Grid) -> usize,
) -> Duration {
    let mut done = 0;
    // All of them, round after round: a puzzle done twice in a row would go by what the processor remembers of it.
    let total = quickest(|| done += puzzles.iter().map(&mut job).sum::<usize>());
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

/// Prints what the next step takes from a position that nothing is known of, over every position of some walks: a reader
/// may ask at any of them.
fn next_steps(reasoner: &Reasoner, puzzles: &[Grid], start: impl Fn(&Grid) -> Position) {
    let mut taken: Vec<Duration> = Vec::new();
    for puzzle in &puzzles[..puzzles.len() / 10] {
        let walk = Walk::with_marks(reasoner, start(puzzle));
        for (position, _) in walk.positions() {
            taken.push(quickest(|| assert!(reasoner.next(&position, None).is_some())));
        }
    }
    taken.sort_unstable();
    let count = u32::try_from(taken.len()).unwrap();
    let mean = taken.iter().sum::<Duration>() / count;
    let high = taken[taken.len() * 99 / 100];
    println!(
        "  next step of {count} positions, proved, no trial: mean {mean:.1?}, 99 of 100 within {high:.1?}, worst {:.1?}",
        taken[taken.len() - 1]
    );
}
