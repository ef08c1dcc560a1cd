//! A puzzle that says `minimal` has givens that it does not need.
//!
//! ## Why
//! In a minimal puzzle no given can go without a second solution. The message names those that could; after one of
//! them is gone, others of them may be needed. What is proposed takes out as many as can go together, in reading
//! order; that may break a symmetry, and makes the puzzle no easier.
//!
//! ## Found
//! ```gset
//! puzzle ht-06 "One Too Many"
//! size       4
//! minimal
//! #<^^^^^ not-minimal: the 4 in r1c2 can go
//! givens
//!   2 4  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-06 "One Too Many"
//! size       4
//! minimal
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Grid, Layout};
use crate::solve::{self, Budget};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "not-minimal",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("not_minimal.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| &facts.minimal)?;
    let (layout, spare) = (scene.puzzle.layout.as_ref()?, scene.spare()?);
    let digit = givens.grid[*spare.cells.first()?]?;
    let which = match spare.cells[..] {
        [cell] => format!("the {digit} in {cell} can go"),
        _ => format!("any one of the givens in {} can go", listed(&spare.cells)),
    };
    let seen = if spare.undecided { ", and others were not looked at before the search stopped" } else { "" };
    let message = format!("{which} without a second solution{seen}");
    let mut draft = Draft::new(scene.claim_span(fact), message, "take givens out, or take `minimal` out");
    for &cell in &spare.cells {
        draft = draft.beside(scene.cell(givens, cell), format!("{cell} can go"));
    }
    let gone = together(layout, &givens.grid, &spare.cells);
    let edits = gone.iter().map(|&cell| (scene.cell(givens, cell), ".".to_owned())).collect();
    Some(draft.propose(format!("take out {}", listed(&gone)), edits))
}

/// Those of `spare` that can go together, in reading order. None is needed afterwards that was not tried: what is
/// needed among many givens is needed among fewer.
fn together(layout: &Layout, givens: &Grid, spare: &[Cell]) -> Vec<Cell> {
    let mut budget = Budget::default();
    let mut left = givens.clone();
    let mut can_go = |cell: &Cell| {
        let mut fewer = left.clone();
        fewer.set(*cell, None);
        let outcome = solve::count(layout, &fewer, 2, budget);
        budget.nodes = budget.nodes.saturating_sub(outcome.nodes);
        let one = outcome.count == 1 && outcome.stopped.is_none();
        if one {
            left = fewer;
        }
        one
    };
    spare.iter().copied().filter(|cell| can_go(cell)).collect()
}
