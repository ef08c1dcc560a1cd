//! A grid holds a symbol that is no digit of its size.
//!
//! ## Why
//! A grid of size 6 has the digits 1 to 6, one of size 16 has 1 to 9 and A to G. Another symbol is a slip, or the size is.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  7 .
//! #~     ^ symbol-outside: `7` is no digit of a 4x4 grid, whose digits are 1 to 4
//!   . 3  . .
//!   . .  . 4
//! ```
//!
//! ## Fixed
//! By hand: write the digit that is meant, or say another `size`.

use super::wording::{digits_of, shown};
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "symbol-outside",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("symbol_outside.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::SymbolOutside(symbol, side) = fault.kind else { return None };
    let symbol = shown(&symbol.to_string());
    Some(Draft::new(
        fault.span,
        format!("`{symbol}` is no digit of a {side}x{side} grid, whose digits are {}", digits_of(side)),
        "write the digit that is meant, `.` for an empty cell, or say another `size`",
    ))
}
