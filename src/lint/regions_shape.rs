//! The regions do not divide the grid into houses.
//!
//! ## Why
//! Each region is a house: it holds every digit once, so it has as many cells as the grid's side, and they hang together
//! by their sides.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! regions
//! #<^^^^^ regions-shape: the regions do not divide the grid into houses: region C has 5 cells
//!   A A B B
//!   A A B B
//!   C C C D
//!   C C D D
//! givens
//!   1 . . .
//!   . . 2 .
//!   . 3 . .
//!   . . . 4
//! ```
//!
//! ## Fixed
//! By hand: give a cell of the region that is too large the letter of its neighbour that is too small.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "regions-shape",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("regions_shape.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::RegionsShape(why) = &fault.kind else { return None };
    Some(Draft::new(
        fault.span,
        format!("the regions do not divide the grid into houses: {why}"),
        "give each region as many cells as the grid has rows, all hanging together by their sides",
    ))
}
