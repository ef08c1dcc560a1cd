//! Formatting: the one form of the notation, as edits of the lines that differ.

use super::convert::Lines;
use super::state::Snapshot;
use crate::format::format_sections;
use crate::notation::read;
use similar::{DiffOp, TextDiff};
use std::ops::Range as Sections;
use tower_lsp::ls_types::{Position, Range, TextEdit};

/// The edits that give a text its one form.
pub fn answer(snapshot: &Snapshot) -> Vec<TextEdit> {
    of_sections(snapshot, 0..snapshot.book.tree.sections.len())
}

/// Those of the edits that touch lines of a range.
pub fn within(snapshot: &Snapshot, range: Range) -> Vec<TextEdit> {
    // A range that ends where a line begins has nothing of that line.
    let last =
        if range.end.character == 0 && range.end > range.start { range.end.line } else { range.end.line + 1 };
    let touches = |edit: &TextEdit| {
        let edit = edit.range;
        edit.start.line < last && (range.start.line < edit.end.line || edit.start.line >= range.start.line)
    };
    let sections = snapshot.sections_in(&(range.start.line..last));
    // An empty line above the first of them is the end of the section before.
    let first = sections.start().saturating_sub(1);
    of_sections(snapshot, first..sections.end() + 1).into_iter().filter(touches).collect()
}

/// Those that change the line before a place and no other: it was ended just now.
pub fn line_before(snapshot: &Snapshot, position: Position) -> Vec<TextEdit> {
    let Some(line) = position.line.checked_sub(1) else { return Vec::new() };
    let only = Range::new(Position::new(line, 0), Position::new(line + 1, 0));
    let section = snapshot.book.section_with(line);
    of_sections(snapshot, section..section + 1)
        .into_iter()
        .filter(|edit| edit.range == only && edit.new_text.lines().count() == 1)
        .collect()
}

/// Those of some sections, which follow one another.
fn of_sections(snapshot: &Snapshot, which: Sections<usize>) -> Vec<TextEdit> {
    let book = &snapshot.book;
    // What follows decides about the empty lines before it.
    let with_next = which.start..(which.end + 1).min(book.tree.sections.len());
    let now = read(&format_sections(book, with_next.clone()));
    let lines = Lines::of(book, snapshot.encoding);
    let old = &book.tree.sections[with_next.clone()];
    if old.len() != now.sections.len() {
        let text = book.tree.text(with_next);
        return edits(&lines, book.lines_before(which.start), &text, &now.to_string());
    }
    let both = with_next.zip(old.iter().zip(&now.sections)).filter(|(at, _)| which.contains(at));
    let differing = both.filter(|(_, (old, new))| old.text != new.text);
    differing
        .flat_map(|(at, (old, new))| edits(&lines, book.lines_before(at), &old.text, &new.text))
        .collect()
}

/// The edits that make `new` of `old`, which begins behind so many lines of a text.
fn edits(lines: &Lines, before: u32, old: &str, new: &str) -> Vec<TextEdit> {
    let diff = TextDiff::from_lines(old, new);
    let end = lines.end();
    // Behind a last line that is not ended there is none.
    let line = |at: usize| Position::new(before + u32::try_from(at).unwrap_or(u32::MAX), 0).min(end);
    let changes = diff.ops().iter().filter(|op| !matches!(op, DiffOp::Equal { .. }));
    let edit = |op: &DiffOp| TextEdit {
        range: Range::new(line(op.old_range().start), line(op.old_range().end)),
        new_text: op.new_range().filter_map(|at| diff.new_slice(at)).collect(),
    };
    changes.map(edit).collect()
}
