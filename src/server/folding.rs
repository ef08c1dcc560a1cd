//! What can be folded: parts, puzzles and lessons, their blocks, and comments of several lines.

use super::state::Snapshot;
use crate::book::Entry;
use crate::notation::{Line, LineKind, Section, Statement};
use tower_lsp::ls_types::{FoldingRange, FoldingRangeKind};

/// Lines of a text, the first and the last.
type Extent = (u32, u32);

/// The folds of a text, from top to bottom, the larger before those in it.
pub fn answer(snapshot: &Snapshot) -> Vec<FoldingRange> {
    let book = &snapshot.book;
    let (mut items, mut parts, mut blocks, mut notes) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
        let before = book.lines_before(at);
        let down = move |(first, last): Extent| (before + first, before + last);
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            let statements = section.statements_of(item);
            let Some(head) = statements.first() else { continue };
            let last = statements.iter().map(|it| last_line(section, it)).max().unwrap_or(head.line);
            parts.extend(matches!(entry, Entry::Part).then_some(items.len()));
            items.push(down((head.line, last)));
            let inner = statements.iter().skip(1).filter(|it| !it.block.is_empty());
            blocks.extend(inner.map(|it| down((it.line, last_line(section, it)))));
        }
        notes.extend(comments(&section.lines).into_iter().map(down));
    }
    let ends = parts.iter().skip(1).copied().chain([items.len()]);
    let whole = parts.iter().zip(ends).map(|(&part, end)| (items[part].0, items[end - 1].1));
    let plain = whole.chain(items.iter().copied()).chain(blocks).map(|extent| (extent, None));
    let all = plain.chain(notes.into_iter().map(|extent| (extent, Some(FoldingRangeKind::Comment))));
    let mut folds: Vec<FoldingRange> =
        all.filter(|((first, last), _)| first < last).map(|(extent, kind)| fold(extent, kind)).collect();
    folds.sort_by_key(|fold| (fold.start_line, std::cmp::Reverse(fold.end_line)));
    folds.dedup_by_key(|fold| (fold.start_line, fold.end_line));
    folds
}

fn fold((start_line, end_line): Extent, kind: Option<FoldingRangeKind>) -> FoldingRange {
    FoldingRange { start_line, end_line, kind, ..FoldingRange::default() }
}

/// The last line of a statement and its block that is not blank.
fn last_line(section: &Section, statement: &Statement) -> u32 {
    let block = statement.block.clone();
    let says =
        |line: &u32| !matches!(section.lines[*line as usize].kind, LineKind::Blank | LineKind::Comment);
    block.rev().find(says).unwrap_or(statement.line)
}

/// Runs of comments of two lines or more.
fn comments(lines: &[Line]) -> Vec<Extent> {
    let mut found = Vec::new();
    let mut first = 0;
    for run in lines.chunk_by(|a, b| (a.kind == LineKind::Comment) == (b.kind == LineKind::Comment)) {
        let last = first + run.len() - 1;
        if run[0].kind == LineKind::Comment {
            found.extend(u32::try_from(first).ok().zip(u32::try_from(last).ok()));
        }
        first = last + 1;
    }
    found
}
