//! What a selection grows to: from the word to its line, the statement with its block, the puzzle, its part, the file.

use super::convert::Lines;
use super::place::Place;
use super::state::Snapshot;
use crate::notation::{Span, is_blank};
use tower_lsp::ls_types::{Position, Range, SelectionRange};

/// For each place, what the selection grows to.
pub fn answer(snapshot: &Snapshot, positions: &[Position]) -> Vec<SelectionRange> {
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    positions.iter().map(|position| at(snapshot, &lines, *position)).collect()
}

fn at(snapshot: &Snapshot, lines: &Lines, position: Position) -> SelectionRange {
    let place = Place::of(snapshot, position);
    let section = place.section;
    let line = place.line().map(|(_, line)| {
        let text = section.at(line.span);
        let inner = text.trim_matches(is_blank);
        let start = text.len() - text.trim_start_matches(is_blank).len();
        Span::new(start, start + inner.len()).shifted(line.span.start as usize)
    });
    let statement = place.statement().map(|(_, statement)| super::symbols::whole(section, statement));
    let item = place.item().map(|item| super::symbols::extent(section, item));
    let spans = [place.word(), line, statement, item, Some(Span::new(0, section.text.len()))];
    let end = lines.end();
    let ranges = spans.into_iter().flatten().map(|span| lines.range(place.at, span));
    let outer = [part(snapshot, lines, place.at), Some(Range::new(Position::new(0, 0), end))];
    let mut all: Vec<Range> = Vec::new();
    for range in ranges.chain(outer.into_iter().flatten()) {
        let inner = all.last().copied().unwrap_or(Range::new(position, position));
        // What does not hold the smaller one, or is the same, is passed over.
        if range.start <= inner.start && inner.end <= range.end && range != inner {
            all.push(range);
        }
    }
    let grown = all.into_iter().rev().fold(None, |parent: Option<SelectionRange>, range| {
        Some(SelectionRange { range, parent: parent.map(Box::new) })
    });
    grown.unwrap_or(SelectionRange { range: Range::new(position, position), parent: None })
}

/// The part that a section lies in: from its first line to before the next part.
fn part(snapshot: &Snapshot, lines: &Lines, section: usize) -> Option<Range> {
    let book = &snapshot.book;
    let first = book.part_of(section)?;
    let next = (section + 1..book.tree.sections.len()).find(|&later| book.part_of(later) != Some(first));
    let last = next.unwrap_or(book.tree.sections.len()) - 1;
    let start = lines.range(first, Span::new(0, 0)).start;
    let end = lines.range(last, Span::new(0, book.tree.sections[last].text.len())).end;
    Some(Range::new(start, end))
}
