//! Bytes of a section to lines and columns of a file.

use crate::book::{SectionId, Spot, Workspace};
use crate::notation::{Line, Section, Span, Tree};
use serde::Serialize;
use std::sync::{Arc, OnceLock};

/// A place in a file, as people count.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Debug)]
pub struct Place {
    /// From 1.
    pub line: usize,
    /// Unicode characters of the line, from 1; a byte order mark is not counted.
    pub column: usize,
}

/// From where to where: `end` is the place behind the last character.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Debug)]
pub struct Range {
    /// The first character's place.
    pub start: Place,
    /// The place behind the last character.
    pub end: Place,
}

/// For each book of a workspace, how many lines stand before each section: counted when first asked for, and kept.
#[derive(Clone)]
pub struct Lines(Arc<[LinesOfBook]>);

struct LinesOfBook {
    /// So many stand before the book, which is a piece of a file.
    ahead: usize,
    before: OnceLock<Vec<usize>>,
}

impl Lines {
    /// Those of books each of which stands behind so many lines of its file.
    pub fn behind(ahead: impl IntoIterator<Item = usize>) -> Lines {
        let of_book = |ahead| LinesOfBook { ahead, before: OnceLock::new() };
        Lines(ahead.into_iter().map(of_book).collect())
    }

    /// So many lines stand before a book in its file.
    pub fn ahead(&self, book: usize) -> usize {
        self.0[book].ahead
    }
}

/// The places of all files of a workspace.
pub struct Places<'a> {
    workspace: &'a Workspace,
    lines: Lines,
}

impl<'a> Places<'a> {
    /// The places of the files of `workspace`.
    pub fn new(workspace: &'a Workspace) -> Places<'a> {
        Places::with(workspace, Lines::behind(workspace.books.iter().map(|_| 0)))
    }

    /// The same, with the lines as far as they were counted already, or of pieces of files.
    pub fn with(workspace: &'a Workspace, lines: Lines) -> Places<'a> {
        Places { workspace, lines }
    }

    /// The files themselves.
    pub fn workspace(&self) -> &'a Workspace {
        self.workspace
    }

    /// What people call a book's file.
    pub fn file(&self, book: usize) -> &'a str {
        &self.workspace.books[book].name
    }

    /// Lines and columns of `spot`.
    pub fn range(&self, spot: Spot) -> Range {
        let start = self.place(spot.section, spot.span.start as usize);
        let end = self.place(spot.section, spot.span.end as usize);
        Range { start, end: end.max(start) }
    }

    /// Line and column of a byte of a section.
    pub fn place(&self, id: SectionId, byte: usize) -> Place {
        let section = self.workspace.section(id);
        let before = self.before(id.book)[id.section];
        let index = line_at(section, byte);
        let Some(line) = section.lines.get(index) else { return Place { line: before + 1, column: 1 } };
        let text = section.at(line.span);
        let within = byte.saturating_sub(line.span.start as usize);
        if within >= text.len() + line.ending.text().len() && !line.ending.text().is_empty() {
            return Place { line: before + index + 2, column: 1 };
        }
        let shown = &text[..text.floor_char_boundary(within)];
        let is_first = before + index == 0;
        let mark = is_first && shown.starts_with(BYTE_ORDER_MARK);
        Place { line: before + index + 1, column: shown.chars().count() + 1 - usize::from(mark) }
    }

    /// A line of a book, counted from 1, with its section.
    pub fn line(&self, book: usize, number: usize) -> Option<(&'a Section, &'a Line)> {
        let before = self.before(book);
        let section = before.partition_point(|&lines| lines < number).checked_sub(1)?;
        let tree: &Tree = &self.workspace.books[book].tree;
        let section_tree: &Section = tree.sections.get(section)?;
        section_tree.lines.get(number - 1 - before[section]).map(|line| (section_tree, line))
    }

    /// The number of the first line that `spot` stands on, and the stretch of that line which it takes, in bytes.
    pub fn on_first_line(&self, spot: Spot) -> (usize, Span) {
        let section = self.workspace.section(spot.section);
        let index = line_at(section, spot.span.start as usize);
        let number = self.before(spot.section.book)[spot.section.section] + index + 1;
        let Some(line) = section.lines.get(index) else { return (number, Span::new(0, 0)) };
        let text = section.at(line.span);
        let from = line.span.start as usize;
        let within =
            |byte: u32| text.floor_char_boundary((byte as usize).saturating_sub(from).min(text.len()));
        let (start, end) = (within(spot.span.start), within(spot.span.end));
        (number, Span::new(start, end.max(start)))
    }

    fn before(&self, book: usize) -> &[usize] {
        let LinesOfBook { ahead, before } = &self.lines.0[book];
        before.get_or_init(|| {
            let sections = &self.workspace.books[book].tree.sections;
            let mut lines = *ahead;
            let count = |section: &Arc<Section>| {
                let before = lines;
                lines += section.lines.len();
                before
            };
            sections.iter().map(count).collect()
        })
    }
}

/// A byte order mark: it may begin a file, and is no part of its text.
const BYTE_ORDER_MARK: char = '\u{feff}';

/// The line that a byte stands on, as an index into the section's lines.
fn line_at(section: &Section, byte: usize) -> usize {
    section.lines.partition_point(|line| line.span.start as usize <= byte).saturating_sub(1)
}
