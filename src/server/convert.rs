//! Positions and types: bytes and our own types inside, the protocol's outside, and here the way between them.

use crate::book::Book;
use crate::notation::{Section, Span};
use std::ops::Range as Bytes;
use tower_lsp::ls_types::{Position, PositionEncodingKind, Range};

/// What a column of a position counts.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of UTF-16, as the protocol has it where nothing is agreed.
    #[default]
    Utf16,
    /// Characters.
    Utf32,
}

impl Encoding {
    /// The best of those that a client offers: bytes, for they need no counting.
    pub fn agreed(offered: &[PositionEncodingKind]) -> Encoding {
        let known =
            [(PositionEncodingKind::UTF8, Encoding::Utf8), (PositionEncodingKind::UTF32, Encoding::Utf32)];
        let best = known.into_iter().find(|(kind, _)| offered.contains(kind));
        best.map_or(Encoding::Utf16, |(_, encoding)| encoding)
    }

    /// Its name in the protocol.
    pub fn kind(self) -> PositionEncodingKind {
        match self {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
            Encoding::Utf32 => PositionEncodingKind::UTF32,
        }
    }

    /// How long `text` is.
    fn len(self, text: &str) -> usize {
        match self {
            Encoding::Utf8 => text.len(),
            Encoding::Utf16 => text.chars().map(char::len_utf16).sum(),
            Encoding::Utf32 => text.chars().count(),
        }
    }

    /// The byte of a line at a column: its end, if the line is not as long, and the beginning of a character that the column
    /// lies in.
    fn byte(self, line: &str, column: usize) -> usize {
        let mut before = 0;
        let lies_in = |c: char| {
            before += if self == Encoding::Utf16 { c.len_utf16() } else { 1 };
            before > column
        };
        match self {
            Encoding::Utf8 => line.floor_char_boundary(column),
            Encoding::Utf16 | Encoding::Utf32 => line.find(lies_in).unwrap_or(line.len()),
        }
    }
}

/// The byte of a text at a position. What lies behind the end of a line is its end, what lies behind the last line is the
/// end of the text, and what lies within a character is its beginning.
pub fn byte_at(book: &Book, position: Position, encoding: Encoding) -> usize {
    let at = book.section_with(position.line);
    let section = &book.tree.sections[at];
    let line = section.lines.get((position.line - book.lines_before(at)) as usize);
    let within = line.map_or(section.text.len(), |line| {
        line.span.start as usize + encoding.byte(section.at(line.span), position.character as usize)
    });
    book.begin(at) + within
}

/// The bytes of a text in a range. Where the end comes first, the two are changed about.
pub fn bytes_in(book: &Book, range: Range, encoding: Encoding) -> Bytes<usize> {
    let (one, other) = (byte_at(book, range.start, encoding), byte_at(book, range.end, encoding));
    one.min(other)..one.max(other)
}

/// The position of a byte of a section, with lines counted from its beginning.
pub fn position_in(section: &Section, byte: u32, encoding: Encoding) -> Position {
    let index = section.lines.partition_point(|line| line.span.start <= byte).saturating_sub(1);
    let Some(line) = section.lines.get(index) else { return Position::new(0, 0) };
    let behind = line.span.end as usize + line.ending.text().len();
    if byte as usize >= behind && !line.ending.text().is_empty() {
        return Position::new(number(index + 1), 0);
    }
    let text = section.at(line.span);
    let within = text.floor_char_boundary((byte.saturating_sub(line.span.start)) as usize);
    Position::new(number(index), number(encoding.len(&text[..within])))
}

/// The range of a span of a section, with lines counted from its beginning.
pub fn range_in(section: &Section, span: Span, encoding: Encoding) -> Range {
    Range::new(position_in(section, span.start, encoding), position_in(section, span.end, encoding))
}

/// `range`, so many lines further down.
pub fn down(range: Range, lines: u32) -> Range {
    let down = |at: Position| Position::new(at.line + lines, at.character);
    Range::new(down(range.start), down(range.end))
}

/// The places of a book.
#[derive(Clone, Copy)]
pub struct Lines<'a> {
    book: &'a Book,
    encoding: Encoding,
}

impl<'a> Lines<'a> {
    /// The places of a book.
    pub fn of(book: &'a Book, encoding: Encoding) -> Lines<'a> {
        Lines { book, encoding }
    }

    /// The end of the text.
    pub fn end(&self) -> Position {
        let last = self.book.tree.sections.len().saturating_sub(1);
        let length = self.book.tree.sections.get(last).map_or(0, |section| section.text.len());
        self.range(last, Span::new(length, length)).end
    }

    /// The range of a span of one of its sections.
    pub fn range(&self, section: usize, span: Span) -> Range {
        down(
            range_in(&self.book.tree.sections[section], span, self.encoding),
            self.book.lines_before(section),
        )
    }
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each boundary of a line with plain, accented, double-struck and astral characters, and an accent of its own.
    const TEXT: &str = "# a\u{df}\u{211d}\u{1f0a1}e\u{301}\r\n# two\rthree\n";

    #[test]
    fn there_and_back_from_every_boundary() {
        let (book, section) = (Book::read("", TEXT), Section::read(TEXT));
        for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
            for (byte, _) in
                TEXT.char_indices().filter(|(at, c)| *c != '\n' || TEXT.as_bytes()[at - 1] != b'\r')
            {
                let position = position_in(&section, u32::try_from(byte).unwrap(), encoding);
                assert_eq!(byte_at(&book, position, encoding), byte, "{position:?} {encoding:?}");
            }
        }
    }

    #[test]
    fn columns_count_what_was_agreed_on() {
        let book = Book::read("", TEXT);
        // Behind the playing card, as RFC 3629 and the Unicode standard count it: 4 bytes, 2 units, 1 character.
        let behind = TEXT.find('e').unwrap();
        for (encoding, column) in [(Encoding::Utf8, 12), (Encoding::Utf16, 7), (Encoding::Utf32, 6)] {
            assert_eq!(byte_at(&book, Position::new(0, column), encoding), behind, "{encoding:?}");
        }
        // Within the card is before it.
        let card = TEXT.find('\u{1f0a1}').unwrap();
        assert_eq!(byte_at(&book, Position::new(0, 6), Encoding::Utf16), card);
        assert_eq!(byte_at(&book, Position::new(0, 10), Encoding::Utf8), card);
    }

    #[test]
    fn what_lies_behind_an_end_is_the_end() {
        let book = Book::read("", TEXT);
        for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
            let at = |line, column| byte_at(&book, Position::new(line, column), encoding);
            assert_eq!(at(0, 99), TEXT.find('\r').unwrap());
            assert_eq!(at(1, 99), TEXT.find("\rthree").unwrap());
            assert_eq!(at(2, u32::MAX), TEXT.len() - 1);
            assert_eq!((at(3, 0), at(3, 5), at(u32::MAX, 0)), (TEXT.len(), TEXT.len(), TEXT.len()));
        }
    }
}
