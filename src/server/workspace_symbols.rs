//! Puzzles, lessons and parts of all files, by their ids and titles.

use super::convert::{Encoding, Lines};
use super::symbol_range::{At, range_of};
use super::symbols::{kind_of, name_of};
use crate::book::{Book, Entry};
use std::cell::LazyCell;
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Uri, WorkspaceLocation, WorkspaceSymbol};

/// The most that are told at once: who looks for one of more types another letter.
const MOST: usize = 500;

/// What of these files has all words of a query in its id or title; large and small letters are alike. The ranges come
/// `later` for a client that asks for them when a symbol is chosen.
pub fn answer(
    files: &[(Uri, Arc<Book>)],
    query: &str,
    encoding: Encoding,
    later: bool,
) -> Vec<WorkspaceSymbol> {
    let words: Vec<String> = query.split_whitespace().map(str::to_lowercase).collect();
    let mut found = Vec::new();
    for (uri, book) in files {
        let lines = LazyCell::new(|| Lines::of(book, encoding));
        for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
            for (number, (item, entry)) in section.items.iter().zip(&meaning.entries).enumerate() {
                let statements = section.statements_of(item);
                let (Some(head), false) = (statements.first(), matches!(entry, Entry::Preface)) else {
                    continue;
                };
                let name = name_of(section, head, entry);
                let lower = name.to_lowercase();
                if !words.iter().all(|word| lower.contains(word.as_str())) {
                    continue;
                }
                let at = At { section: at, item: number };
                let location = if later {
                    OneOf::Right(WorkspaceLocation { uri: uri.clone() })
                } else {
                    OneOf::Left(Location { uri: uri.clone(), range: range_of(book, &lines, at) })
                };
                found.push(WorkspaceSymbol {
                    name,
                    kind: kind_of(entry),
                    tags: None,
                    container_name: book.title(),
                    location,
                    data: if later { serde_json::to_value(at).ok() } else { None },
                });
                if found.len() == MOST {
                    return found;
                }
            }
        }
    }
    found
}
