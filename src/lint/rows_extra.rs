//! A grid has more rows than its size.
//!
//! ## Why
//! A grid of size 9 has nine rows. With another one it cannot be told which of them is too many, so the puzzle is not judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//!   . 3  . .
//! #~^^^^^^^^ rows-extra: this grid has 5 rows, and needs 4
//! ```
//!
//! ## Fixed
//! By hand: take out the row that is too many, or begin another puzzle with its own `puzzle` line above it.

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "rows-extra",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("rows_extra.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::RowsExtra { found, needed } = fault.kind else { return None };
    Some(Draft::new(
        fault.span,
        format!("this grid has {}, and needs {needed}", counted(found, "row")),
        format!("take out {}, or say another `size`", counted(found - needed, "row")),
    ))
}
