//! A statement that can be said once is said again.
//!
//! ## Why
//! A puzzle has one level, one size, one grid of givens. Where such a statement stands twice, the one who reads it cannot
//! tell which is meant.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! level      3
//! level      4
//! #<^^^ repeated-statement: `level` is said again, and can be said once in a puzzle
//! givens
//! ```
//!
//! ## Fixed
//! By hand: keep the one that is meant and take the other out; or give the second of two sheets or walks a name of its own.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Once};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "repeated-statement",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("repeated_statement.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::RepeatedStatement(keyword, first) = fault.kind else { return None };
    let word = keyword.word();
    let (once, help) = match keyword.shape().once {
        Once::File => ("once in a file", "keep the one that is meant"),
        Once::Name => (
            "once by each name in a puzzle",
            "give this one a name of its own, or keep the one that is meant",
        ),
        Once::Item | Once::Free => ("once in a puzzle", "keep the one that is meant"),
    };
    let message = format!("`{word}` is said again, and can be said {once}");
    Some(Draft::new(fault.span, message, help).beside(first, "it is said here first"))
}
