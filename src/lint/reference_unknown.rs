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

use super::ids::{Ids, references};
use super::wording::shown;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{SectionId, Workspace};
use crate::ladder::{named, nearest};

pub static FINDING: Finding = Finding {
    name: "reference-unknown",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("reference_unknown.rs"),
};

/// Whether words in braces that nothing is called are meant as an id, and not as a pattern's name.
pub(super) fn is_id_like(words: &str) -> bool {
    named(words).is_none()
        && nearest(words).is_none()
        && words.contains(|c: char| c.is_ascii_digit() || c == '-')
        && words.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.'))
}

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let ids = Ids::of(workspace);
    let mut drafts = Vec::new();
    for (section_id, section, _) in workspace.sections() {
        for reference in references(section).iter().filter(|reference| reference.in_braces) {
            let (span, words) = (reference.id, section.at(reference.id));
            if named(words).is_some() || !ids.bearers(words).is_empty() || is_id_like(words) {
                continue;
            }
            let message =
                format!("`{}` in braces is neither a claim, cells, a house, a pattern nor an id", shown(words));
            drafts.push((section_id, match nearest(words) {
                Some(near) => Draft::new(span, message, format!("write `{near}`, if that is meant"))
                    .propose(format!("write `{near}`"), vec![(span, near.to_owned())]),
                None => Draft::new(span, message, "write one of these, or no braces: a brace by itself is written `{{`"),
            }));
        }
    }
    drafts
}
