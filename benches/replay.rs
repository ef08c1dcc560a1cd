//! How long a walkthrough is looked at again after an edit of one of its lines, which is what its author waits for between
//! a keystroke and the findings. Beside it, in the same run, an exact search of the same puzzles. Quote the ratios: the
//! figures depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

use std::time::{Duration, Instant};

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::book::{Book, Puzzle, Walkthrough};
use gridsetter::edit::walk_lines;
use gridsetter::format::grid_lines;
use gridsetter::ladder::Ladder;
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::replay::{self, Replay, State};
use gridsetter::solve::{self, Budget};
use gridsetter::step::{Method, Position};
use gridsetter::study::Start;

#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../tests/outside/random.rs"]
mod random;

use random::Random;

/// How many puzzles.
const COUNT: usize = 20;
/// A walk has at least so many steps.
const STEPS: usize = 60;
/// How often each job is done; the quickest counts, since other work on the machine only slows.
const ROUNDS: usize = 5;

fn main() {
    for (name, method) in [("scanning", Method::Scanning), ("marks", Method::Marks)] {
        let walks = walks(method);
        println!("{COUNT} walks of {STEPS} steps or more, by {name}");
        let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
        let search = row("exact search", None, &walks, |(givens, _)| {
            assert_eq!(solve::count(&layout, givens, 2, Budget::default()).count, 1);
        });
        let row = |name, change: fn(&str) -> String| {
            let read: Vec<(Grid, Book)> = walks
                .iter()
                .map(|(givens, text)| (givens.clone(), Book::read("bench", &change(text))))
                .collect();
            row(name, Some(search), &read, |(_, book)| _ = replayed(book));
        };
        row("as it stands", str::to_owned);
        row("first step gone", |text| {
            let mut lines: Vec<&str> = text.lines().collect();
            lines.remove(lines.iter().position(|line| *line == "steps").unwrap() + 1);
            lines.join("\n")
        });
        row("last step gone", |text| {
            text.lines().take(text.lines().count() - 1).collect::<Vec<_>>().join("\n")
        });
    }
}

/// Puzzles with a walk each, as text.
fn walks(method: Method) -> Vec<(Grid, String)> {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    let mut random = Random::new(23);
    let mut walks = Vec::new();
    while walks.len() < COUNT {
        let givens = random::minimal(&mut random, &layout).0;
        let walk = match method {
            Method::Marks => Walk::with_marks(&reasoner, Position::new(&layout, &givens)),
            Method::Scanning => Walk::by_scanning(&reasoner, &givens),
        };
        if walk.is_finished() && walk.steps.len() >= STEPS {
            let rows = grid_lines(&givens, layout.boxes()).join("\n");
            let lines = walk_lines(&walk, |_| None).join("\n  ");
            walks.push((givens, format!("puzzle a-1\ngivens\n{rows}\nsteps\n  {lines}\n")));
        }
    }
    walks
}

/// The walks of the first puzzle, as each keystroke has them looked at.
fn replayed(book: &Book) -> Vec<(Walkthrough, Replay)> {
    let puzzle: &Puzzle = book.puzzles().next().unwrap();
    let start = Start::of(puzzle).unwrap();
    let state = State::new(start.position());
    replay::walks(&book.tree.sections[0], puzzle, &book.ladder, &start, &state).collect()
}

/// Prints what a job takes; gives the mean.
fn row<T>(name: &str, reference: Option<Duration>, items: &[T], mut job: impl FnMut(&T)) -> Duration {
    let mut times: Vec<Duration> = items.iter().map(|item| quickest(|| job(item))).collect();
    times.sort_unstable();
    let mean = times.iter().sum::<Duration>() / u32::try_from(times.len()).unwrap();
    let ratio = mean.as_secs_f64() / reference.unwrap_or(mean).as_secs_f64();
    println!("  {name:20} mean {mean:>9.1?}  worst {:>9.1?} {ratio:8.1} x", times[times.len() - 1]);
    mean
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
