//! How fast a file of 10,000 puzzles is read and checked, on one core. Each puzzle is a block of givens and solution.
//!
//! Beside reading, in the same run and on the same text, two references: counting its line ends byte by byte, and a
//! splitter that knows nothing but such blocks and notes lines and cells in flat lists. Quote the ratios: the figures
//! depend on the machine.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "it runs by itself, and printing is its job")]

mod puzzles;

use gridsetter::board::{Digit, Grid, Layout, Size};
use gridsetter::book::{Book, Workspace};
use gridsetter::solve::{self, Budget};
use gridsetter::{lint, notation};
use puzzles::random::Random;
use std::fmt::Write as _;
use std::hint::black_box;
use std::time::{Duration, Instant};

const PUZZLES: u32 = 10_000;

/// So many puzzles are made; the others are these with other digits.
const MADE: usize = 500;

fn main() {
    let text = text();
    println!("{PUZZLES} puzzles, {} bytes", text.len());
    let count = quickest(|| text.bytes().filter(|byte| *byte == b'\n').count());
    let split = quickest(|| flat_split(&text));
    let read = quickest(|| notation::read(&text));
    let understood = quickest(|| Book::read("bench.gset", &text));
    // Some would have several solutions, or none, if anything were lost on the way.
    let checked = quickest(|| {
        let workspace = Workspace::new(vec![Book::read("bench.gset", &text)]);
        assert!(lint::check(&workspace).is_empty());
    });
    let bytes = f64::from(u32::try_from(text.len()).unwrap());
    for (way, taken) in [
        ("count line ends", count),
        ("split flat", split),
        ("read", read),
        ("read and understand", understood),
        ("check", checked),
    ] {
        println!(
            "  {way:20} {:8.1} MB/s {:9.0} puzzles/s {:8.2} x reading",
            bytes / 1e6 / taken.as_secs_f64(),
            f64::from(PUZZLES) / taken.as_secs_f64(),
            taken.as_secs_f64() / read.as_secs_f64()
        );
    }
}

/// The least time of several that `work` takes.
fn quickest<T>(mut work: impl FnMut() -> T) -> Duration {
    let once = |_| {
        let start = Instant::now();
        let done = black_box(work());
        let taken = start.elapsed();
        drop(done);
        taken
    };
    (0..7).map(once).min().unwrap()
}

/// The text of a volume.
fn text() -> String {
    let mut random = Random::new(17);
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let made: Vec<(Grid, Grid)> = (0..MADE)
        .map(|_| {
            let givens = puzzles::random_minimal(&mut random, &layout);
            let solution = solve::count(&layout, &givens, 2, Budget::default()).first.unwrap();
            (givens, solution)
        })
        .collect();
    let mut digits: Vec<Digit> = layout.size().digits().iter().collect();
    let mut text = String::from("notation 1\ncollection \"Night Trains\"\n");
    for (n, (givens, solution)) in (1..=PUZZLES).zip(made.iter().cycle()) {
        random.shuffle(&mut digits);
        write!(text, "\npuzzle nt-{n:05} \"Carriage {n}\"\nsource     \"by hand\"\ndate       2026-05-31\n")
            .unwrap();
        for (word, grid) in [("givens", givens), ("solution", solution)] {
            writeln!(text, "{word}").unwrap();
            text.push_str(&rows(grid, &digits));
        }
    }
    text
}

/// The rows of a grid in the form of the notation, with other digits.
fn rows(grid: &Grid, digits: &[Digit]) -> String {
    let size = grid.size();
    let mut rows = String::new();
    for cell in size.all_cells() {
        rows.push_str(match cell.col() {
            0 | 3 | 6 => "  ",
            _ => " ",
        });
        rows.push(grid[cell].map_or('.', |digit| digits[usize::from(digit.value()) - 1].symbol()));
        if cell.col() + 1 == size.side() {
            rows.push('\n');
        }
    }
    rows
}

/// Where each line begins, and where each cell of a row stands.
fn flat_split(text: &str) -> (Vec<u32>, Vec<u32>) {
    let (mut lines, mut cells) = (Vec::new(), Vec::new());
    let (mut row, mut begins) = (false, true);
    for (byte, at) in text.bytes().zip(0..) {
        if begins {
            lines.push(at);
            row = byte == b' ';
        }
        if row && (byte.is_ascii_alphanumeric() || byte == b'.') {
            cells.push(at);
        }
        begins = byte == b'\n';
    }
    (lines, cells)
}
