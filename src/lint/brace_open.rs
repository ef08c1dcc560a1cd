//! A brace in prose is opened and not closed on its line.
//!
//! ## Why
//! Braces in prose hold what is checked against the puzzle: cells, a house, a claim, an id. Without the
//! closing one it cannot be told where such a reference ends, so it is printed as it stands, unchecked.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   Begin with {row 3, which is nearly full.
//! #~           ^ brace-open: this `{` is not closed
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! note
//!   Begin with {{row 3, which is nearly full.
//! givens
//! ```

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "brace-open",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("brace_open.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    if fault.kind != FaultKind::BraceOpen {
        return None;
    }
    let start = fault.span.start as usize;
    Some(
        Draft::new(
            fault.span,
            "this `{` is not closed, so what stands behind it is not checked",
            "close it with `}` where the reference ends, or write `{{` if only a brace is meant",
        )
        .propose("write `{{`, a brace and no reference", vec![(Span::new(start, start), "{".to_owned())]),
    )
}
