//! A cell of a sheet holds what is no mark.
//!
//! ## Why
//! On a sheet a cell is `5` (written in), `46` (one of these), `46?` (noted here, with no claim about the rest), `5!` (known
//! and not written in yet) or `.` (nothing). What reads as none of these says nothing, so the sheet is kept and not judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! work
//!   1   24  34? 3?!
//! #~            ^^^ mark-unreadable: `3?!` is no mark
//!   34  4   2   13
//!   24  3   1   12
//!   2   12  3   4
//! ```
//!
//! ## Fixed
//! By hand: write the mark that is meant.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::book;
use crate::notation::{self, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "mark-unreadable",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Each(&[Check::Syntax(written), Check::Meaning(meant)]),
    source: include_str!("mark_unreadable.rs"),
};

fn written(scene: &Scene, fault: &notation::Fault) -> Option<Draft> {
    let why = "a mark is digits (10 is `A`), and at most one `?` or `!` behind them";
    (fault.kind == notation::FaultKind::MarkUnreadable).then(|| draft(scene, fault.span, why))
}

fn meant(scene: &Scene, fault: &book::Fault) -> Option<Draft> {
    let book::FaultKind::MarkUnreadable(why) = &fault.kind else { return None };
    Some(draft(scene, fault.span, why))
}

fn draft(scene: &Scene, span: Span, why: &str) -> Draft {
    Draft::new(
        span,
        format!("`{}` is no mark: {why}", shown(scene.at(span))),
        "write `5` for a digit, `46` or `46?` for marks, `5!` for what is known, `.` for nothing",
    )
}
