//! The one written form of a file.
//!
//! What cannot be read with certainty is left as it stands: a statement or block with a fault, a grid of another shape than
//! its puzzle's. Everything else is written anew from the tree: comments, prose, the order of statements and line ends are
//! the author's; layout is not.

mod block;
mod page;
mod statement;
mod walk;

#[cfg(test)]
mod tests;

pub use block::{grid_lines, sheet_lines};
pub use statement::is_close;

use crate::book::{Book, Entry, Meaning, Puzzle};
use crate::notation::{Ending, Keyword, Line, LineKind, Section, Statement};
use page::{Page, Role};
use std::ops::Range;

/// The whole text of `book` in the one written form.
pub fn format(book: &Book) -> String {
    format_sections(book, 0..book.tree.sections.len())
}

/// The text of some sections of `book`, which follow one another, in the one written form. It is that which they have in the
/// whole text, but for the empty lines at its end, which belong to the section that follows there.
pub fn format_sections(book: &Book, which: Range<usize>) -> String {
    let mut page = Page::default();
    for (section, meaning) in book.tree.sections[which.clone()].iter().zip(&book.meanings[which]) {
        Writer { book, section, meaning }.write(&mut page);
    }
    page.text(usual_ending(book))
}

/// How most lines end, as the first that is ended shows.
fn usual_ending(book: &Book) -> Ending {
    let lines = book.tree.sections.iter().flat_map(|section| &section.lines);
    lines.map(|line| line.ending).find(|&ending| ending != Ending::None).unwrap_or(Ending::Lf)
}

/// Writes one section.
struct Writer<'a> {
    book: &'a Book,
    section: &'a Section,
    meaning: &'a Meaning,
}

impl Writer<'_> {
    fn write(&self, page: &mut Page) {
        let section = self.section;
        let mut next = 0;
        for (at, statement) in section.statements.iter().enumerate() {
            self.between(next..statement.line as usize, page);
            let lost = statement.word.is_empty();
            if !lost {
                self.statement(statement, page);
            }
            self.block(at, statement, page);
            let first = if lost { statement.line } else { statement.line + 1 };
            next = first.max(statement.block.end) as usize;
        }
        self.between(next..section.lines.len(), page);
    }

    fn statement(&self, statement: &Statement, page: &mut Page) {
        let line = &self.section.lines[statement.line as usize];
        let head = statement.keyword.is_some_and(Keyword::is_head);
        let role = if head { Role::Head } else { Role::Other };
        match statement::write(self.section, statement) {
            Some(text) => page.push(role, self.marked(line, text), line.ending),
            None => self.as_it_stands(role, line, page),
        }
    }

    fn block(&self, at: usize, statement: &Statement, page: &mut Page) {
        let lines = self.section.block(statement);
        if statement.broken {
            return lines.iter().for_each(|line| self.as_it_stands(Role::Other, line, page));
        }
        match self.grid(at, statement) {
            Some(written) => written.write(self, lines, page),
            None => lines.iter().for_each(|line| self.line(line, at, page)),
        }
    }

    /// One line of a block that is no grid (or no whole one).
    fn line(&self, line: &Line, statement: usize, page: &mut Page) {
        let text = match line.kind {
            LineKind::Claim => walk::claim_line(self, line, self.side(statement)),
            LineKind::Step => walk::step_line(self, line, self.side(statement)),
            LineKind::Prose | LineKind::Kept => self.inner(line).to_owned(),
            LineKind::Row | LineKind::Tokens | LineKind::Frame | LineKind::Listed => {
                return self.as_it_stands(Role::Other, line, page);
            }
            LineKind::Blank | LineKind::Comment | LineKind::Statement => return self.plain(line, page),
        };
        page.push(Role::Other, format!("  {text}"), line.ending);
    }

    /// Blank lines and comments that belong to no block.
    fn between(&self, lines: Range<usize>, page: &mut Page) {
        self.section.lines[lines].iter().for_each(|line| self.plain(line, page));
    }

    fn plain(&self, line: &Line, page: &mut Page) {
        let text = self.section.at(line.span);
        match line.kind {
            LineKind::Blank => page.push(Role::Blank, self.marked(line, String::new()), line.ending),
            LineKind::Comment if text.starts_with(crate::notation::is_blank) => {
                page.push(Role::Other, format!("  {}", self.inner(line)), line.ending);
            }
            LineKind::Comment => page.push(
                Role::Comment,
                text.trim_end_matches(crate::notation::is_blank).to_owned(),
                line.ending,
            ),
            _ => self.as_it_stands(Role::Other, line, page),
        }
    }

    fn as_it_stands(&self, role: Role, line: &Line, page: &mut Page) {
        page.push(role, self.section.at(line.span).to_owned(), line.ending);
    }

    /// A line without the blanks at its ends.
    fn inner(&self, line: &Line) -> &str {
        self.section.at(line.span).trim_matches(crate::notation::is_blank)
    }

    /// `text`, behind the byte order mark if the line has one.
    fn marked(&self, line: &Line, text: String) -> String {
        if self.section.at(line.span).starts_with('\u{feff}') { format!("\u{feff}{text}") } else { text }
    }

    /// The puzzle or lesson that a statement belongs to.
    fn puzzle(&self, statement: usize) -> Option<&Puzzle> {
        let owns = |range: &Range<u32>| (range.start as usize..range.end as usize).contains(&statement);
        let item = self.section.items.iter().position(|item| owns(&item.statements))?;
        match self.meaning.entries.get(item)? {
            Entry::Puzzle(puzzle) => Some(puzzle),
            _ => None,
        }
    }

    /// The side of the board that a statement speaks of, in cells, where that is known.
    fn side(&self, statement: usize) -> Option<u8> {
        self.puzzle(statement)?.layout.as_ref().map(|layout| layout.size().side())
    }
}
