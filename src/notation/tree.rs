//! The syntax tree: every byte of a file, and what each line was read as.

use super::{Claim, Fault, Keyword, Span, StepLine, Text};
use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A file, read. Its sections, one after the other, are the whole text.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Tree {
    /// At least one; each but the first begins with a `part`, `puzzle`, `lesson` or `answer` in column 1. Shared, so that a
    /// tree that differs in one section costs one section.
    pub sections: Vec<Arc<Section>>,
}

/// A stretch of a file that is read by itself: what it is read as depends on its own text alone. So a change inside a
/// section costs the reading of that section, however long the file is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Section {
    /// Its text, to the byte.
    pub text: Text,
    /// Its lines: together they tile the text.
    pub lines: Box<[Line]>,
    /// Its statements, in order.
    pub statements: Box<[Statement]>,
    /// What its statements belong to, in order; together they tile the statements. At least one.
    pub items: Box<[Item]>,
    /// The claims of its `known` blocks, in order, each with the place where it begins.
    pub(super) claims: Box<[(u32, Claim)]>,
    /// What the lines of its walks say, likewise.
    pub(super) steps: Box<[(u32, StepLine)]>,
    /// What could not be read, in order of place.
    pub faults: Box<[Fault]>,
}

/// One line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Line {
    /// Its text, without the line's end.
    pub span: Span,
    /// How it ends.
    pub ending: Ending,
    /// What it was read as.
    pub kind: LineKind,
}

/// How a line ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ending {
    /// `\n`
    Lf,
    /// `\r\n`
    CrLf,
    /// `\r` alone, which is read as a line's end and reported.
    Cr,
    /// The text ends here.
    None,
}

impl Ending {
    /// The characters themselves.
    pub fn text(self) -> &'static str {
        match self {
            Ending::Lf => "\n",
            Ending::CrLf => "\r\n",
            Ending::Cr => "\r",
            Ending::None => "",
        }
    }
}

/// What a line was read as.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LineKind {
    /// Blanks only.
    Blank,
    /// A comment and nothing else.
    Comment,
    /// A statement.
    Statement,
    /// A frame of a grid, drawn with `+ - = |`; it says nothing.
    Frame,
    /// A row of a grid: [`Section::symbols`] gives its cells.
    Row,
    /// A whole grid in one line of a list, and behind a blank its id: [`Section::symbols`] gives its cells.
    Listed,
    /// A row of a sheet: [`Section::tokens`] gives its pieces.
    Tokens,
    /// A claim of a `known` block: [`Section::claim`] has it.
    Claim,
    /// A line of a walk: [`Section::step`] has what it says.
    Step,
    /// A line of prose.
    Prose,
    /// A line that could not be read, or that this edition only keeps.
    Kept,
}

/// A statement and its block.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Statement {
    /// What it says, after a slip of the pen was read as what it nearly is; `None` where it is no known statement.
    pub keyword: Option<Keyword>,
    /// The keyword as written; empty where the block's first line is lost.
    pub word: Span,
    /// What follows on its line.
    pub values: Box<[Value]>,
    /// The line that it stands on, as an index into [`Section::lines`]; for a block whose first line is lost, the first
    /// line of the block.
    pub line: u32,
    /// The lines of its block, as indices into [`Section::lines`]; blank lines and comments at its end do not belong to it.
    pub block: Range<u32>,
    /// Something in it or in its block could not be read: it is kept, not judged.
    pub broken: bool,
}

/// A value on a statement's line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Value {
    /// As written, with its quotes.
    pub span: Span,
    /// Whether it is a string.
    pub quoted: bool,
}

/// What statements belong to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Item {
    /// What it is.
    pub kind: ItemKind,
    /// Its statements, as indices into [`Section::statements`]; the first is the head, but in a preface and after a lost
    /// `puzzle` line.
    pub statements: Range<u32>,
    /// Its `puzzle` line is lost, or a block of it has lost its first line: it is kept, not judged.
    pub unsure: bool,
}

/// What an [`Item`] is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ItemKind {
    /// What stands before the first part, puzzle, lesson or answer: about the file, and for all that follow.
    Preface,
    /// A chapter, and what holds in it.
    Part,
    /// A puzzle.
    Puzzle,
    /// A page that teaches.
    Lesson,
    /// A solution kept apart from its puzzle.
    Answer,
}

impl ItemKind {
    /// Whether it stands before puzzles and holds for them.
    pub fn is_opening(self) -> bool {
        matches!(self, ItemKind::Preface | ItemKind::Part)
    }
}

/// What stands on a line, if that is one of those with something on it.
fn said_on<'a, T>(line: &Line, all: &'a [(u32, T)]) -> Option<&'a T> {
    let first = all.partition_point(|(start, _)| *start < line.span.start);
    all.get(first).filter(|(start, _)| *start < line.span.end).map(|(_, says)| says)
}

impl Tree {
    /// The text of some sections, to the byte.
    pub fn text(&self, sections: Range<usize>) -> String {
        self.sections[sections].iter().map(|section| &*section.text).collect()
    }

    /// The sections with the place of each in the file, in bytes.
    pub fn placed(&self) -> impl Iterator<Item = (usize, &Section)> {
        self.sections.iter().scan(0, |base, section| {
            let here = *base;
            *base += section.text.len();
            Some((here, &**section))
        })
    }
}

impl fmt::Display for Tree {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.sections.iter().try_for_each(|section| section.fmt(f))
    }
}

/// Line by line, so that what is printed is what the tree holds and not merely its source.
impl fmt::Display for Section {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.lines.iter().try_for_each(|line| write!(f, "{}{}", line.span.of(&self.text), line.ending.text()))
    }
}

impl Section {
    /// The text at `span`.
    pub fn at(&self, span: Span) -> &str {
        span.of(&self.text)
    }

    /// What a line says as one of a walk, if it is one.
    pub fn step(&self, line: &Line) -> Option<&StepLine> {
        said_on(line, &self.steps)
    }

    /// What a line claims as one of a `known` block, if it is one.
    pub fn claim(&self, line: &Line) -> Option<&Claim> {
        said_on(line, &self.claims)
    }

    /// The lines of a statement's block.
    pub fn block(&self, statement: &Statement) -> &[Line] {
        &self.lines[statement.block.start as usize..statement.block.end as usize]
    }

    /// The statements of an item, with its head.
    pub fn statements_of(&self, item: &Item) -> &[Statement] {
        &self.statements[item.statements.start as usize..item.statements.end as usize]
    }

    /// What a value says: a word as it stands; a string without its quotes, `\"` and `\\` resolved.
    pub fn value(&self, value: Value) -> String {
        let text = self.at(value.span);
        if !value.quoted {
            return text.to_owned();
        }
        let mut left = text.chars();
        let opening = left.next();
        let closes = |c: char| c == '"' || (super::is_quote(c) && opening != Some('"'));
        let mut said = String::with_capacity(text.len());
        loop {
            let inner = left.as_str();
            let plain = inner.find(|c| c == '\\' || closes(c)).unwrap_or(inner.len());
            said.push_str(&inner[..plain]);
            left = inner[plain..].chars();
            if left.next() != Some('\\') {
                return said;
            }
            said.extend(left.next());
        }
    }
}
