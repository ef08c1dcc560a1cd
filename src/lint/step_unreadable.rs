//! A line of a walk, or of remembered facts, cannot be read.
//!
//! ## Why
//! A step is a claim such as `r4c1 = 5`, `r4c1 r6c1 not 7` or `7 of box 1 in col 3`, or several with commas between; a line
//! of a walk can also show, ask, or name a point. A line that reads as none of these is kept, and the walk goes on behind it
//! as if something were missing.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   r7c2 4
//! #~     ^ step-unreadable: `4` cannot be read here
//! givens
//! ```
//!
//! ## Fixed
//! By hand: write the claim as it is meant, such as `r7c2 = 4`.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "step-unreadable",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("step_unreadable.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::StepUnreadable(expected) = fault.kind else { return None };
    let message =
        format!("`{}` cannot be read here, so this line is kept and not judged", shown(scene.at(fault.span)));
    Some(Draft::new(fault.span, message, format!("write {expected}")))
}
