//! A puzzle stands in the collection twice, perhaps in another dress.
//!
//! ## Why
//! Readers feel cheated by a puzzle that they have solved before, also where it was turned, its lines have traded
//! places, or its digits have other names. Compared are all puzzles with exactly one solution, of all files that are
//! looked at together. A puzzle that is meant to come again says `repeats ID "how"`.
//!
//! ## Found
//! ```gset
//! puzzle ht-20 "Early Tram"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//!
//! puzzle ht-21 "Late Tram"
//! #<^^^^^^^^^^^^^^^^^^^^^^ repeated-puzzle: this is `ht-20` again: with 2 for 1, 1 for 2, 4 for 3, 3 for 4
//! size       4
//! givens
//!   1 .  2 .
//!   . .  . .
//!   . .  . .
//!   . 4  . 3
//! ```
//!
//! ## Fixed
//! By hand: take one of the two out, or write `repeats ht-20 "with other digits"` in the second, if it is meant.

use super::same::{Again, again, called};
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Puzzle, SectionId, Spot, Workspace};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "repeated-puzzle",
    group: Group::Books,
    severity: Severity::Warning,
    check: Check::Workspace(check),
    source: include_str!("repeated_puzzle.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let unmeant = again(workspace).into_iter().filter(|again| !is_meant(again));
    unmeant.map(|again| (again.section, draft(&again))).collect()
}

/// Whether one of the two says that it is the other.
fn is_meant(again: &Again) -> bool {
    let says = |one: &Puzzle, other: &Puzzle| {
        let said = one.facts.repeats.as_ref().map(|repeats| &*repeats.value);
        said.is_some() && said == other.id.as_ref().map(|id| id.text.as_str())
    };
    let (own, (_, first)) = (again.puzzle, again.first);
    says(own, first) || says(first, own)
}

fn draft(again: &Again) -> Draft {
    let (section, first) = again.first;
    let givens = first.givens.as_ref().map(|board| again.how.told(&board.grid)).unwrap_or_default();
    let message = format!("this is {} again: {givens}", called(first));
    let help = "take one of the two out, or say by `repeats` that it is meant";
    let there = Spot { section, span: first.head };
    Draft::new(again.puzzle.head, message, help).elsewhere(there, "it stands here first")
}
