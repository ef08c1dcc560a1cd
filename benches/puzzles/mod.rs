//! Puzzles to measure with, the same in each run.

#[allow(dead_code, reason = "the tests use more of it")]
#[path = "../../tests/outside/random.rs"]
pub mod random;

use gridsetter::board::{Cell, Grid, Layout};
use gridsetter::solve::{self, Budget};
use random::Random;

/// A puzzle with one solution that can spare no given: a random full grid, less what can go, in random order.
pub fn random_minimal(random: &mut Random, layout: &Layout) -> Grid {
    let full = std::iter::from_fn(|| Some(random::full_grid(random, layout)));
    let mut puzzle = full.flatten().next().expect("it tries until there is one");
    let mut cells: Vec<Cell> = layout.size().all_cells().collect();
    random.shuffle(&mut cells);
    for cell in cells {
        let digit = puzzle[cell];
        puzzle.set(cell, None);
        if solve::count(layout, &puzzle, 2, Budget::default()).count > 1 {
            puzzle.set(cell, digit);
        }
    }
    puzzle
}
