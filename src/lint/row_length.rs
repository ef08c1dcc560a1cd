//! A row has fewer or more cells than the grid's size.
//!
//! ## Why
//! A missing cell moves all that stand behind it, and the puzzle is then another one. So a grid with such a row is not
//! judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  .
//! #~^^^^^^ row-length: this row has 3 cells, and the grid needs 4
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! ```
//!
//! ## Fixed
//! By hand: write the cells that are missing, with `.` for an empty one, or take out those that are too many.

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "row-length",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("row_length.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    match fault.kind {
        FaultKind::RowLength { found, needed, sheet } => {
            let message = format!("this row has {}, and the grid needs {needed}", counted(found, "cell"));
            let help = match (sheet, found < needed) {
                (true, true) => {
                    "part the cells by blanks, with `.` for an empty one: a missing blank joins two"
                }
                (true, false) => "write the marks of a cell in one piece: a blank parts two cells",
                (false, true) => "write one symbol for each cell, with `.` for an empty one",
                (false, false) => "take out what is too much, or say another `size`",
            };
            Some(Draft::new(fault.span, message, help))
        }
        FaultKind::ListLength(found) => Some(Draft::new(
            fault.span,
            format!(
                "this line has {}, and no grid has so many cells: 81 make a grid of size 9",
                counted(found, "symbol")
            ),
            "write one symbol for each cell, with `.` or `0` for an empty one",
        )),
        _ => None,
    }
}
