//! Braces in prose hold what is neither a claim, cells, a house, a pattern nor an id.
//!
//! ## Why
//! What stands in braces is checked, and is printed in the book's own way of naming: `{box 4}` may become "the middle box
//! on the left". What reads as none of these can be neither checked nor printed so.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   Look for a {hidden pear}.
//! #~            ^^^^^^^^^^^ reference-unknown: `hidden pear` in braces is neither
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   Look for a {hidden pair}.
//! givens
//! ```

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};
use crate::ladder::nearest;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "reference-unknown",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("reference_unknown.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::ReferenceUnknown(words) = &fault.kind else { return None };
    let message =
        format!("`{}` in braces is neither a claim, cells, a house, a pattern nor an id", shown(words));
    Some(match nearest(words) {
        Some(near) => Draft::new(fault.span, message, format!("write `{near}`, if that is meant"))
            .propose(format!("write `{near}`"), vec![(fault.span, near.to_owned())]),
        None => Draft::new(fault.span, message, "write one of these, or `{{` if only a brace is meant"),
    })
}
