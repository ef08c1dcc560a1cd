//! Lines of a block stand where no statement begins one.
//!
//! ## Why
//! What an indented line means is told by the statement above it: the same digits can be the givens, the solution, or a
//! layout. Without that statement the lines are kept, as the block that they look like, and the puzzle is not judged.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//!   1 .  . .
//! #~^^^^^^^^ block-without-start: no statement begins the block of this line; it looks like a line of `givens`
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
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

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Keyword, Span, is_blank};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "block-without-start",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("block_without_start.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::BlockWithoutStart(looks_like) = fault.kind else { return None };
    let Some(keyword) = looks_like else {
        return Some(Draft::new(
            fault.span,
            "no statement begins a block for this indented line, so it is kept and not read",
            "write the statement that it belongs to above it, in column 1, or begin it with `#` if it is a comment",
        ));
    };
    let word = keyword.word();
    let draft = Draft::new(
        fault.span,
        format!("no statement begins the block of this line; it looks like a line of `{word}`"),
        format!("write `{word}`, or what else these lines are, above them in column 1"),
    );
    Some(if is_free(scene, fault.span, keyword) {
        draft.propose(format!("write `{word}` above"), begun(scene, fault.span, word))
    } else {
        draft
    })
}

/// Whether the item has no other block of this statement, so that this one can be its block.
fn is_free(scene: &Scene, span: Span, keyword: Keyword) -> bool {
    let item = &scene.section.items[scene.item_at(span)];
    let statements = scene.section.statements_of(item);
    statements.iter().filter(|statement| statement.keyword == Some(keyword)).count() == 1
}

/// Writes the statement above the lines, and indents those of them that stand in column 1.
fn begun(scene: &Scene, span: Span, word: &str) -> Vec<(Span, String)> {
    let lines = &scene.section.lines;
    let first = scene.line_at(span) as usize;
    let block = scene
        .statement_at(span)
        .map_or(first..first + 1, |it| it.block.start as usize..it.block.end as usize);
    let insert = |line: usize, text: String| (Span { end: lines[line].span.start, ..lines[line].span }, text);
    let outdented = |line: usize| scene.at(lines[line].span).starts_with(|c| c != '#' && !is_blank(c));
    let ending = match lines[first].ending.text() {
        "" => "\n",
        ending => ending,
    };
    let indent = |line: usize| if outdented(line) { "  " } else { "" };
    let mut edits = vec![insert(first, format!("{word}{ending}{}", indent(first)))];
    edits.extend(
        block.filter(|line| *line != first && outdented(*line)).map(|line| insert(line, "  ".to_owned())),
    );
    edits
}
