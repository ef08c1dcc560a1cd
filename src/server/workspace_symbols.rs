//! Puzzles, lessons and parts of all files, by their ids and titles.

use super::convert::{Encoding, Lines};
use super::symbols::{kind_of, name_of};
use crate::book::{Book, Entry};
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Uri, WorkspaceLocation, WorkspaceSymbol};

/// The most that are told at once: who looks for one of more types another letter.
const MOST: usize = 500;

/// Where a symbol stood when it was told: its section, and which of the section's items it is.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
struct At {
    section: usize,
    item: usize,
}

/// Some files, to be looked through.
pub struct Files {
    /// Each with its name.
    pub files: Vec<(Uri, Arc<Book>)>,
    /// What columns count.
    pub encoding: Encoding,
}

impl Files {
    /// What has all words of a query in its id or title; large and small letters are alike. The ranges come later for a
    /// client that asks for them when a symbol is chosen.
    pub fn answer(&self, query: &str, later: bool) -> Vec<WorkspaceSymbol> {
        let words: Vec<String> = query.split_whitespace().map(str::to_lowercase).collect();
        let fits = |name: &str| {
            let lower = name.to_lowercase();
            words.iter().all(|word| lower.contains(word.as_str()))
        };
        let mut found = Vec::new();
        for (uri, book) in &self.files {
            let mut here: Vec<(At, WorkspaceSymbol)> = Vec::new();
            for (at, name, entry) in named(book) {
                if found.len() + here.len() < MOST && fits(&name) {
                    let symbol = WorkspaceSymbol {
                        name,
                        kind: kind_of(entry),
                        tags: None,
                        container_name: book.title(),
                        location: OneOf::Right(WorkspaceLocation { uri: uri.clone() }),
                        data: serde_json::to_value(at).ok(),
                    };
                    here.push((at, symbol));
                }
            }
            if !later && !here.is_empty() {
                let lines = Lines::of(book, self.encoding);
                for (at, symbol) in &mut here {
                    symbol.location = OneOf::Left(place(uri, book, &lines, *at));
                    symbol.data = None;
                }
            }
            found.extend(here.into_iter().map(|(_, symbol)| symbol));
        }
        found
    }

    /// The symbol with its range. It is looked for by its name where it does not stand any more where it stood.
    pub fn resolve(&self, symbol: WorkspaceSymbol) -> WorkspaceSymbol {
        let OneOf::Right(WorkspaceLocation { uri }) = &symbol.location else { return symbol };
        let Some((uri, book)) = self.files.iter().find(|(other, _)| other == uri) else { return symbol };
        let told = symbol.data.clone().and_then(|data| serde_json::from_value::<At>(data).ok());
        let called: Vec<At> =
            named(book).filter(|(_, name, _)| *name == symbol.name).map(|(at, ..)| at).collect();
        let Some(at) = told.filter(|at| called.contains(at)).or(called.first().copied()) else {
            return symbol;
        };
        let location = place(uri, book, &Lines::of(book, self.encoding), at);
        WorkspaceSymbol { location: OneOf::Left(location), ..symbol }
    }
}

/// All symbols of a file, in order.
fn named(book: &Book) -> impl Iterator<Item = (At, String, &Entry)> {
    let sections = book.tree.sections.iter().zip(&book.meanings).enumerate();
    sections.flat_map(|(at, (section, meaning))| {
        let items = section.items.iter().zip(&meaning.entries).enumerate();
        items.filter_map(move |(item, (it, entry))| {
            let head = section.statements_of(it).first()?;
            let at = At { section: at, item };
            (!matches!(entry, Entry::Preface)).then(|| (at, name_of(section, head, entry), entry))
        })
    })
}

/// The line on which a symbol stands.
fn place(uri: &Uri, book: &Book, lines: &Lines, at: At) -> Location {
    let section = &book.tree.sections[at.section];
    let head = section.statements_of(&section.items[at.item]).first().map_or(0, |head| head.line);
    let range = lines.range(at.section, section.lines[head as usize].span);
    Location { uri: uri.clone(), range }
}
