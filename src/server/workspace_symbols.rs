//! Puzzles, lessons and parts of all files, by their ids and titles.

use super::convert::{Encoding, Lines};
use super::errand::Errand;
use super::symbol_range::{At, range_of};
use super::symbols::{kind_of, name_of};
use crate::book::{Book, Entry};
use std::cell::LazyCell;
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Uri, WorkspaceLocation, WorkspaceSymbol};

/// The most that are told at once: who looks for one of more types another letter.
const MOST: usize = 500;

/// So many are given at once where they are wanted in parts.
const PART: usize = 50;

/// What is looked for.
pub struct Search {
    /// These words in an id or title, in small letters.
    words: Vec<String>,
    encoding: Encoding,
    /// The client asks for the range of a symbol when it is chosen.
    later: bool,
}

impl Search {
    /// Looks for all words of a query; large and small letters are alike.
    pub fn new(query: &str, encoding: Encoding, later: bool) -> Search {
        let words = query.split_whitespace().map(str::to_lowercase).collect();
        Search { words, encoding, later }
    }

    /// What of these files has all words in its id or title. What was given in parts is not given again. `None` if nobody
    /// wants it any more.
    pub fn answer(&self, files: &[(Uri, Arc<Book>)], errand: &Errand) -> Option<Vec<WorkspaceSymbol>> {
        let (mut found, mut given) = (Vec::new(), 0);
        for (done, file) in files.iter().enumerate() {
            if errand.is_called_off() {
                return None;
            }
            errand.at(done, Some(files.len()));
            self.look_through(file, MOST - given, &mut found);
            if errand.gives_parts() && found.len() >= PART {
                given += found.len();
                errand.part(&std::mem::take(&mut found));
            }
            if given + found.len() == MOST {
                break;
            }
        }
        if errand.gives_parts() && !found.is_empty() {
            errand.part(&std::mem::take(&mut found));
        }
        Some(found)
    }

    /// What of a file has all words, at most so many with those that were found before.
    fn look_through(&self, (uri, book): &(Uri, Arc<Book>), most: usize, found: &mut Vec<WorkspaceSymbol>) {
        let lines = LazyCell::new(|| Lines::of(book, self.encoding));
        for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
            for (number, (item, entry)) in section.items.iter().zip(&meaning.entries).enumerate() {
                let statements = section.statements_of(item);
                let (Some(head), false) = (statements.first(), matches!(entry, Entry::Preface)) else {
                    continue;
                };
                let name = name_of(section, head, entry);
                let lower = name.to_lowercase();
                if !self.words.iter().all(|word| lower.contains(word.as_str())) {
                    continue;
                }
                let at = At { section: at, item: number };
                let location = if self.later {
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
                    data: if self.later { serde_json::to_value(at).ok() } else { None },
                });
                if found.len() == most {
                    return;
                }
            }
        }
    }
}
