//! A statement is indented, as if it were a line of the block above it.
//!
//! ## Why
//! Column 1 or not is all that tells a statement from a line of a block. In a grid, in remembered facts and in a walk an
//! indented statement can only be a slip, and is read as the statement; in prose the same words are prose.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   row 6 misses 1347
//!   level      3
//! #~^^^^^ statement-indented: `level` is a statement and is indented like a line of the block above
//! givens
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   row 6 misses 1347
//! level      3
//! givens
//! ```

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, LineKind, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "statement-indented",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("statement_indented.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::StatementIndented(keyword) = fault.kind else { return None };
    let word = keyword.word();
    Some(
        Draft::new(
            fault.span,
            format!("`{word}` is a statement and is indented like a line of the block above"),
            "begin it in column 1",
        )
        .mend("begin it in column 1", unindented(scene, fault.span)),
    )
}

/// Takes away what stands before the statement, and before the indented statements that follow line on line: they are
/// of the same finding.
fn unindented(scene: &Scene, first: Span) -> Vec<(Span, String)> {
    let from = scene.line_at(first) as usize;
    let run = scene.section.lines[from..].iter().map_while(|line| {
        let statement = scene.statement_at(line.span).filter(|_| line.kind == LineKind::Statement)?;
        let indent = Span { start: line.span.start, end: statement.word.start };
        (!indent.is_empty()).then_some((indent, String::new()))
    });
    run.collect()
}
