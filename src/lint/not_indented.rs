//! Lines of a block stand in column 1.
//!
//! ## Why
//! Lines of a block are indented, so that they are never taken for statements. Lines that can only be such lines, like the
//! rows of a grid that was pasted, are read as what they are, and formatting indents them.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//! row 6 misses 1347
//! #<^^^^^^^^^^^^^^^ not-indented: a line of `known` stands in column 1
//! row 7 misses 12
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   row 6 misses 1347
//!   row 7 misses 12
//! givens
//! ```

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Span, is_blank};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "not-indented",
    group: Group::Lines,
    severity: Severity::Info,
    check: Check::Syntax(check),
    source: include_str!("not_indented.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::NotIndented(keyword) = fault.kind else { return None };
    let word = keyword.word();
    Some(
        Draft::new(
            fault.span,
            format!("a line of `{word}` stands in column 1, where statements stand"),
            format!("indent the lines of `{word}` by two blanks"),
        )
        .mend("indent the block", indented(scene, fault.span)),
    )
}

/// Two blanks before each line of the block that stands in column 1.
fn indented(scene: &Scene, first: Span) -> Vec<(Span, String)> {
    let block = scene.statement_at(first).map(|statement| scene.section.block(statement)).unwrap_or_default();
    let outdented = block.iter().filter(|line| scene.at(line.span).starts_with(|c| c != '#' && !is_blank(c)));
    outdented.map(|line| (Span { end: line.span.start, ..line.span }, "  ".to_owned())).collect()
}
