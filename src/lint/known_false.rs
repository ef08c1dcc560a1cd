//! A remembered fact is not so.
//!
//! ## Why
//! What stands in `known` beside a sheet is held against the puzzle's one solution: whoever goes on from it goes astray. Of
//! a lesson, which need not be a puzzle, some solution of its position contradicts it.
//!
//! ## Found
//! ```gset
//! puzzle wk-01 "Night Bus"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! known
//!   r1c2 not 2
//! #~^^^^^^^^^^ known-false: r1c2 holds 2 in the solution
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle wk-01 "Night Bus"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! known
//! ```

use super::recollection::{Wrong, wrong};
use super::walk::against;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::replay::Recollection;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "known-false",
    group: Group::Sheets,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("known_false.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let is_false = |wrong: Wrong| match wrong.what {
        Recollection::False(counter) => {
            let layout = scene.puzzle.layout.as_deref()?;
            let message = against(counter, scene.puzzle, layout);
            let draft =
                Draft::new(wrong.span, message, "take it out, and what was concluded from it").spoiling();
            Some(draft.propose("take it out", vec![wrong.take_out(scene)]))
        }
        Recollection::Early(_) => None,
    };
    wrong(scene).into_iter().filter_map(is_false).collect()
}
