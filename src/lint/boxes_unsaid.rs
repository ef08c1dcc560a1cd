//! A grid is of a size that has no usual boxes, and no statement says which it has.
//!
//! ## Why
//! Where nothing is said, a grid of size 6 has boxes of 2 rows and 3 columns, one of size 9 has 3 by 3, and so on. Other
//! sizes have no usual boxes, and some, such as 7, have none at all and need drawn regions.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       14
//! #<^^^^^^^^^^^ boxes-unsaid: a 14x14 grid has no usual boxes, and nothing says which it has
//! givens
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//!   . . . . . . . . . . . . . .
//! ```
//!
//! ## Fixed
//! By hand: write `boxes 2x7`, rows by columns, or `regions` and below it the grid with one letter for each region.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "boxes-unsaid",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("boxes_unsaid.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::BoxesUnsaid(side) = fault.kind else { return None };
    let regions = "`regions` and below it the grid with one letter for each region";
    let help = match (2..side).rev().find(|rows| rows * rows <= side && side % rows == 0) {
        Some(rows) => format!("write `boxes {rows}x{}` (rows by columns), or {regions}", side / rows),
        None => format!("write {regions}: {side} has no divisor, so there can be no boxes"),
    };
    let message = format!("a {side}x{side} grid has no usual boxes, and nothing says which it has");
    Some(Draft::new(fault.span, message, help))
}
