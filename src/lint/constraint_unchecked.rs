//! The puzzle has a constraint that is kept and not used yet, so its solutions are not counted.
//!
//! ## Why
//! Cages, sums, thermometers, arrows and their like are read, kept and formatted; solving does not use them yet.
//! Without them the puzzle would seem to have many solutions. So nothing that leans on its solution is judged, and no
//! news is not good news here. It is said once a puzzle, at its first such constraint.
//!
//! ## Found
//! ```gset
//! puzzle ht-09 "Sum of Things"
//! size       4
//! sum        5 r1c1 r1c2
//! #<^^^^^^^^^^^^^^^^^^^^ constraint-unchecked: this constraint is kept but not used in solving yet
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! By hand: check the puzzle's solution elsewhere; `allow constraint-unchecked "why"` says that you know.

use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "constraint-unchecked",
    group: Group::Puzzles,
    severity: Severity::Info,
    check: Check::Puzzle(check),
    source: include_str!("constraint_unchecked.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let Some((&first, others)) = scene.puzzle.unused_constraints.split_first() else { return Vec::new() };
    let message =
        "this constraint is kept but not used in solving yet, so the puzzle's solutions are not counted";
    let draft = Draft::new(first, message, "check the solution elsewhere");
    vec![others.iter().fold(draft, |draft, &other| draft.beside(other, "not used yet either"))]
}
