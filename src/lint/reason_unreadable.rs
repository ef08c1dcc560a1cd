//! The reason of a step cannot be read.
//!
//! ## Why
//! Behind `by` stands a pattern or a way of seeing, then the houses, cells and digits that take part, and the facts that
//! it leans on after `with`. A reason that cannot be read is not checked.
//!
//! ## Found
//! ```gset
//! lesson two-looks "Two looks"
//! steps
//!   r4c1 = 5  by hidden single in 4
//! #~                              ^ reason-unreadable: `4` cannot be read in a reason
//! ```
//!
//! ## Fixed
//! By hand: write the house, cells or digits that are meant, such as `in row 4`.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "reason-unreadable",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("reason_unreadable.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::ReasonUnreadable(expected) = fault.kind else { return None };
    let message = format!(
        "`{}` cannot be read in a reason, so this step is kept and not judged",
        shown(scene.at(fault.span))
    );
    Some(Draft::new(fault.span, message, format!("write {expected}")))
}
