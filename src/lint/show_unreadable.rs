//! A `show` line cannot be read.
//!
//! ## Why
//! `show` draws a diagram of the position: `show ring r1c6 r2c5 "Two cells for two digits"`. What it cannot read it cannot
//! draw, and the line is kept.
//!
//! ## Found
//! ```gset
//! lesson two-looks "Two looks"
//! steps
//!   show circle r1c6
//! #~     ^^^^^^ show-unreadable: `circle` cannot be read in a `show` line
//! ```
//!
//! ## Fixed
//! By hand: write `only`, `shade` or `ring` with cells or houses, `marks`, `why`, or a caption in quotes.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "show-unreadable",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("show_unreadable.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::ShowUnreadable(expected) = fault.kind else { return None };
    let message =
        format!("`{}` cannot be read in a `show` line, so nothing is shown", shown(scene.at(fault.span)));
    Some(Draft::new(fault.span, message, format!("write {expected}")))
}
