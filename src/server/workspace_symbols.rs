//! Puzzles, lessons and parts of all files, by their ids and titles.

use super::convert::{Encoding, Lines};
use super::errand::Errand;
use super::symbols::{kind_of, name_of};
use crate::book::{Book, Entry};
use std::sync::Arc;
use tower_lsp::ls_types::{Location, OneOf, Uri, WorkspaceSymbol};

/// The most that are told at once: who looks for one of more types another letter.
const MOST: usize = 500;

/// So many are given at once where they are wanted in parts.
const PART: usize = 50;

/// What of these files has all words of a query in its id or title; large and small letters are alike. What was given in parts
/// is not given again. `None` if nobody wants it any more.
pub fn answer(
    files: &[(Uri, Arc<Book>)],
    query: &str,
    encoding: Encoding,
    errand: &Errand,
) -> Option<Vec<WorkspaceSymbol>> {
    let words: Vec<String> = query.split_whitespace().map(str::to_lowercase).collect();
    let (mut found, mut given) = (Vec::new(), 0);
    for (done, file) in files.iter().enumerate() {
        if errand.is_called_off() {
            return None;
        }
        errand.at(done, Some(files.len()));
        of_file(file, &words, encoding, MOST - given, &mut found);
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
fn of_file(
    (uri, book): &(Uri, Arc<Book>),
    words: &[String],
    encoding: Encoding,
    most: usize,
    found: &mut Vec<WorkspaceSymbol>,
) {
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
            if found.len() == most {
                return;
            }
        }
    }
}
