//! The files that are looked at together: ids are looked up, and are unique, within them.

use super::{Defaults, Entry, Fault, FaultKind, Layouts, Meaning, Puzzle};
use crate::notation::{self, Section, Span, Tree};
use std::collections::BTreeMap;

/// The files that are looked at together.
#[derive(Clone, Default, Debug)]
pub struct Workspace {
    /// In the order in which they were given.
    pub books: Vec<Book>,
    /// Where each id is given to a puzzle or a lesson first: the section, and the entry of its meaning.
    ids: BTreeMap<String, (SectionId, usize)>,
}

/// One file.
#[derive(Clone, Debug)]
pub struct Book {
    /// What people call it: a path as it was given, or the name for standard input.
    pub name: String,
    /// Its text, read.
    pub tree: Tree,
    /// What each section of the tree means, in the same order.
    pub meanings: Vec<Meaning>,
}

/// A section of a workspace.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SectionId {
    /// Index into [`Workspace::books`].
    pub book: usize,
    /// Index into [`Tree::sections`] and [`Book::meanings`].
    pub section: usize,
}

/// A place in a workspace.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Spot {
    /// In which section.
    pub section: SectionId,
    /// Where in it.
    pub span: Span,
}

impl Book {
    /// Reads the text of a file in the notation.
    pub fn read(name: &str, text: &str) -> Book {
        Book::of(name, notation::read(text))
    }

    /// Reads the text of a list: one puzzle a line.
    pub fn read_list(name: &str, text: &str) -> Book {
        Book::of(name, notation::read_list(text))
    }

    /// Reads the bytes of a file in the notation. What is not UTF-8 is read as U+FFFD, and is a fault of its section.
    pub fn read_bytes(name: &str, bytes: &[u8]) -> Book {
        let tree = notation::read(&String::from_utf8_lossy(bytes));
        Book::of(name, tree.with_bad_bytes(bytes))
    }

    /// Reads the bytes of a list, likewise.
    pub fn read_list_bytes(name: &str, bytes: &[u8]) -> Book {
        let tree = notation::read_list(&String::from_utf8_lossy(bytes));
        Book::of(name, tree.with_bad_bytes(bytes))
    }

    /// The ids of its puzzles and lessons, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.meanings.iter().flat_map(|meaning| &meaning.entries).filter_map(|entry| match entry {
            Entry::Puzzle(puzzle) => puzzle.id.as_ref().map(|id| id.text.as_str()),
            _ => None,
        })
    }

    fn of(name: &str, tree: Tree) -> Book {
        let mut defaults = Defaults::default();
        let mut layouts = Layouts::default();
        let mut meanings = Vec::with_capacity(tree.sections.len());
        for section in &tree.sections {
            let meaning = Meaning::of(section, &defaults, &mut layouts);
            if let Some(changed) = &meaning.defaults {
                defaults = changed.clone();
            }
            meanings.push(meaning);
        }
        once_a_file(&mut meanings);
        Book { name: name.to_owned(), tree, meanings }
    }
}

/// That a size is unsaid, or that nobody knows its boxes, is said once a file: one line at its top mends all.
fn once_a_file(meanings: &mut [Meaning]) {
    let mut seen: Vec<FaultKind> = Vec::new();
    for fault in meanings.iter_mut().map(|meaning| &mut meaning.faults).filter(|faults| !faults.is_empty()) {
        fault.retain(|fault| {
            let once = matches!(fault.kind, FaultKind::SizeUnsaid(_) | FaultKind::BoxesUnsaid(_));
            let again = once && seen.contains(&fault.kind);
            if once && !again {
                seen.push(fault.kind.clone());
            }
            !again
        });
    }
}

impl Workspace {
    /// Looks at `books` together: gives each answer its puzzle's size, and adds what is wrong with its grid to the faults of
    /// its section.
    pub fn new(books: Vec<Book>) -> Workspace {
        let mut workspace = Workspace { books, ids: BTreeMap::new() };
        let mut ids = BTreeMap::new();
        for (section, at, puzzle) in workspace.puzzles() {
            if let Some(id) = &puzzle.id {
                ids.entry(id.text.clone()).or_insert((section, at));
            }
        }
        workspace.ids = ids;
        let mut faults: Vec<(SectionId, Vec<Fault>)> = Vec::new();
        for (id, section, meaning) in workspace.sections() {
            let answers = meaning.entries.iter().filter_map(|entry| match entry {
                Entry::Answer(answer) => Some(answer),
                _ => None,
            });
            let found: Vec<Fault> = answers
                .filter_map(|answer| {
                    let (_, puzzle) = workspace.find(&answer.id.as_ref()?.text)?;
                    answer.board(section, puzzle.layout.as_ref()?).err()
                })
                .flatten()
                .collect();
            if !found.is_empty() {
                faults.push((id, found));
            }
        }
        for (id, found) in faults {
            let all = &mut workspace.books[id.book].meanings[id.section].faults;
            all.extend(found);
            all.sort_by_key(|fault| fault.span);
        }
        workspace
    }

    /// The section called `id`.
    pub fn section(&self, id: SectionId) -> &Section {
        &self.books[id.book].tree.sections[id.section]
    }

    /// The meaning of the section called `id`.
    pub fn meaning(&self, id: SectionId) -> &Meaning {
        &self.books[id.book].meanings[id.section]
    }

    /// Every section with its meaning, in order.
    pub fn sections(&self) -> impl Iterator<Item = (SectionId, &Section, &Meaning)> {
        self.books.iter().enumerate().flat_map(|(book, it)| {
            let pairs = it.tree.sections.iter().zip(&it.meanings).enumerate();
            pairs.map(move |(section, (tree, meaning))| (SectionId { book, section }, tree, meaning))
        })
    }

    /// Every puzzle and lesson, in order: its section, the index of its entry, and itself.
    pub fn puzzles(&self) -> impl Iterator<Item = (SectionId, usize, &Puzzle)> {
        self.sections().flat_map(|(section, _, meaning)| {
            meaning.entries.iter().enumerate().filter_map(move |(at, entry)| match entry {
                Entry::Puzzle(puzzle) => Some((section, at, &**puzzle)),
                _ => None,
            })
        })
    }

    /// The puzzle or lesson with this id, the first where there are several, and its section.
    pub fn find(&self, id: &str) -> Option<(SectionId, &Puzzle)> {
        let (section, at) = *self.ids.get(id)?;
        match self.meaning(section).entries.get(at)? {
            Entry::Puzzle(puzzle) => Some((section, puzzle)),
            _ => None,
        }
    }
}
