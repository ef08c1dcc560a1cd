//! Puzzles, lessons and parts of all files, by their ids and titles.

use super::convert::{Encoding, Lines};
use super::symbols::{kind_of, name_of};
use crate::book::{Book, Entry};
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Uri, WorkspaceSymbol};

/// The most that are told at once: who looks for one of more types another letter.
const MOST: usize = 500;

/// What of these files has all words of a query in its id or title; large and small letters are alike.
pub fn answer(files: &[(Uri, Arc<Book>)], query: &str, encoding: Encoding) -> Vec<WorkspaceSymbol> {
    let words: Vec<String> = query.split_whitespace().map(str::to_lowercase).collect();
    let mut found = Vec::new();
    for (uri, book) in files {
        let lines = Lines::of(book, encoding);
        for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
            for (item, entry) in section.items.iter().zip(&meaning.entries) {
                let statements = section.statements_of(item);
                let (Some(head), false) = (statements.first(), matches!(entry, Entry::Preface)) else {
                    continue;
                };
                let name = name_of(section, head, entry);
                let lower = name.to_lowercase();
                if !words.iter().all(|word| lower.contains(word.as_str())) {
                    continue;
                }
                let range = lines.range(at, section.lines[head.line as usize].span);
                found.push(WorkspaceSymbol {
                    name,
                    kind: kind_of(entry),
                    tags: None,
                    container_name: book.title(),
                    location: OneOf::Left(Location { uri: uri.clone(), range }),
                    data: None,
                });
                if found.len() == MOST {
                    return found;
                }
            }
        }
    }
    found
}
