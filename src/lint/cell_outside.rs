//! A cell is named that the grid does not have.
//!
//! ## Why
//! Rows and columns are counted from 1 up to the size. Up to size 9 each figure is a row or column of its own, so `r10c1` is
//! rows 1 and 0.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   r10c1 not 4
//! #~^^^^^ cell-outside: a 9x9 grid has no cell `r10c1`
//! givens
//! ```
//!
//! ## Fixed
//! By hand: write a cell of the grid.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "cell-outside",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("cell_outside.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::CellOutside(side) = fault.kind else { return None };
    Some(Draft::new(
        fault.span,
        format!("a {side}x{side} grid has no cell `{}`", shown(scene.at(fault.span))),
        format!("name a cell from r1c1 to r{side}c{side}"),
    ))
}
