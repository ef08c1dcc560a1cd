//! What could not be read, and where.

use super::{Keyword, Span};

/// One place that could not be read as it stands. Reading goes on behind it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fault {
    /// Where.
    pub span: Span,
    /// What is wrong there.
    pub kind: FaultKind,
}

/// What is wrong at a [`Fault`].
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum FaultKind {
    /// No statement has this name; it is read as the one that it nearly is, if there is just one.
    UnknownStatement(Option<Keyword>),
    /// The statement needs a value after its keyword.
    ValueMissing(Keyword),
    /// What stands after the keyword does not belong there; why, as half a sentence.
    ValueUnreadable(Keyword, &'static str),
    /// A string is not closed on its line.
    QuoteOpen,
    /// A brace is not closed, or none is open.
    BraceOpen,
    /// A statement is indented, so that it looks like a line of the block above it.
    StatementIndented(Keyword),
    /// Indented lines that no statement begins a block for; the block that they look like, if they look like one.
    BlockWithoutStart(Option<Keyword>),
    /// A statement stands twice where it may stand once; where it stood first.
    RepeatedStatement(Keyword, Span),
    /// A byte or character that has no place in a text file.
    Encoding(BadText),
    /// A line of this statement's block stands in column 1.
    NotIndented(Keyword),
    /// A fact that comes once in a puzzle comes again after its grid: a `puzzle` line is lost here.
    PuzzleMissing(Keyword),
    /// A `puzzle`, `lesson` or `answer` has a title where its id should be.
    IdMissing(Keyword),
    /// A line of a grid holds something that is no symbol.
    RowUnreadable(char),
    /// A token of a sheet that is no mark.
    MarkUnreadable,
    /// A claim or a line of a walk that cannot be read; what was expected there, as half a sentence.
    StepUnreadable(&'static str),
    /// A claim or a line of a walk that ends too early; what is still to come, as half a sentence.
    StepIncomplete(&'static str),
    /// The reason after `by` cannot be read; what was expected there, as half a sentence.
    ReasonUnreadable(&'static str),
    /// A `show` line that cannot be read; what was expected there, as half a sentence.
    ShowUnreadable(&'static str),
}

impl FaultKind {
    /// Whether the line is read nevertheless, as the statement that it nearly is.
    pub fn is_read(&self) -> bool {
        matches!(self, FaultKind::UnknownStatement(Some(_)) | FaultKind::StatementIndented(_))
    }
}

/// What has no place in a text file.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BadText {
    /// Bytes that are not UTF-8.
    NotUtf8,
    /// A carriage return without a line feed.
    LoneReturn,
    /// A control character.
    Control(char),
    /// A character that turns the direction of writing for what follows, so that a line is not what it looks like.
    Turning(char),
}
