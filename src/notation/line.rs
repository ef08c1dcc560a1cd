//! What stands within one line: blanks, strings, words, symbols and tokens.

use super::{Line, LineKind, Section, Span, Value};
use nom::branch::alt;
use nom::bytes::complete::{tag, take_while, take_while1};
use nom::character::complete::{anychar, none_of, satisfy};
use nom::combinator::{eof, peek, recognize, value};
use nom::multi::many0_count;
use nom::sequence::{delimited, pair, preceded, terminated};
use nom::{IResult, Parser};

/// Whether `c` only parts things: a space, a tab, a no-break or a typographic space.
pub fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{a0}' | '\u{2000}'..='\u{200a}' | '\u{3000}')
}

/// Whether `c` opens or closes a string: `"`, or a quote as typesetters and word processors write it.
pub fn is_quote(c: char) -> bool {
    matches!(c, '"' | '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}')
}

/// Whether `c` parts the cells of a grid: a blank or a bar.
pub fn is_gap(c: char) -> bool {
    c == '|' || is_blank(c)
}

/// Whether `c` stands for an empty cell.
pub fn is_open(c: char) -> bool {
    matches!(c, '.' | '_' | '0')
}

/// Whether `c` stands for one cell of a grid.
pub fn is_cell(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '.' | '_')
}

/// `span` without the blanks at both of its ends.
pub(super) fn trimmed(text: &str, span: Span) -> Span {
    let inner = span.of(text);
    let start = span.start as usize + (inner.len() - inner.trim_start_matches(is_blank).len());
    Span::new(start, start + inner.trim_matches(is_blank).len())
}

/// The lower-case word of two letters or more that `line` begins with, if it is followed by a blank, a quote or nothing.
pub(super) fn first_word(line: &str) -> Option<&str> {
    fn word(line: &str) -> IResult<&str, &str> {
        let body = pair(
            satisfy(|c| c.is_ascii_lowercase()),
            take_while1(|c: char| c.is_ascii_lowercase() || c == '-'),
        );
        terminated(recognize(body), ends_word).parse(line)
    }
    word(line).ok().map(|(_, word)| word)
}

/// Succeeds, taking nothing, where a keyword may end.
fn ends_word(rest: &str) -> IResult<&str, ()> {
    value((), peek(alt((eof, recognize(satisfy(|c| is_blank(c) || is_quote(c))))))).parse(rest)
}

/// What stands behind a keyword.
pub(super) struct Behind {
    /// In order.
    pub values: Vec<Value>,
    /// Where a string that is not closed begins.
    pub open_quote: Option<Span>,
    /// What no blank parts from its neighbour.
    pub unparted: Option<Span>,
}

/// Reads the values behind a keyword, up to a comment or the end of the line.
pub(super) fn values(text: &str, span: Span) -> Behind {
    let mut read = Behind { values: Vec::new(), open_quote: None, unparted: None };
    let mut parted = false;
    let mut left = span.of(text);
    loop {
        let trimmed = left.trim_start_matches(is_blank);
        parted |= trimmed.len() < left.len();
        left = trimmed;
        if left.is_empty() || (parted && left.starts_with('#')) {
            return read;
        }
        let start = span.end as usize - left.len();
        let (rest, quoted) = match (closed_string(left), word(left)) {
            (Ok((rest, _)), _) => (rest, true),
            (_, Ok((rest, _))) => (rest, false),
            _ => {
                read.open_quote.get_or_insert(Span::new(start, span.end as usize));
                ("", true)
            }
        };
        let here = Span::new(start, span.end as usize - rest.len());
        if !parted {
            read.unparted.get_or_insert(here);
        }
        read.values.push(Value { span: here, quoted });
        parted = false;
        left = rest;
    }
}

/// A string with its quotes. What a typographic quote opens is closed by any quote but its own kind of opening.
pub(super) fn closed_string(text: &str) -> IResult<&str, &str> {
    let plain = delimited(
        tag("\""),
        many0_count(alt((recognize(preceded(tag("\\"), anychar)), recognize(none_of("\"\\"))))),
        tag("\""),
    );
    let typographic = delimited(
        satisfy(|c| c != '"' && is_quote(c)),
        many0_count(alt((
            recognize(preceded(tag("\\"), anychar)),
            recognize(satisfy(|c| c != '\\' && !is_quote(c))),
        ))),
        satisfy(is_quote),
    );
    alt((recognize(plain), recognize(typographic))).parse(text)
}

/// A word: anything up to a blank or a quote that does not begin with a quote.
fn word(text: &str) -> IResult<&str, &str> {
    recognize(pair(satisfy(|c| !is_quote(c) && !is_blank(c)), take_while(|c| c != '"' && !is_blank(c))))
        .parse(text)
}

/// Whether a line is a frame drawn around or between rows: it says nothing.
pub(super) fn is_frame(line: &str) -> bool {
    line.contains(['+', '-', '=']) && line.chars().all(|c| is_gap(c) || matches!(c, '+' | '-' | '='))
}

/// `line` without a comment that a blank parts from what stands before it (or that it begins with).
pub(super) fn without_comment(line: &str) -> &str {
    let begins = |at: &usize| line[..*at].chars().next_back().is_none_or(is_blank);
    memchr::memchr_iter(b'#', line.as_bytes()).find(begins).map_or(line, |at| &line[..at])
}

/// The first character of a grid's row that stands for no cell, with its offset; `None` where all do.
pub(super) fn bad_symbol(row: &str) -> Option<(usize, char)> {
    row.char_indices().find(|&(_, c)| !is_cell(c) && !is_gap(c))
}

/// Whether a line can only be a row of a grid, as nearly every row can: no word, no comment, no frame, nothing wrong.
pub(super) fn is_plain_row(line: &str) -> bool {
    let plain = |byte: u8| {
        byte.is_ascii_digit() || byte.is_ascii_uppercase() || matches!(byte, b'.' | b'_' | b' ' | b'|')
    };
    !line.starts_with('|') && line.bytes().all(plain)
}

/// The pieces of a row that blanks and bars part, with the offset of each.
pub(super) fn pieces(row: &str) -> impl Iterator<Item = (usize, &str)> {
    row.split(is_gap)
        .filter(|piece| !piece.is_empty())
        .map(|piece| (piece.as_ptr() as usize - row.as_ptr() as usize, piece))
}

/// Whether a piece of a sheet's row is one token, or several cells in one piece.
pub(super) fn is_token(piece: &str) -> bool {
    fn token(piece: &str) -> IResult<&str, &str> {
        let marks = recognize(pair(
            take_while1(|c: char| c != '0' && c.is_ascii_alphanumeric()),
            take_while(|c| matches!(c, '?' | '!')),
        ));
        alt((marks, take_while1(is_cell))).parse(piece)
    }
    let cells = piece.chars().all(is_cell);
    cells || matches!(token(piece), Ok(("", all)) if all.len() - all.trim_end_matches(['?', '!']).len() <= 1)
}

impl Section {
    /// The cells of a grid's row: where each stands, and its symbol as written (`.`, `_` and `0` are empty cells).
    /// Nothing for lines of other kinds.
    pub fn symbols(&self, line: &Line) -> impl Iterator<Item = (Span, char)> {
        let row = match line.kind {
            LineKind::Row => without_comment(self.at(line.span)),
            LineKind::Listed => self.at(line.span).split(is_blank).next().unwrap_or_default(),
            _ => "",
        };
        let base = line.span.start as usize;
        // Every symbol of a cell is one byte, and no byte of another character looks like one.
        let cells = row.bytes().enumerate().filter(|&(_, byte)| is_cell(char::from(byte)));
        cells.map(move |(at, byte)| (Span::new(base + at, base + at + 1), char::from(byte)))
    }

    /// The pieces of a sheet's row, as blanks and bars part them. Nothing for lines of other kinds.
    pub fn tokens(&self, line: &Line) -> impl Iterator<Item = Span> {
        let row = match line.kind {
            LineKind::Tokens => without_comment(self.at(line.span)),
            _ => "",
        };
        let base = line.span.start as usize;
        pieces(row).map(move |(at, piece)| Span::new(base + at, base + at + piece.len()))
    }
}
