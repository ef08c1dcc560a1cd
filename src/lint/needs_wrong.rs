//! The puzzle can be finished without a pattern that it is said to need.
//!
//! ## Why
//! A lesson about hidden pairs wants puzzles that take one. `needs` is meant so: of the shortest beginning of the ladder
//! that finishes the puzzle, leave this pattern out, and it finishes no more. A dearer pattern might do instead of it;
//! that does not count.
//!
//! ## Found
//! ```gset
//! puzzle ht-41 "No Tickets Needed"
//! size       4
//! needs      hidden pair
//! #~         ^^^^^^^^^^^ needs-wrong: it finishes without a hidden pair: the hardest it takes is a box hidden single
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! By hand: change the puzzle, or take the pattern out of the list.

use super::wording::one;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "needs-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("needs_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    found(scene).unwrap_or_default()
}

fn found(scene: &PuzzleScene) -> Option<Vec<Draft>> {
    let (fact, _) = scene.claim(|facts| facts.needs.as_deref())?;
    let (grader, givens) = scene.grader()?;
    // What the ladder does not finish may well need this one.
    let hardest = scene.hardest()??;
    let not_needed = fact.value.iter().filter(|(name, _)| grader.open_without(givens, hardest, name) == 0);
    let draft = |(name, span): &(&'static str, _)| {
        let message = format!("it finishes without {}: the hardest it takes is {}", one(name), one(hardest));
        let place = if fact.own { *span } else { scene.claim_span(fact) };
        Draft::new(place, message, "change the puzzle, or take the pattern out of the list")
    };
    Some(not_needed.map(draft).collect())
}
