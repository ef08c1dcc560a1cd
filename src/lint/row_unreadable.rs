//! A row of a grid holds a character that stands for no cell.
//!
//! ## Why
//! In a grid each character that is not a blank or a bar is a cell: `1` to `9`, `A` and so on, or `.` for an empty one
//! (`_` and `0` are read, too). With any other character it cannot be told which cell is which, so the row is kept and not
//! read, and the puzzle is not judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 *  * *
//! #~  ^ row-unreadable: `*` stands for no cell
//!   * *  2 *
//!   * 3  * *
//!   * *  * 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! ```

use super::wording::visible;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::board::MAX_SIDE;
use crate::notation::{Fault, FaultKind, Line, LineKind, Span};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "row-unreadable",
    group: Group::Grids,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("row_unreadable.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::RowUnreadable(c) = fault.kind else { return None };
    let draft = Draft::new(
        fault.span,
        format!("`{}` stands for no cell, so this row is kept and not read", visible(c)),
        "write one symbol for each cell: a digit, a letter, or `.` for an empty one",
    );
    // A sign that is neither letter nor figure most likely stands for an empty cell, wherever it stands in the grid.
    if c.is_alphanumeric() || c.is_control() || c == '|' {
        return Some(draft);
    }
    let edits = emptied(scene, fault.span, c);
    let most = usize::from(MAX_SIDE) * usize::from(MAX_SIDE);
    if edits.is_empty() || edits.len() > most {
        return Some(draft);
    }
    Some(draft.propose(format!("write `.` for each `{c}` of this grid"), edits))
}

/// The change that writes an empty cell for each `c` of a grid; none, where that has more rows than any board.
fn emptied(scene: &Scene, span: Span, c: char) -> Vec<(Span, String)> {
    let Some(statement) = scene.statement_at(span) else { return Vec::new() };
    let block = scene.section.block(statement).iter();
    let rows = block.filter(|line| matches!(line.kind, LineKind::Kept | LineKind::Listed));
    let rows: Vec<&Line> = rows.take(usize::from(MAX_SIDE) + 1).collect();
    if rows.len() > usize::from(MAX_SIDE) {
        return Vec::new();
    }
    let dots = |line: &Line| {
        let row = scene.at(line.span).split('#').next().unwrap_or_default();
        let places = row.match_indices(c).map(|(at, sign)| Span::new(at, at + sign.len()));
        places.map(|place| (place.shifted(line.span.start as usize), ".".to_owned())).collect::<Vec<_>>()
    };
    rows.into_iter().flat_map(dots).collect()
}
