//! The puzzle cannot be finished by scanning as is said.
//!
//! ## Why
//! `scanning` promises that the puzzle can be solved with nothing written but digits, and `held 1` that never more than
//! one fact has to be remembered at once. `gridsetter walk` tells the walk on which it was tried.
//!
//! ## Found
//! ```gset
//! puzzle ht-43 "By Heart"
//! size       6
//! scanning   held 0
//! #<^^^^^^^^^^^^^^^ scanning-wrong: scanning takes 1 fact remembered at once, and not 0
//! givens
//!   . . 6  4 5 .
//!   . . .  . . .
//!   2 6 .  . . 5
//!   4 . 5  . 3 .
//!   . . 4  . 1 .
//!   . . .  3 . .
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-43 "By Heart"
//! size       6
//! scanning   held 1
//! givens
//!   . . 6  4 5 .
//!   . . .  . . .
//!   2 6 .  . . 5
//!   4 . 5  . 3 .
//!   . . 4  . 1 .
//!   . . .  3 . .
//! ```

use super::wording::counted;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "scanning-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("scanning_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, _) = scene.claim(|facts| facts.scanning.as_ref())?;
    let (grader, givens) = scene.grader()?;
    let grade = grader.scanning(givens);
    let said = |message| {
        Draft::new(
            scene.claim_span(fact),
            message,
            "change the puzzle or the claim; `gridsetter walk` tells the walk",
        )
    };
    if !grade.finished {
        return Some(said(format!("scanning gets stuck with {} open", counted(grade.open, "cell"))));
    }
    let most = fact.value.filter(|most| grade.held > *most)?;
    let held = counted(grade.held, "fact");
    let draft = said(format!("scanning takes {held} remembered at once, and not {most}"));
    Some(match scene.claim_value(fact, Keyword::Scanning) {
        Some(value) => draft.propose(
            format!("write `scanning held {}`", grade.held),
            vec![(value, format!("held {}", grade.held))],
        ),
        None => draft,
    })
}
