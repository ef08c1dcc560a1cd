//! A puzzle is not the one that `repeats` says it is.
//!
//! ## Why
//! `repeats ID "how"` says that a puzzle is another one in another dress, on purpose. If it is not, either the id is
//! wrong, or a digit was changed after the puzzle was turned, so that one of the two is not what it was meant to be.
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
//! puzzle ht-22 "Night Tram"
//! size       4
//! repeats    ht-20 "turned by half"
//! #<^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ repeats-wrong: this is not `ht-20`
//! givens
//!   2 4  . .
//!   3 .  . .
//!   . .  . 1
//!   . .  2 4
//! ```
//!
//! ## Fixed
//! By hand: write the id of the puzzle that it is, mend the grid, or take the line out.

use super::place::values_of;
use super::same::{called, compared};
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Puzzle, SectionId, Spot, Workspace};
use crate::notation::Keyword;
use crate::sameness::Form;
use std::cell::LazyCell;
use std::collections::HashMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "repeats-wrong",
    group: Group::Books,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("repeats_wrong.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    // Where nothing is wrong, nothing is gathered.
    let all = LazyCell::new(|| by_form(workspace));
    let saying = workspace.puzzles().filter_map(|(section, _, puzzle)| {
        let fact = puzzle.facts.repeats.as_ref().filter(|fact| fact.own)?;
        let (there, other) = workspace.find(&fact.value)?;
        let itself = std::ptr::eq(puzzle, other);
        let ((_, _, own), (_, _, its)) = (puzzle.form()?.ok()?, other.form()?.ok()?);
        if own == its && !itself {
            return None;
        }
        let message = if itself {
            "a puzzle is always itself, and need not say so".to_owned()
        } else {
            format!(
                "this is not {}: no order of its lines and no names for its digits make it this puzzle",
                called(other)
            )
        };
        let help = "write the id of the puzzle that it is, mend the grid that is wrong, or take the line out";
        let mut draft = Draft::new(fact.span, message, help);
        if !itself {
            draft = draft.elsewhere(Spot { section: there, span: other.head }, "the puzzle that is named");
        }
        let right = all[own].iter().find(|one| !std::ptr::eq(**one, puzzle));
        let id = right.and_then(|one| one.id.as_ref());
        let values = values_of(workspace.section(section), fact, Keyword::Repeats);
        if let (Some(id), Some(place)) = (id, values.and_then(<[_]>::first)) {
            draft = draft.propose(format!("write `{}`", id.text), vec![(place.span, id.text.clone())]);
        }
        Some((section, draft))
    });
    saying.collect()
}

/// The puzzles of each form, as far as it takes to find one that is not a certain one: the first two.
fn by_form(workspace: &Workspace) -> HashMap<&Form, Vec<&Puzzle>> {
    let mut by_form: HashMap<&Form, Vec<&Puzzle>> = HashMap::new();
    for one in compared(workspace) {
        let same = by_form.entry(one.form.2).or_default();
        if same.len() < 2 {
            same.push(one.puzzle);
        }
    }
    by_form
}
