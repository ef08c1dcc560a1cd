//! Two puzzles or lessons bear the same id.
//!
//! ## Why
//! An answer, a lesson or a reference in prose that names this id could mean either. So an id is borne once in all files
//! that are looked at together.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! givens
//!
//! puzzle lm-01 "Rain Barrel"
//! #~     ^^^^^ id-repeated: the id `lm-01` is borne already by another puzzle
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! givens
//!
//! puzzle lm-02 "Rain Barrel"
//! givens
//! ```

use super::ids::{Ids, Shape};
use super::wording::shown;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{SectionId, Workspace};
use std::collections::BTreeMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "id-repeated",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("id_repeated.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let ids = Ids::of(workspace);
    let mut taken = BTreeMap::new();
    let drafts = ids.repeated().map(|(again, first)| {
        let (id, span) = (&again.name.text, again.name.span);
        let what = if first.puzzle.lesson { "lesson" } else { "puzzle" };
        let message = format!("the id `{}` is borne already by another {what}", shown(id));
        let draft = Draft::new(span, message, "give one of the two another id")
            .elsewhere(first.spot(), "it is borne here first");
        let draft = match Shape::of(id).and_then(|shape| ids.next(&shape, &mut taken)) {
            None => draft,
            Some(next) => draft.propose(format!("write `{next}`, the next free id"), vec![(span, next)]),
        };
        (again.section, draft)
    });
    drafts.collect()
}
