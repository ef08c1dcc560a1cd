//! Symbols: parts, puzzles and lessons, and the blocks of each.

use super::convert::Lines;
use super::state::Snapshot;
use crate::book::Entry;
use crate::notation::{Block, Item, Section, Span, Statement};
use tower_lsp::ls_types::{DocumentSymbol, SymbolKind};

/// The symbols of a text: a part holds what follows it.
pub fn answer(snapshot: &Snapshot) -> Vec<DocumentSymbol> {
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    let mut symbols: Vec<DocumentSymbol> = Vec::new();
    let mut in_part = false;
    for (at, (section, meaning)) in
        snapshot.book.tree.sections.iter().zip(&snapshot.book.meanings).enumerate()
    {
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            let statements = section.statements_of(item);
            let (Some(head), false) = (statements.first(), matches!(entry, Entry::Preface)) else { continue };
            let (name, kind) = (name_of(section, head, entry), kind_of(entry));
            let blocks = statements.iter().filter(|it| has_block(it) && !std::ptr::eq(*it, head));
            let children = blocks.map(|block| {
                let name = format!("{} {}", section.at(block.word), values(section, block));
                symbol(
                    &lines,
                    at,
                    name.trim().to_owned(),
                    SymbolKind::FIELD,
                    (whole(section, block), block.word),
                )
            });
            let children: Vec<DocumentSymbol> = children.collect();
            let mut symbol =
                symbol(&lines, at, name, kind, (extent(section, item), first_line(section, head)));
            symbol.children = Some(children);
            match symbols.last_mut() {
                Some(part) if in_part && !matches!(entry, Entry::Part) => {
                    part.range.end = part.range.end.max(symbol.range.end);
                    part.children.get_or_insert_default().push(symbol);
                }
                _ => symbols.push(symbol),
            }
            in_part |= matches!(entry, Entry::Part);
        }
    }
    symbols
}

#[allow(deprecated, reason = "the protocol's type demands a field that it tells not to use")]
fn symbol(
    lines: &Lines,
    section: usize,
    name: String,
    kind: SymbolKind,
    (range, selection): (Span, Span),
) -> DocumentSymbol {
    DocumentSymbol {
        // A symbol without a name is refused by some clients.
        name: if name.is_empty() { "?".to_owned() } else { name },
        detail: None,
        kind,
        tags: None,
        deprecated: None,
        range: lines.range(section, range),
        selection_range: lines.range(section, selection),
        children: None,
    }
}

/// What an item is called: `lk-007 Two Kettles`, `answer lk-007`, or the title of a part.
pub fn name_of(section: &Section, head: &Statement, entry: &Entry) -> String {
    match entry {
        Entry::Puzzle(puzzle) => {
            let id = puzzle.id.as_ref().map_or("?", |id| &id.text);
            format!("{id} {}", puzzle.title.join(" ")).trim_end().to_owned()
        }
        Entry::Answer(answer) => format!("answer {}", answer.id.as_ref().map_or("?", |id| &id.text)),
        Entry::Part | Entry::Preface => values(section, head),
    }
}

/// How an item looks among symbols.
pub fn kind_of(entry: &Entry) -> SymbolKind {
    match entry {
        Entry::Puzzle(_) => SymbolKind::CLASS,
        Entry::Answer(_) => SymbolKind::CONSTANT,
        Entry::Part | Entry::Preface => SymbolKind::NAMESPACE,
    }
}

fn values(section: &Section, statement: &Statement) -> String {
    statement.values.iter().map(|&value| section.value(value)).collect::<Vec<_>>().join(" ")
}

fn has_block(statement: &Statement) -> bool {
    statement.keyword.is_some_and(|keyword| keyword.shape().block != Block::None)
}

fn first_line(section: &Section, statement: &Statement) -> Span {
    section.lines[statement.line as usize].span
}

/// A statement with its block.
pub fn whole(section: &Section, statement: &Statement) -> Span {
    let last = statement.block.end.max(statement.line + 1) as usize - 1;
    statement.word.to(section.lines[last].span)
}

/// An item, from its first statement to the end of its last.
pub fn extent(section: &Section, item: &Item) -> Span {
    let statements = section.statements_of(item);
    let spans = statements.iter().map(|statement| whole(section, statement));
    spans
        .reduce(Span::to)
        .unwrap_or_default()
        .to(statements.first().map_or(Span::default(), |head| first_line(section, head)))
}
