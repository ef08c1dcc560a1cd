//! Formatting: the one form of the notation, as edits of the lines that differ.

use super::convert::Lines;
use super::state::Snapshot;
use crate::book::Book;
use crate::format::format;
use crate::notation::Section;
use similar::{DiffOp, TextDiff};
use tower_lsp::ls_types::{Position, Range, TextEdit};

/// The edits that give a text its one form.
pub fn answer(snapshot: &Snapshot) -> Vec<TextEdit> {
    let now = Book::read("", &format(&snapshot.book));
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    let (old, new) = (&snapshot.book.tree.sections, &now.tree.sections);
    if old.len() != new.len() {
        return edits(&lines, 0, &snapshot.book.tree.to_string(), &now.tree.to_string());
    }
    let differing = old.iter().zip(new).enumerate().filter(|(_, (old, new))| old.text != new.text);
    let of_section = |(at, (old, new)): (usize, (&std::sync::Arc<Section>, &std::sync::Arc<Section>))| {
        edits(&lines, snapshot.book.lines_before(at), &old.text, &new.text)
    };
    differing.flat_map(of_section).collect()
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
    answer(snapshot).into_iter().filter(touches).collect()
}

/// Those that change the line before a place and no other: it was ended just now.
pub fn line_before(snapshot: &Snapshot, position: Position) -> Vec<TextEdit> {
    let Some(line) = position.line.checked_sub(1) else { return Vec::new() };
    let only = Range::new(Position::new(line, 0), Position::new(line + 1, 0));
    answer(snapshot)
        .into_iter()
        .filter(|edit| edit.range == only && edit.new_text.lines().count() == 1)
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
