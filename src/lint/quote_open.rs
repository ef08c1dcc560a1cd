//! A string is opened with a quote and not closed on its line.
//!
//! ## Why
//! A string never passes the end of its line: so a lost quote costs one line and not the rest of the file. It is read up to
//! the line's end, with all that stands there, such as a comment.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil
//! #~           ^^^^^^^^^ quote-open: this string is not closed
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! givens
//! ```

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Span, is_blank};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "quote-open",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("quote_open.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    if fault.kind != FaultKind::QuoteOpen {
        return None;
    }
    let string = scene.at(fault.span).trim_end_matches(is_blank);
    let end = fault.span.start as usize + string.len();
    // A backslash at the end would take the quote for a part of the string.
    let dangling = (string.len() - string.trim_end_matches('\\').len()) % 2 == 1;
    let closing = if dangling { "\\\"" } else { "\"" };
    Some(
        Draft::new(
            fault.span,
            "this string is not closed, so it is read up to the end of the line",
            "close it with `\"`",
        )
        .mend("close it at the end of the line", vec![(Span::new(end, end), closing.to_owned())]),
    )
}
