//! How a claim's and a walk's parsers stand on a line: places, keywords, and what was expected.
//!
//! Within a line the parsers are nom's, over what is left of the line. `Err::Error` means "not here, try something
//! else"; `Err::Failure` is final, and carries what was expected where. Neither leaves the room: a [`Fault`] does.

use super::line::{closed_string, is_blank, is_quote};
use super::{Fault, FaultKind, Span};
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while, take_while1};
use nom::character::complete::satisfy;
use nom::combinator::{eof, peek, recognize};
use nom::error::{ErrorKind, ParseError};
use nom::sequence::{delimited, terminated};
use nom::{Err, IResult, Offset, Parser};

/// A line less the comment at its end and the blanks at both ends. A `#` begins a comment at the beginning or after a
/// blank, but not in a string.
pub(super) fn content(line: &str) -> &str {
    let mut at = 0;
    let mut after_blank = true;
    while let Some(c) = line[at..].chars().next() {
        if c == '#' && after_blank {
            break;
        }
        after_blank = is_blank(c);
        at = if is_quote(c) {
            closed_string(&line[at..]).map_or(line.len(), |(rest, _)| line.len() - rest.len())
        } else {
            at + c.len_utf8()
        };
    }
    line[..at].trim_matches(is_blank)
}

/// The place in `text` of a piece of it.
pub(super) fn place(text: &str, piece: &str) -> Span {
    let start = text.offset(piece);
    Span::new(start, start + piece.len())
}

/// What a parser gives: what is left of the line, and what it has read.
pub(super) type Read<'a, T> = IResult<&'a str, T, Miss<'a>>;

/// A parser of a piece of a line.
pub(super) trait Piece<'a, T>: Parser<&'a str, Output = T, Error = Miss<'a>> {}

impl<'a, T, P: Parser<&'a str, Output = T, Error = Miss<'a>>> Piece<'a, T> for P {}

/// What a parser missed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Miss<'a> {
    /// What was left of the line there.
    rest: &'a str,
    /// What is wrong with it.
    why: Why,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Why {
    /// This was expected, and something else stands there, or nothing.
    Expected(&'static str, In),
    /// A string begins and does not end.
    QuoteOpen,
}

/// What was being read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum In {
    Step,
    Reason,
    Show,
}

impl<'a> ParseError<&'a str> for Miss<'a> {
    fn from_error_kind(rest: &'a str, _: ErrorKind) -> Self {
        Miss { rest, why: Why::Expected("something else", In::Step) }
    }

    fn append(_: &'a str, _: ErrorKind, inner: Self) -> Self {
        inner
    }
}

impl Miss<'_> {
    /// The same for people: at the word that cannot be read, or at the line's end if the line ends too early.
    fn fault(self, text: &str) -> Fault {
        let rest = self.rest.trim_start_matches(is_blank);
        let (kind, len) = match self.why {
            Why::QuoteOpen => (FaultKind::QuoteOpen, rest.len()),
            Why::Expected(what, _) if rest.is_empty() => (FaultKind::StepIncomplete(what), 0),
            Why::Expected(what, In::Step) => (FaultKind::StepUnreadable(what), word_len(rest)),
            Why::Expected(what, In::Reason) => (FaultKind::ReasonUnreadable(what), word_len(rest)),
            Why::Expected(what, In::Show) => (FaultKind::ShowUnreadable(what), word_len(rest)),
        };
        let start = place(text, rest).range().start;
        Fault { span: Span::new(start, start + len), kind }
    }
}

/// The length in bytes of the word that `rest` begins with, or of its first character if that is a comma.
fn word_len(rest: &str) -> usize {
    if rest.starts_with(',') {
        return 1;
    }
    rest.find(|c| is_blank(c) || c == ',').unwrap_or(rest.len())
}

/// All of a line of `text`, or what is wrong with it.
pub(super) fn all<'a, T>(text: &str, line: &'a str, parser: impl Piece<'a, T>) -> Result<T, Fault> {
    match terminated(parser, expect("nothing more on this line", eof)).parse(line) {
        Ok((_, read)) => Ok(read),
        Err(Err::Error(miss) | Err::Failure(miss)) => Err(miss.fault(text)),
        // The parsers here are `complete` ones.
        Err(Err::Incomplete(_)) => Err(Miss::from_error_kind(line, ErrorKind::Complete).fault(text)),
    }
}

/// What must stand here: half a sentence for people, if it does not.
pub(super) fn expect<'a, T>(what: &'static str, mut parser: impl Piece<'a, T>) -> impl Piece<'a, T> {
    move |rest: &'a str| {
        parser.parse(rest).map_err(|err| match err {
            Err::Error(_) => Err::Failure(Miss { rest, why: Why::Expected(what, In::Step) }),
            other => other,
        })
    }
}

/// The same parser, as part of a reason or of a `show` line: for what it expects.
pub(super) fn inside<'a, T>(part: In, mut parser: impl Piece<'a, T>) -> impl Piece<'a, T> {
    move |rest: &'a str| {
        parser.parse(rest).map_err(|err| match err {
            Err::Failure(Miss { rest, why: Why::Expected(what, In::Step) }) => {
                Err::Failure(Miss { rest, why: Why::Expected(what, part) })
            }
            other => other,
        })
    }
}

/// Blanks, or none.
pub(super) fn blanks0(rest: &str) -> Read<'_, &str> {
    take_while(is_blank).parse(rest)
}

/// At least one blank.
pub(super) fn blanks(rest: &str) -> Read<'_, &str> {
    take_while1(is_blank).parse(rest)
}

/// A comma, with the blanks about it.
pub(super) fn comma(rest: &str) -> Read<'_, &str> {
    delimited(blanks0, tag(","), blanks0).parse(rest)
}

/// A keyword: a blank, a comma, a quote or the line's end must follow it.
pub(super) fn key<'a>(word: &'static str) -> impl Piece<'a, &'a str> {
    let end = alt((recognize(satisfy(|c| c == ',' || is_blank(c) || is_quote(c))), eof));
    terminated(tag(word), peek(end))
}

/// A string with its quotes.
pub(super) fn string(rest: &str) -> Read<'_, &str> {
    peek(satisfy(is_quote)).parse(rest)?;
    closed_string(rest).ok_or(Err::Failure(Miss { rest, why: Why::QuoteOpen }))
}
