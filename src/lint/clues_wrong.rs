//! The grid has another number of givens than `clues` says.
//!
//! ## Why
//! `clues 26` or `clues 22-26` is a promise about each puzzle that it holds for. A number that is off by one is often
//! the first sign of a given that was lost or typed into the wrong cell.
//!
//! ## Found
//! ```gset
//! puzzle ht-10 "Count Again"
//! size       4
//! clues      5
//! #<^^^^^^^^^^ clues-wrong: the grid has 4 givens, not 5
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-10 "Count Again"
//! size       4
//! clues      4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::wording::counted;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "clues-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("clues_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| facts.clues.as_ref())?;
    let (least, most) = (usize::from(fact.value.0), usize::from(fact.value.1));
    let found = givens.grid.filled();
    if (least..=most).contains(&found) {
        return None;
    }
    let said = if least == most { least.to_string() } else { format!("{least} to {most}") };
    let message = format!("the grid has {}, not {said}", counted(found, "given"));
    let help = "look for a given that is lost or one too many, or change the number";
    let draft = Draft::new(scene.claim_span(fact), message, help);
    Some(match scene.claim_value(fact, Keyword::Clues) {
        Some(value) => draft.propose(format!("write `clues {found}`"), vec![(value, found.to_string())]),
        None => draft,
    })
}
