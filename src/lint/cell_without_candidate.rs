//! The givens leave no digit for an empty cell.
//!
//! ## Why
//! The cell sees every digit in one of its houses, so the puzzle has no solution. This is said instead of
//! `no-solution` where it shows at once, for the first such cell in reading order. Where changing one given would
//! leave exactly one solution, that is proposed.
//!
//! ## Found
//! ```gset
//! puzzle ht-02 "Nothing Left"
//! size       4
//! givens
//!   2 .  1 3
//! #~  ^ cell-without-candidate: no digit is left for r1c2: row 1 holds 123 and col 2 holds 4
//!   . 4  . .
//!   . .  . .
//!   . .  . .
//! ```
//!
//! ## Fixed
//! By hand: change or take out one of the givens that the message names.

use super::place::joined;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, DigitSet, Layout};
use crate::book::{Board, Verdict};
use crate::solve::Contradiction;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "cell-without-candidate",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("cell_without_candidate.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let puzzle = scene.puzzle;
    match (scene.verdict(), &puzzle.layout, &puzzle.givens) {
        (
            Verdict::NoSolution(Some(Contradiction::CellWithoutCandidate(cell))),
            Some(layout),
            Some(givens),
        ) => {
            vec![draft(scene, layout, givens, *cell)]
        }
        _ => Vec::new(),
    }
}

fn draft(scene: &PuzzleScene, layout: &Layout, givens: &Board, cell: Cell) -> Draft {
    // Each digit is named once, with the first house that shows it.
    let mut told = DigitSet::EMPTY;
    let mut bars = Vec::new();
    let mut houses = Vec::new();
    for house in layout.houses_of(cell) {
        let mut holds = DigitSet::EMPTY;
        for &bar in &house.cells {
            if let Some(digit) = givens.grid[bar].filter(|&digit| told.insert(digit)) {
                holds.insert(digit);
                bars.push((bar, digit));
            }
        }
        if !holds.is_empty() {
            houses.push(format!("{} holds {holds}", house.name));
        }
    }
    let message = format!("no digit is left for {cell}: {}", joined(&houses));
    let help = format!("change or take out one of the givens that {cell} sees");
    let mut draft = Draft::new(scene.cell(givens, cell), message, help);
    for &(bar, digit) in &bars {
        draft = draft.beside(scene.cell(givens, bar), format!("{bar} holds {digit}"));
    }
    let among: Vec<Cell> = bars.iter().map(|(bar, _)| *bar).collect();
    scene.with_slips(draft, layout, givens, &among)
}
