//! A digit is named that the puzzle does not have.
//!
//! ## Why
//! A grid of size 6 has the digits 1 to 6, one of size 16 has 1 to 9 and A to G. A claim about another one can never hold.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   r1c1 not A
//! #~         ^ digit-outside: a 9x9 grid has no digit `A`
//! givens
//! ```
//!
//! ## Fixed
//! By hand: write the digit that is meant.

use super::wording::{digits_of, shown};
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "digit-outside",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("digit_outside.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::DigitOutside(digit, side) = fault.kind else { return None };
    Some(Draft::new(
        fault.span,
        format!("a {side}x{side} grid has no digit `{}`", shown(&digit.to_string())),
        format!("name digits from {}", digits_of(side)),
    ))
}
