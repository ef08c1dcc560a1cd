//! The search ended at its budget, so it is not known whether the puzzle has exactly one solution.
//!
//! ## Why
//! Counting the solutions of a large grid with few givens can take longer than anyone waits. The search counts the
//! digits that it tries and stops at a limit, the same on every machine; it then says what it found so far, which
//! proves neither that there is one solution nor that there are more. The same is said of `minimal` where the limit
//! was reached before every given had been looked at.
//!
//! ## Found
//! A large grid with few givens shows it, such as one of 25x25. Eight slanting houses make a small one hard to count.
//! ```gset
//! puzzle ht-18 "Slopes"
//! size       8
//! house      slope1 r1c1 r2c8 r3c7 r4c6 r5c5 r6c4 r7c3 r8c2
//! house      slope2 r1c2 r2c1 r3c8 r4c7 r5c6 r6c5 r7c4 r8c3
//! house      slope3 r1c3 r2c2 r3c1 r4c8 r5c7 r6c6 r7c5 r8c4
//! house      slope4 r1c4 r2c3 r3c2 r4c1 r5c8 r6c7 r7c6 r8c5
//! house      slope5 r1c5 r2c4 r3c3 r4c2 r5c1 r6c8 r7c7 r8c6
//! house      slope6 r1c6 r2c5 r3c4 r4c3 r5c2 r6c1 r7c8 r8c7
//! house      slope7 r1c7 r2c6 r3c5 r4c4 r5c3 r6c2 r7c1 r8c8
//! house      slope8 r1c8 r2c7 r3c6 r4c5 r5c4 r6c3 r7c2 r8c1
//! givens
//! #<^^^^ undecided: whether this puzzle has exactly one solution is not known: the search had found no solution yet
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//!   . . . .  . . . .
//! ```
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
    let (fact, _) = scene.claim(|facts| facts.minimal.as_ref())?;
    let spare = scene.spare()?;
    (spare.undecided && spare.cells.is_empty()).then(|| {
        let message = "whether every given is needed is not known: the search stopped before it had looked at all of them";
        Draft::new(scene.claim_span(fact), message, "take `minimal` out, or leave it if you know it from elsewhere")
    })
}
