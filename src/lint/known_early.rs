//! A remembered fact does not follow from what stands beside it.
//!
//! ## Why
//! It may be so, and nobody could know it from this sheet: a fact before it is missing, or it was guessed. Each fact follows from
//! the digits and closed marks of the sheet and from the facts above it, by one step of a pattern up to level 4.
//!
//! ## Found
//! ```gset
//! puzzle wk-02 "Wrong Stop"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! known
//!   r2c2 = 4
//! #~^^^^^^^^ known-early: this does not follow yet: 3 facts must come first
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle wk-02 "Wrong Stop"
//! size       4
//! givens
//!   1 .  . 4
//!   . .  1 .
//!   2 .  . .
//!   . .  . 3
//! known
//!   r1c3 = 3
//!   r1c2 = 2
//!   r3c2 = 3
//!   r2c2 = 4
//! ```

use super::recollection::{Wrong, wrong};
use super::wording::{counted, joined};
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::replay::Recollection;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "known-early",
    group: Group::Sheets,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("known_early.rs"),
};

/// So many missing facts are named in the message; more are counted.
const NAMED: usize = 2;

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let is_early = |wrong: Wrong| match &wrong.what {
        Recollection::Early(Some(bridge)) => {
            let missing = if bridge.lines.len() > NAMED {
                counted(bridge.lines.len(), "fact")
            } else {
                joined(&bridge.lines.iter().map(|line| format!("`{line}`")).collect::<Vec<_>>())
            };
            let message = format!("this does not follow yet: {missing} must come first");
            let draft = Draft::new(wrong.span, message, "write down what comes first, or take this out");
            let title =
                if bridge.lines.len() == 1 { "write the missing fact" } else { "write the missing facts" };
            Some(draft.propose(title, vec![wrong.put_before(scene, &bridge.lines)]))
        }
        Recollection::Early(None) => {
            let message = "this does not follow from the sheet, and no step up to level 4 leads to it";
            Some(Draft::new(wrong.span, message, "take it out, or write down what it follows from"))
        }
        Recollection::False(_) => None,
    };
    wrong(scene).into_iter().filter_map(is_early).collect()
}
