//! What stands within one line: blanks, strings, words, symbols and tokens.

use super::{Line, LineKind, Section, Span, Value};
use nom::branch::alt;
use nom::bytes::complete::{take_while, take_while1};
use nom::combinator::recognize;
use nom::sequence::pair;
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
pub const fn is_cell(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '.' | '_')
}

/// `span` without the blanks at both of its ends.
pub(super) fn trimmed(text: &str, span: Span) -> Span {
    let inner = span.of(text);
    let bytes = inner.as_bytes();
    let spaces = bytes.iter().take_while(|&&byte| byte == b' ').count();
    // Nearly always spaces are the only blanks, and none stand at the end.
    if [bytes.get(spaces), bytes.last()].iter().all(|end| end.is_some_and(u8::is_ascii_graphic)) {
        return Span::new(span.start as usize + spaces, span.end as usize);
    }
    let start = span.start as usize + (inner.len() - inner.trim_start_matches(is_blank).len());
    Span::new(start, start + inner.trim_matches(is_blank).len())
}

/// The lower-case word of two letters or more that `line` begins with, if it is followed by a blank, a quote or nothing.
pub(super) fn first_word(line: &str) -> Option<&str> {
    let within = |byte: &u8| byte.is_ascii_lowercase() || *byte == b'-';
    let (word, rest) = line.split_at(line.bytes().take_while(within).count());
    let ends = rest.chars().next().is_none_or(|c| is_blank(c) || is_quote(c));
    (word.len() > 1 && !word.starts_with('-') && ends).then_some(word)
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
        let quoted = left.starts_with(is_quote);
        let rest = if quoted { closed_string(left).map(|(rest, _)| rest) } else { Some(behind_word(left)) };
        let rest = rest.unwrap_or_else(|| {
            read.open_quote.get_or_insert(Span::new(start, span.end as usize));
            ""
        });
        let here = Span::new(start, span.end as usize - rest.len());
        if !parted {
            read.unparted.get_or_insert(here);
        }
        read.values.push(Value { span: here, quoted });
        parted = false;
        left = rest;
    }
}

/// What is left behind a string, and the string with its quotes; `None` if none is closed here. What `"` opens is closed by
/// `"` alone; what a typographic quote opens, by any quote, be it of the same kind. Behind a backslash none counts.
pub(super) fn closed_string(text: &str) -> Option<(&str, &str)> {
    let mut inner = text.char_indices();
    let (_, opening) = inner.next().filter(|&(_, c)| is_quote(c))?;
    while let Some((at, c)) = inner.next() {
        if c == '\\' {
            inner.next();
        } else if c == '"' || (opening != '"' && is_quote(c)) {
            let (string, rest) = text.split_at(at + c.len_utf8());
            return Some((rest, string));
        }
    }
    None
}

/// What stands before the first blank.
pub(super) fn up_to_blank(text: &str) -> &str {
    // Nearly always that is a space, and all before it is ASCII.
    let plain = text.bytes().take_while(u8::is_ascii_graphic).count();
    match text.as_bytes().get(plain) {
        None | Some(b' ') => &text[..plain],
        Some(_) => text.split(is_blank).next().unwrap_or_default(),
    }
}

/// The first character of a text that is no cell of a grid, with its offset.
pub(super) fn first_but_cells(text: &str) -> Option<(usize, char)> {
    let cells = text.bytes().take_while(|&byte| IS_CELL[usize::from(byte)]).count();
    text[cells..].chars().next().map(|c| (cells, c))
}

/// What is left behind a word, which goes up to a blank or to `"`: typographic quotes within a word are part of it.
fn behind_word(text: &str) -> &str {
    &text[text.find(|c| c == '"' || is_blank(c)).unwrap_or(text.len())..]
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
pub(super) fn is_plain_row(line: &[u8]) -> bool {
    // To look at each byte takes less than to stop at the first other one.
    !line.starts_with(b"|") && line.iter().fold(true, |plain, &byte| plain & IS_PLAIN[usize::from(byte)])
}

/// Whether a line can only be a row of a grid with spaces before it.
pub(super) fn is_plain_indented_row(line: &[u8]) -> bool {
    let row = line.trim_ascii_start();
    line.starts_with(b" ") && !row.is_empty() && !row.starts_with(b"|") && is_plain_row(line)
}

/// Whether a byte of a row needs no second look: a cell, but no small letter, as a word has; a space or a bar.
static IS_PLAIN: [bool; 256] = {
    let mut plain = IS_CELL;
    let mut letter = b'a';
    while letter <= b'z' {
        plain[letter as usize] = false;
        letter += 1;
    }
    plain[b' ' as usize] = true;
    plain[b'|' as usize] = true;
    plain
};

/// [`is_cell`] for each byte: every symbol of a cell is one byte, and no byte of another character looks like one.
static IS_CELL: [bool; 256] = {
    let mut cells = [false; 256];
    let mut byte = 0_u8;
    while byte < 128 {
        cells[byte as usize] = is_cell(byte as char);
        byte += 1;
    }
    cells
};

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
        let base = line.span.start as usize;
        let cells = self.row(line).iter().enumerate().filter(|&(_, &byte)| IS_CELL[usize::from(byte)]);
        cells.map(move |(at, &byte)| (Span::new(base + at, base + at + 1), char::from(byte)))
    }

    /// The same symbols, without their places.
    pub fn cells(&self, line: &Line) -> impl Iterator<Item = char> {
        self.row(line).iter().filter(|&&byte| IS_CELL[usize::from(byte)]).map(|&byte| char::from(byte))
    }

    /// What of a grid's row, or of a line of a list, holds its cells.
    fn row(&self, line: &Line) -> &[u8] {
        match line.kind {
            LineKind::Row => {
                // In a row that could be read, nothing but a comment begins so.
                let row = &self.text.as_bytes()[line.span.range()];
                &row[..memchr::memchr(b'#', row).unwrap_or(row.len())]
            }
            LineKind::Listed => up_to_blank(self.at(line.span)).as_bytes(),
            _ => &[],
        }
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
