//! A grid has fewer rows than its size.
//!
//! ## Why
//! A grid of size 9 has nine rows of nine cells. Without all of them it cannot be told which row is missing, so the puzzle is
//! not judged. While a grid is typed this is how it looks, and it goes away with the last row.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//! #~^^^^^^^^ rows-missing: this grid ends after 3 rows, and needs 4
//! ```
//!
//! ## Fixed
//! By hand: write the row that is missing; a row of empty cells is a row of dots.

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "rows-missing",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("rows_missing.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::RowsMissing { found, needed } = fault.kind else { return None };
    let message = match found {
        0 => format!("this grid has no rows, and needs {needed}"),
        _ => format!("this grid ends after {}, and needs {needed}", counted(found, "row")),
    };
    Some(Draft::new(
        fault.span,
        message,
        format!("write {} more; a row of empty cells is a row of dots", counted(needed - found, "row")),
    ))
}
