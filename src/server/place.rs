//! What stands at a place of a text.

use super::convert::{byte_at, down, range_in};
use super::state::Snapshot;
use crate::board::{Cell, Digit};
use crate::book::{Board, Entry, Meaning, Puzzle, Sheet};
use crate::notation::{Item, Keyword, Line, Section, Span, Statement, is_blank};
use std::ops::{Range as Lined, RangeInclusive};
use tower_lsp::ls_types::{Position, Range};

impl Snapshot {
    /// The range of a span of one of its sections, without a look at the others.
    pub fn range(&self, section: usize, span: Span) -> Range {
        let range = range_in(&self.book.tree.sections[section], span, self.encoding);
        down(range, self.lines_before(section))
    }

    /// How many lines stand before a section.
    pub fn lines_before(&self, section: usize) -> u32 {
        self.book.lines_before(section)
    }

    /// The sections that have one of these lines, from the first to before the last.
    pub fn sections_in(&self, lines: &Lined<u32>) -> RangeInclusive<usize> {
        self.book.section_with(lines.start)..=self.book.section_with(lines.end.saturating_sub(1))
    }
}

/// A place within a section.
pub struct Place<'a> {
    /// Which section of the book.
    pub at: usize,
    /// The section.
    pub section: &'a Section,
    /// What it means.
    pub meaning: &'a Meaning,
    /// The place, in bytes of the section.
    pub byte: u32,
}

/// A grid of a puzzle, or a sheet.
#[derive(Clone, Copy)]
pub enum Block<'a> {
    /// Givens, a position, a solution.
    Board(&'a Board),
    /// A solver's sheet.
    Sheet(&'a Sheet),
}

impl Block<'_> {
    /// Where a cell of it stands.
    pub fn place(&self, section: &Section, cell: Cell) -> Span {
        match self {
            Block::Board(board) => board.place(section, cell),
            Block::Sheet(sheet) => sheet.place(section, cell),
        }
    }
}

impl<'a> Place<'a> {
    /// The place that a client points at.
    pub fn of(snapshot: &'a Snapshot, position: Position) -> Place<'a> {
        let byte = byte_at(&snapshot.book, position, snapshot.encoding);
        let at = snapshot.book.section_at(byte);
        Place {
            at,
            section: &snapshot.book.tree.sections[at],
            meaning: &snapshot.book.meanings[at],
            byte: Span::new(byte - snapshot.book.begin(at), 0).start,
        }
    }

    /// The line that it stands on, with its number in the section.
    pub fn line(&self) -> Option<(u32, &'a Line)> {
        let begun = self.section.lines.partition_point(|line| line.span.start <= self.byte);
        let number = begun.checked_sub(1)?;
        Some((u32::try_from(number).ok()?, &self.section.lines[number]))
    }

    /// The statement on whose line, or in whose block, it stands, with its number in the section.
    pub fn statement(&self) -> Option<(usize, &'a Statement)> {
        let (line, _) = self.line()?;
        let begun = self.section.statements.partition_point(|statement| statement.line <= line);
        let number = begun.checked_sub(1)?;
        let statement = &self.section.statements[number];
        (line < statement.block.end.max(statement.line + 1)).then_some((number, statement))
    }

    /// Which of the section's items it stands in.
    fn item_number(&self) -> Option<usize> {
        let (line, _) = self.line()?;
        let begun =
            self.section.statements.partition_point(|statement| statement.line <= line).checked_sub(1)?;
        let number = u32::try_from(begun).ok()?;
        self.section.items.iter().position(|item| item.statements.contains(&number))
    }

    /// The item that it stands in.
    pub fn item(&self) -> Option<&'a Item> {
        self.section.items.get(self.item_number()?)
    }

    /// The puzzle or lesson that it stands in.
    pub fn puzzle(&self) -> Option<&'a Puzzle> {
        match self.meaning.entries.get(self.item_number()?)? {
            Entry::Puzzle(puzzle) => Some(puzzle),
            _ => None,
        }
    }

    /// The grid or sheet that it stands in.
    pub fn block(&self) -> Option<Block<'a>> {
        let (number, statement) = self.statement()?;
        let puzzle = self.puzzle()?;
        let board = match statement.keyword? {
            Keyword::Givens => &puzzle.givens,
            Keyword::Position => &puzzle.position,
            Keyword::Solution => &puzzle.solution,
            Keyword::Work => {
                return puzzle.sheets.iter().find(|sheet| sheet.statement == number).map(Block::Sheet);
            }
            _ => return None,
        };
        board.as_ref().map(Block::Board)
    }

    /// The cell of its grid or sheet, and where that stands.
    pub fn cell(&self) -> Option<(Block<'a>, Cell, Span)> {
        let block = self.block()?;
        let layout = self.puzzle()?.layout.as_ref()?;
        let here = |span: &Span| span.start <= self.byte && self.byte < span.end;
        let places = layout.size().all_cells().map(|cell| (cell, block.place(self.section, cell)));
        let found = places.into_iter().find(|(_, span)| here(span));
        found.map(|(cell, span)| (block, cell, span))
    }

    /// The sheet that it stands in.
    pub fn sheet(&self) -> Option<&'a Sheet> {
        match self.block() {
            Some(Block::Sheet(sheet)) => Some(sheet),
            _ => None,
        }
    }

    /// The digit of a grid or sheet that it stands on, also one of several marks, and where that stands.
    pub fn digit(&self) -> Option<(Digit, Span)> {
        let (_, _, span) = self.cell()?;
        let size = self.puzzle()?.layout.as_ref()?.size();
        let symbol = self.section.at(span).chars().nth((self.byte - span.start) as usize)?;
        let digit = Digit::from_symbol(symbol).filter(|digit| size.digits().contains(*digit))?;
        Some((digit, Span::new(self.byte as usize, self.byte as usize + symbol.len_utf8())))
    }

    /// The word that it stands in or just behind, parted by blanks, commas, braces and quotes.
    pub fn word(&self) -> Option<Span> {
        let (_, line) = self.line()?;
        let text = self.section.at(line.span);
        let at = (self.byte.saturating_sub(line.span.start) as usize).min(text.len());
        let parts = |c: char| is_blank(c) || matches!(c, ',' | '{' | '}' | '"' | ':');
        let start = text[..at]
            .rfind(parts)
            .map_or(0, |before| before + text[before..].chars().next().map_or(1, char::len_utf8));
        let end = text[at..].find(parts).map_or(text.len(), |behind| at + behind);
        (start < end).then(|| Span::new(start, end).shifted(line.span.start as usize))
    }
}
