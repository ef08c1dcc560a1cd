//! No pattern has this name.
//!
//! ## Why
//! `needs`, `avoids`, `teaches` and a list of `finish` name patterns of the ladder. A name that is none of them cannot
//! be held against the puzzle, so nothing would be checked. Case, a plural and hyphens do not matter; `explain` lists
//! all names. The name that comes nearest is proposed.
//!
//! ## Found
//! ```gset
//! puzzle ht-07 "An Orchard"
//! avoids     hidden pears
//! #~         ^^^^^^^^^^^^ pattern-unknown: no pattern is called `hidden pears`
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-07 "An Orchard"
//! avoids     hidden pair
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "pattern-unknown",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("pattern_unknown.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::PatternUnknown(name, near) = &fault.kind else { return None };
    let message = format!("no pattern is called `{}`", shown(name));
    Some(match near {
        Some(near) => Draft::new(fault.span, message, format!("write `{near}` if that is meant"))
            .propose(format!("write `{near}`"), vec![(fault.span, (*near).to_owned())]),
        None => Draft::new(fault.span, message, "write one of the names that `explain` lists"),
    })
}
