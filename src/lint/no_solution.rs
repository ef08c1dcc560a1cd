//! No digits can complete the grid, though no single cell or house shows it.
//!
//! ## Why
//! A puzzle has exactly one solution. Here the givens contradict each other by way of several cells; trying every
//! digit proves it. Where changing one given would leave exactly one solution, that is proposed: it is the likely slip.
//!
//! ## Found
//! ```gset
//! puzzle ht-04 "Dead End"
//! size       4
//! givens
//! #<^^^^ no-solution: this puzzle has no solution
//!   4 .  1 .
//!   . .  4 .
//!   . 2  . .
//!   1 .  . .
//! ```
//!
//! ## Fixed
//! Compare the givens with where they come from. Here there are two ways, of which the first is shown: r2c3 is 3, or r4c1
//! is.
//! ```gset
//! puzzle ht-04 "Dead End"
//! size       4
//! givens
//!   4 .  1 .
//!   . .  3 .
//!   . 2  . .
//!   1 .  . .
//! ```

use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::Cell;
use crate::book::Verdict;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "no-solution",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("no_solution.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let puzzle = scene.puzzle;
    let (Verdict::NoSolution(None), Some(layout), Some(givens)) =
        (scene.verdict(), &puzzle.layout, &puzzle.givens)
    else {
        return Vec::new();
    };
    let message = "this puzzle has no solution: every way of filling the grid ends in a contradiction";
    let help = "change or take out a given: at least one of them is wrong";
    let among: Vec<Cell> = givens.grid.digits().map(|(cell, _)| cell).collect();
    vec![scene.with_slips(Draft::new(scene.givens_word(), message, help), layout, givens, &among)]
}
