//! A puzzle says things about itself and has no grid.
//!
//! ## Why
//! Level, clues and patterns are said of a grid of givens, and there is none that they could be checked against. A puzzle
//! of which nothing is said yet is still to come, and is no mistake.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! #<^^^^^^^^^^^^^^^^^^^^^ grid-missing: this puzzle has no `givens`
//! level      3
//! ```
//!
//! ## Fixed
//! By hand: write `givens` and the grid below it, one row a line.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "grid-missing",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("grid_missing.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    (fault.kind == FaultKind::GridMissing).then(|| {
        Draft::new(
            fault.span,
            "this puzzle has no `givens` that what is said of it could be checked against",
            "write `givens` and below it the grid, one row a line",
        )
    })
}
