//! The search ended at its budget, so it is not known whether the puzzle has exactly one solution.
//!
//! ## Why
//! Counting the solutions of a large grid with few givens can take longer than anyone waits. The search counts the
//! digits that it tries and stops at a limit, the same on every machine; it then says what it found so far, which
//! proves neither that there is one solution nor that there are more. The same is said of `minimal` where the limit
//! was reached before every given had been looked at.
//!
//! ## Found
//! By hand: a puzzle that shows it is large, such as a 25x25 grid with few givens.
//!
//! ## Fixed
//! By hand: add givens, or let `solve` search further with a larger `--budget`.

use super::wording::counted;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::book::Verdict;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "undecided",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("undecided.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    solutions(scene).into_iter().chain(minimal(scene)).collect()
}

fn solutions(scene: &PuzzleScene) -> Option<Draft> {
    let Verdict::Undecided(outcome) = scene.verdict() else { return None };
    let found = match outcome.count {
        0 => "no solution yet".to_owned(),
        count => counted(count, "solution"),
    };
    let message = format!(
        "whether this puzzle has exactly one solution is not known: the search had found {found} when it stopped after {}",
        counted(outcome.nodes, "trial")
    );
    Some(Draft::new(
        scene.givens_word(),
        message,
        "search further with `solve` and a larger `--budget`, or add givens",
    ))
}

fn minimal(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, _) = scene.claim(|facts| &facts.minimal)?;
    let spare = scene.spare()?;
    (spare.undecided && spare.cells.is_empty()).then(|| {
        let message = "whether every given is needed is not known: the search stopped before it had looked at all of them";
        Draft::new(scene.claim_span(fact), message, "take `minimal` out, or leave it if you know it from elsewhere")
    })
}
