//! A puzzle in another dress: turned, mirrored, or with other names for its digits; and with it all that is told of it, its
//! solution, sheets, remembered facts and walkthroughs, the claims in braces, those of the text before it too, its answer
//! elsewhere, the lessons that start from it. So what was true is true afterwards, and what was false is false in the same way.
//!
//! Signs are changed where they stand: what stands between them, comments, frames and blanks, stays. Text outside of braces
//! is never read, and so it is not changed; [`Dress::figures`] says where it names something that may not hold any more.

mod geometry;
mod grids;
mod names;
mod prose;
#[cfg(test)]
mod tests;
mod tied;
mod written;

pub use names::Names;
pub use tied::Tied;
pub(super) use tied::fixed;

use super::Change;
use crate::board::{Cell, Layout};
use crate::book::{Answer, Book, Puzzle, has_rows};
use crate::notation::{Item, Keyword, LineKind, Section, Span, Statement};
use crate::sameness::Transformation;
use std::collections::BTreeMap;

/// What a puzzle is put into.
#[derive(Clone, Debug)]
pub struct Dress {
    how: Transformation,
    back: Transformation,
    from: Layout,
    to: Layout,
}

impl Dress {
    /// What puts a puzzle that stands in a section into another dress.
    ///
    /// # Errors
    /// Why it cannot be put into it; what turns, mirrors or renames does it all, and nothing else.
    ///
    /// # Panics
    /// If the transformation is for grids of another size.
    pub fn of(section: &Section, puzzle: &Puzzle, how: Transformation) -> Result<Dress, Tied> {
        let from = puzzle.layout.as_deref().ok_or(Tied::Unread)?.clone();
        assert_eq!(from.size(), how.size(), "a transformation is for grids of one size");
        let stay_neighbours = |lines: &[u8]| lines.is_sorted() || lines.iter().rev().is_sorted();
        if !stay_neighbours(how.rows()) || !stay_neighbours(how.columns()) {
            return Err(Tied::Neighbours);
        }
        let back = how.inverse();
        let to = geometry::moved(&from, &back).ok_or(Tied::Unread)?;
        let dress = Dress { how, back, from, to };
        tied::check(&dress, section, puzzle)?;
        Ok(dress)
    }

    /// What changes in the puzzle itself.
    pub fn puzzle(&self, section: &Section, puzzle: &Puzzle) -> Vec<Change> {
        let mut dresser = Dresser::new(self, section);
        for statement in &section.statements[puzzle.statements.clone()] {
            dresser.geometry(statement);
            dresser.block(puzzle, statement);
        }
        dresser.missing_geometry(puzzle);
        dresser.changes()
    }

    /// What changes in its answer, where that is kept apart from it: in this section of a file.
    ///
    /// # Errors
    /// If the answer cannot be read.
    pub fn answer(&self, book: &Book, at: usize, answer: &Answer) -> Result<Vec<Change>, Tied> {
        let section = &book.tree.sections[at];
        let is_broken = section.statements[answer.statement].broken;
        if is_broken || answer.board(section, &self.from).is_err() {
            return Err(Tied::Unread);
        }
        let mut dresser = Dresser::new(self, section);
        // In another file its rows are spaced as is usual, whatever the boxes are.
        let id = answer.id.as_ref().map(|id| &id.text);
        let is_beside = book.puzzles().any(|puzzle| puzzle.id.as_ref().map(|own| &own.text) == id);
        dresser.grid(&section.statements[answer.statement], is_beside);
        Ok(dresser.changes())
    }

    /// What changes in a lesson that starts from it.
    ///
    /// # Errors
    /// If a part of the lesson cannot be read.
    pub fn lesson(&self, section: &Section, lesson: &Puzzle) -> Result<Vec<Change>, Tied> {
        // Its sheets are not read, as it has no layout of its own.
        let has_sheet = lesson.blocks(section, Keyword::Work).any(|(_, sheet)| has_rows(section, sheet));
        if has_sheet || !tied::has_all_lines(section, lesson) {
            return Err(Tied::Unread);
        }
        let mut dresser = Dresser::new(self, section);
        for statement in &section.statements[lesson.statements.clone()] {
            dresser.lines(statement);
        }
        Ok(dresser.changes())
    }

    /// What changes in the text of a preface or a part that speaks of it.
    pub fn text(&self, section: &Section, item: &Item) -> Vec<Change> {
        let mut dresser = Dresser::new(self, section);
        for statement in section.statements_of(item) {
            dresser.lines(statement);
        }
        dresser.changes()
    }

    /// Where a cell comes to stand.
    fn cell(&self, cell: Cell) -> Cell {
        self.back.source(cell)
    }

    /// Whether cells change their place.
    fn moves(&self) -> bool {
        !self.how.stays()
    }
}

/// What is written in place of what in one section.
struct Dresser<'a> {
    dress: &'a Dress,
    section: &'a Section,
    /// Words and signs.
    parts: BTreeMap<Span, String>,
    /// What is no part of a line, or all of it.
    whole: Vec<Change>,
}

impl<'a> Dresser<'a> {
    fn new(dress: &'a Dress, section: &'a Section) -> Dresser<'a> {
        Dresser { dress, section, parts: BTreeMap::new(), whole: Vec::new() }
    }

    fn put(&mut self, span: Span, text: String) {
        if self.section.at(span) != text {
            self.parts.insert(span, text);
        }
    }

    /// The claims, reasons and braces in a block.
    fn lines(&mut self, statement: &Statement) {
        let section = self.section;
        for line in section.block(statement) {
            match line.kind {
                LineKind::Claim => section.claim(line).into_iter().for_each(|claim| self.claim(claim)),
                LineKind::Step => section.step(line).into_iter().for_each(|step| self.step(step)),
                LineKind::Prose => self.braces(line.span),
                _ => {}
            }
        }
    }

    /// One change a line, in order of place.
    fn changes(self) -> Vec<Change> {
        let line_of = |span: Span| self.section.lines.partition_point(|line| line.span.start <= span.start);
        let mut changes: Vec<(usize, Change)> = Vec::new();
        for (span, text) in self.parts {
            let line = line_of(span);
            match changes.last_mut().filter(|(other, _)| *other == line) {
                Some((_, change)) => {
                    let between = Span { start: change.span.end, end: span.start };
                    change.text.push_str(self.section.at(between));
                    change.text.push_str(&text);
                    change.span = change.span.to(span);
                }
                None => changes.push((line, Change { span, text })),
            }
        }
        let mut changes: Vec<Change> =
            changes.into_iter().map(|(_, change)| change).chain(self.whole).collect();
        changes.sort_by_key(|change| change.span);
        changes
    }
}
