//! A puzzle's id has another shape than the file says that its ids have.
//!
//! ## Why
//! `ids` shows the first id of a file, whose digits at the end count: by it the next free id can be offered. An id that is
//! written otherwise is easily a slip, and sorts out of place.
//!
//! ## Found
//! ```gset
//! ids        lm-01
//!
//! puzzle lm-1 "Lamp Oil"
//! #~     ^^^^ id-shape: the id `lm-1` has not the shape of `lm-01`
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! ids        lm-01
//!
//! puzzle lm-01 "Lamp Oil"
//! givens
//! ```

use super::ids::{Ids, Shape, first_id};
use super::wording::shown;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{SectionId, Workspace};
use std::collections::BTreeMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "id-shape",
    group: Group::Items,
    severity: Severity::Warning,
    check: Check::Workspace(check),
    source: include_str!("id_shape.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let first_ids: Vec<Option<String>> = workspace.books.iter().map(first_id).collect();
    if first_ids.iter().all(Option::is_none) {
        return Vec::new();
    }
    let ids = Ids::of(workspace);
    let mut taken = BTreeMap::new();
    let mut drafts = Vec::new();
    // Lessons are not counted: their ids are names.
    for (section, _, puzzle) in workspace.puzzles().filter(|(_, _, puzzle)| !puzzle.lesson) {
        let (Some(id), Some(first)) = (&puzzle.id, &first_ids[section.book]) else { continue };
        let Some(shape) = Shape::of(first).filter(|shape| !shape.fits(&id.text)) else { continue };
        let message = format!(
            "the id `{}` has not the shape of `{}`, which `ids` shows for this file",
            shown(&id.text),
            shown(first)
        );
        let draft = Draft::new(id.span, message, "write it in that shape, or change `ids`");
        let draft = match ids.next(&shape, &mut taken) {
            None => draft,
            Some(next) => draft.propose(format!("write `{next}`, the next free id"), vec![(id.span, next)]),
        };
        drafts.push((section, draft));
    }
    drafts
}
