//! The range of a symbol of the workspace, when it is chosen.

use super::convert::{Encoding, Lines};
use super::symbols::name_of;
use crate::book::{Book, Entry};
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Range, Uri, WorkspaceLocation, WorkspaceSymbol};

/// Where a symbol stood when it was told.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct At {
    /// Which section of its file.
    pub section: usize,
    /// Which of the section's items.
    pub item: usize,
}

/// The symbol with its range. It is looked for by its name where it does not stand any more where it stood; one that is gone
/// stays as it is.
pub fn resolve(files: &[(Uri, Arc<Book>)], symbol: WorkspaceSymbol, encoding: Encoding) -> WorkspaceSymbol {
    let OneOf::Right(WorkspaceLocation { uri }) = &symbol.location else { return symbol };
    let Some((uri, book)) = files.iter().find(|(other, _)| other == uri) else { return symbol };
    let told = symbol.data.clone().and_then(|data| serde_json::from_value::<At>(data).ok());
    let called: Vec<At> = called(book, &symbol.name).collect();
    let Some(at) = told.filter(|at| called.contains(at)).or(called.first().copied()) else { return symbol };
    let range = range_of(book, &Lines::of(book, encoding), at);
    WorkspaceSymbol { location: OneOf::Left(Location { uri: uri.clone(), range }), ..symbol }
}

/// The line on which a symbol stands.
pub fn range_of(book: &Book, lines: &Lines, at: At) -> Range {
    let section = &book.tree.sections[at.section];
    let head = section.statements_of(&section.items[at.item]).first().map_or(0, |head| head.line);
    lines.range(at.section, section.lines[head as usize].span)
}

/// Where symbols of this name stand in a file.
fn called(book: &Book, name: &str) -> impl Iterator<Item = At> {
    let sections = book.tree.sections.iter().zip(&book.meanings).enumerate();
    sections.flat_map(move |(at, (section, meaning))| {
        let items = section.items.iter().zip(&meaning.entries).enumerate();
        items.filter_map(move |(item, (it, entry))| {
            let head = section.statements_of(it).first().filter(|_| !matches!(entry, Entry::Preface))?;
            (name_of(section, head, entry) == name).then_some(At { section: at, item })
        })
    })
}
