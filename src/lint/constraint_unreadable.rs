//! A constraint or an extra house cannot be understood.
//!
//! ## Why
//! A constraint is a word, a number where it needs one, and cells: `cage 15 r1c1 r1c2`. A part after `:` belongs to
//! `arrow` alone. An extra house has a name and as many cells as a side. While one of them is not understood, the
//! puzzle's solutions are not counted, because they would be those of another puzzle.
//!
//! ## Found
//! ```gset
//! puzzle ht-08 "Down the Drain"
//! size       4
//! house      middle r2c2 r2c3 r3c2
//! #~         ^^^^^^ constraint-unreadable: this `house` cannot be understood
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! By hand: write the constraint as its line above shows.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book::{Fault, FaultKind};
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "constraint-unreadable",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("constraint_unreadable.rs"),
};

fn check(_: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::ConstraintUnreadable(keyword, why) = &fault.kind else { return None };
    let message = format!("this `{}` cannot be understood: {why}", keyword.word());
    Some(Draft::new(fault.span, message, format!("write it like `{}`", model(*keyword))))
}

/// A line of this statement, as a model.
fn model(keyword: Keyword) -> &'static str {
    match keyword {
        Keyword::House => "house middle r2c2 r2c3 r3c2 r3c3",
        Keyword::Cage => "cage 15 r1c1 r1c2 r2c1",
        Keyword::Sum => "sum 10 r1c1 r2c2 r3c3",
        Keyword::Thermometer => "thermometer r3c1..r3c4",
        Keyword::Arrow => "arrow r5c5 : r4c4 r3c3",
        Keyword::Less => "less r7c1 r7c2",
        Keyword::Differ => "differ 2 r7c1 r7c2",
        Keyword::Even => "even r1c9 r2c8",
        _ => "odd r1c9 r2c8",
    }
}
