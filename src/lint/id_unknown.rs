//! An id is named that no puzzle and no lesson bears.
//!
//! ## Why
//! An answer, a lesson's start or a reference in prose must lead somewhere: in the book it would be printed as a number,
//! and here there is none.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   The same look helps in {lm-10}.
//! #~                        ^^^^^ id-unknown: no puzzle or lesson bears the id `lm-10`
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   The same look helps in {lm-01}.
//! givens
//! ```

use super::finding::line_at;
use super::ids::Ids;
use super::wording::{either, shown};
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{ReferenceBy, SectionId, Spot, Workspace};
use crate::notation::Span;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "id-unknown",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("id_unknown.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let mut references = workspace.references().peekable();
    if references.peek().is_none() {
        return Vec::new();
    }
    let mut ids = Ids::of(workspace);
    if ids.may_be_lost() {
        return Vec::new();
    }
    let mut drafts = Vec::new();
    let mut said = None;
    for reference in references {
        let id = reference.id;
        if reference.by == ReferenceBy::Repeats || !ids.bearers(id).is_empty() {
            continue;
        }
        // One a line is enough: who mends it sees the others too.
        let Spot { section, span } = reference.spot;
        let line = line_at(workspace.section(section), span.start);
        if said.replace((section, line)) == Some((section, line)) {
            continue;
        }
        // In braces the same word may be a slip of the pen for a pattern's name.
        let may_be_pattern = reference.by == ReferenceBy::Brace && reference.point.is_none();
        drafts.push((section, draft(span, id, &ids.near(id, may_be_pattern))));
    }
    drafts
}

fn draft(span: Span, id: &str, near: &[&str]) -> Draft {
    let message = format!("no puzzle or lesson bears the id `{}`", shown(id));
    let help = match near {
        [] => "write the id of a puzzle or lesson of the files that are looked at together".to_owned(),
        _ => format!("write {}, if that is meant", either(near)),
    };
    let propose = |draft: Draft, near: &&str| {
        draft.propose(format!("write `{near}`"), vec![(span, (*near).to_owned())])
    };
    near.iter().fold(Draft::new(span, message, help), propose)
}
