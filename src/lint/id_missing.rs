//! A puzzle, lesson or answer has no id.
//!
//! ## Why
//! By its id a puzzle is found: its answer, the lessons that start from it, prose and other files name it so. A title can
//! change with a whim, and two puzzles can have the same.
//!
//! ## Found
//! ```gset
//! ids        lm-01
//!
//! puzzle "Lamp Oil"
//! #<^^^^ id-missing: this puzzle has no id
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
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{SectionId, Workspace};
use crate::notation::{FaultKind, Keyword, Span};
use std::cell::LazyCell;
use std::collections::BTreeMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "id-missing",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("id_missing.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let ids = LazyCell::new(|| Ids::of(workspace)); // seldom is one missing
    let mut taken = BTreeMap::new();
    let mut drafts = Vec::new();
    for (id, section, _) in workspace.sections() {
        for fault in &section.faults {
            let FaultKind::IdMissing(keyword) = fault.kind else { continue };
            let first = (keyword == Keyword::Puzzle).then(|| first_id(&workspace.books[id.book])).flatten();
            let next = first.as_deref().and_then(Shape::of).and_then(|shape| ids.next(&shape, &mut taken));
            drafts.push((id, draft(fault.span, keyword, next)));
        }
    }
    drafts
}

fn draft(span: Span, keyword: Keyword, next: Option<String>) -> Draft {
    let word = keyword.word();
    let (message, help) = match keyword {
        Keyword::Answer => (
            "this answer does not say which puzzle it is of".to_owned(),
            "write the puzzle's id after `answer`".to_owned(),
        ),
        _ => (
            format!("this {word} has no id, by which answers, lessons and prose could name it"),
            format!(
                "write an id after `{word}`, before the title, such as `{}`",
                next.as_deref().unwrap_or("lk-007")
            ),
        ),
    };
    let draft = Draft::new(span, message, help);
    match next {
        None => draft,
        Some(next) => {
            let end = Span { start: span.end, ..span };
            draft.propose(format!("write `{next}`, the next free id"), vec![(end, format!(" {next}"))])
        }
    }
}
