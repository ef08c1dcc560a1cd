//! The files that are looked at together: ids are looked up, and are unique, within them.

use super::Meaning;
use crate::notation::{Section, Span, Tree};

/// The files that are looked at together.
#[derive(Clone, Default, Debug)]
pub struct Workspace {
    /// In the order in which they were given.
    pub books: Vec<Book>,
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

impl Workspace {
    /// The section called `id`.
    pub fn section(&self, id: SectionId) -> &Section {
        &self.books[id.book].tree.sections[id.section]
    }

    /// Every section with its meaning, in order.
    pub fn sections(&self) -> impl Iterator<Item = (SectionId, &Section, &Meaning)> {
        self.books.iter().enumerate().flat_map(|(book, it)| {
            let pairs = it.tree.sections.iter().zip(&it.meanings).enumerate();
            pairs.map(move |(section, (tree, meaning))| (SectionId { book, section }, tree, meaning))
        })
    }
}
