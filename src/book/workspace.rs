//! The files that are looked at together: ids are looked up, and are unique, within them.

use super::file::MANY;
use super::{Answer, Book, Entry, Fault, Meaning, Puzzle};
use crate::notation::{Section, Span};
use rayon::prelude::*;
use std::sync::OnceLock;

/// The files that are looked at together.
#[derive(Clone, Default, Debug)]
pub struct Workspace {
    /// In the order in which they were given.
    pub books: Vec<Book>,
    /// The puzzles and lessons that have an id, by id, and those of one id in order: the section of each, and the entry of
    /// its meaning.
    named: Vec<(SectionId, usize)>,
    /// What is wrong with the grids of answers, which are read when the puzzle's size is known, in order of place.
    answer_faults: Vec<(SectionId, Fault)>,
    /// What [`Book::numbers`] gives for each book, once somebody asks.
    numbers: OnceLock<Vec<Vec<Option<u32>>>>,
}

/// A section of a workspace.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SectionId {
    /// Index into [`Workspace::books`].
    pub book: usize,
    /// Index into [`Tree::sections`](crate::notation::Tree::sections) and [`Book::meanings`].
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
    /// Looks at `books` together.
    pub fn new(books: Vec<Book>) -> Workspace {
        let mut workspace = Workspace { books, ..Workspace::default() };
        let mut named = workspace.in_each(|id, _, meaning| {
            let ids = meaning.entries.iter().enumerate().filter_map(|(at, entry)| match entry {
                Entry::Puzzle(puzzle) => Some((puzzle.id.as_ref()?.text.as_str(), at)),
                _ => None,
            });
            ids.map(move |(name, at)| (name, (id, at)))
        });
        named.sort_by_key(|(name, _)| *name);
        workspace.named = named.into_iter().map(|(_, place)| place).collect();
        workspace.answer_faults = workspace.in_each(|id, section, meaning| {
            let answers = meaning.entries.iter().filter_map(|entry| match entry {
                Entry::Answer(answer) => Some(workspace.faults_of(answer, section)),
                _ => None,
            });
            answers.flatten().map(move |fault| (id, fault))
        });
        workspace
    }

    /// What there is in each section, in order; where there are many, they are looked at on all processors.
    fn in_each<'a, T: Send, I: Iterator<Item = T>>(
        &'a self,
        look: impl Fn(SectionId, &'a Section, &'a Meaning) -> I + Sync,
    ) -> Vec<T> {
        let look = |(id, section, meaning)| look(id, section, meaning);
        if self.sections().nth(MANY).is_none() {
            return self.sections().flat_map(look).collect();
        }
        let sections: Vec<_> = self.sections().collect();
        sections.into_par_iter().with_min_len(MANY).flat_map_iter(look).collect()
    }

    /// What is wrong with the grid of an answer, if its puzzle is known.
    fn faults_of(&self, answer: &Answer, section: &Section) -> Vec<Fault> {
        let puzzle = answer.id.as_ref().and_then(|id| self.find(&id.text));
        let layout = puzzle.and_then(|(_, puzzle)| puzzle.layout.as_ref());
        layout.and_then(|layout| answer.board(section, layout).err()).unwrap_or_default()
    }

    /// What is wrong with the grids of answers, in order of place: it takes the size of a puzzle that may stand anywhere.
    pub fn answer_faults(&self) -> &[(SectionId, Fault)] {
        &self.answer_faults
    }

    /// The printed number of the puzzle that a section begins with, see [`Book::numbers`].
    pub fn number(&self, id: SectionId) -> Option<u32> {
        let all = self.numbers.get_or_init(|| self.books.iter().map(Book::numbers).collect());
        all[id.book][id.section]
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
            pairs.map(move |(section, (tree, meaning))| (SectionId { book, section }, &**tree, &**meaning))
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
        let first = self.named.partition_point(|place| self.id_at(*place) < Some(id));
        let place = *self.named.get(first)?;
        (self.id_at(place)? == id).then_some((place.0, self.puzzle_at(place)?))
    }

    fn id_at(&self, place: (SectionId, usize)) -> Option<&str> {
        self.puzzle_at(place)?.id.as_ref().map(|id| id.text.as_str())
    }

    fn puzzle_at(&self, (section, at): (SectionId, usize)) -> Option<&Puzzle> {
        match self.meaning(section).entries.get(at)? {
            Entry::Puzzle(puzzle) => Some(puzzle),
            _ => None,
        }
    }
}
