//! The puzzle takes a pattern that it is said to do without.
//!
//! ## Why
//! `avoids naked single` promises a reader who does not know the pattern that it is never needed: of the shortest
//! beginning of the ladder that finishes the puzzle, leave it out, and the puzzle still finishes.
//!
//! ## Found
//! ```gset
//! puzzle ht-42 "Not on Sundays"
//! size       4
//! avoids     hidden singles
//! #~         ^^^^^^^^^^^^^^ avoids-wrong: without a hidden single 12 cells stay open
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! By hand: change the puzzle, or take the pattern out of the list.

use super::wording::{counted, one};
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "avoids-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("avoids_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    found(scene).unwrap_or_default()
}

fn found(scene: &PuzzleScene) -> Option<Vec<Draft>> {
    let (fact, _) = scene.claim(|facts| facts.avoids.as_deref())?;
    let (grader, givens) = scene.grader()?;
    // Whether what the ladder does not finish would take this one is not known.
    let hardest = scene.hardest()??;
    let taken = fact.value.iter().filter_map(|(name, span)| {
        let open = grader.open_without(givens, hardest, name);
        let stay = if open == 1 { "stays" } else { "stay" };
        let message = format!("without {} {} {stay} open", one(name), counted(open, "cell"));
        let place = if fact.own { *span } else { scene.claim_span(fact) };
        let help = "change the puzzle, or take the pattern out of the list";
        (open > 0).then(|| Draft::new(place, message, help))
    });
    Some(taken.collect())
}
