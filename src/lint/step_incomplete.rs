//! A line of a walk, or of remembered facts, ends too early.
//!
//! ## Why
//! While a step is typed this is how it looks, and it goes away with the last word. A line that stays so is kept, and the
//! walk goes on behind it as if something were missing.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   8 of box 6
//! #~          ^ step-incomplete: this line ends before it says anything
//! givens
//! ```
//!
//! ## Fixed
//! By hand: go on with what is missing, such as `8 of box 6 in r4c7 r4c9`.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-incomplete",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("step_incomplete.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::StepIncomplete(expected) = fault.kind else { return None };
    let message = "this line ends before it says anything, so it is kept and not judged";
    Some(Draft::new(fault.span, message, format!("go on with {expected}")))
}
