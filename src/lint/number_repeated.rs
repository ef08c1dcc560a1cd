//! Two puzzles of a file have the same printed number.
//!
//! ## Why
//! Readers find a puzzle, and its answer at the end of the book, by its number.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! number     7
//! givens
//!
//! puzzle lm-02 "Rain Barrel"
//! number     7
//! #<^^^^^^^^^^ number-repeated: number 7 is given already to `lm-01`
//! givens
//! ```
//!
//! ## Fixed
//! By hand: give one of them another number.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Puzzle, SectionId, Spot, Workspace};
use std::collections::BTreeMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "number-repeated",
    group: Group::Items,
    severity: Severity::Warning,
    check: Check::Workspace(check),
    source: include_str!("number_repeated.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let mut first: BTreeMap<(usize, u32), (Spot, &Puzzle)> = BTreeMap::new();
    let mut drafts = Vec::new();
    for (section, _, puzzle) in workspace.puzzles() {
        let Some(number) = puzzle.facts.number.as_ref().filter(|number| number.own) else { continue };
        let spot = Spot { section, span: number.span };
        let Some((earlier, other)) = first.get(&(section.book, number.value)) else {
            first.insert((section.book, number.value), (spot, puzzle));
            continue;
        };
        let whose =
            other.id.as_ref().map_or("another puzzle".to_owned(), |id| format!("`{}`", shown(&id.text)));
        let message = format!("number {} is given already to {whose}", number.value);
        let draft = Draft::new(number.span, message, "give one of them another number");
        drafts.push((section, draft.elsewhere(*earlier, "it is given here first")));
    }
    drafts
}
