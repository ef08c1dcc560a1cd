//! The lines of a foreign text, and what is blank in it.

/// A line of a text, however it ends: `\n`, `\r\n`, or `\r` alone.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Line<'a> {
    /// From 1.
    pub number: usize,
    /// Without its end.
    pub text: &'a str,
    /// Where it begins in the whole text, in bytes.
    pub start: usize,
}

impl Line<'_> {
    /// One past its last byte in the whole text, without its end.
    pub(super) fn end(self) -> usize {
        self.start + self.text.len()
    }
}

/// The lines of a text, one after the other.
#[derive(Clone)]
pub(super) struct Lines<'a> {
    text: &'a str,
    at: usize,
    number: usize,
}

impl<'a> Lines<'a> {
    pub(super) fn of(text: &'a str) -> Lines<'a> {
        Lines { text, at: 0, number: 0 }
    }
}

impl<'a> Iterator for Lines<'a> {
    type Item = Line<'a>;

    fn next(&mut self) -> Option<Line<'a>> {
        let rest = &self.text[self.at..];
        if rest.is_empty() {
            return None;
        }
        let len = rest.find(['\n', '\r']).unwrap_or(rest.len());
        self.number += 1;
        let line = Line { number: self.number, text: &rest[..len], start: self.at };
        self.at += len + if rest[len..].starts_with("\r\n") { 2 } else { usize::from(len < rest.len()) };
        Some(line)
    }
}

/// Whether a character shows nothing: a blank of any kind, or one of the invisible characters that word processors
/// and web pages leave behind.
pub(super) fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}')
}

/// A text without the blanks at both ends.
pub(super) fn trim(text: &str) -> &str {
    text.trim_matches(is_blank)
}

/// How many characters stand before `piece`, which is a part of `text`.
pub(super) fn chars_before(text: &str, piece: &str) -> usize {
    let bytes = (piece.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    text.get(..bytes).map_or(0, |before| before.chars().count())
}

/// A comment and what stands before it: a `#` begins one at the beginning of a line or after a blank.
pub(super) fn split_comment(line: &str) -> (&str, Option<&str>) {
    let mut after_blank = true;
    for (at, c) in line.char_indices() {
        if c == '#' && after_blank {
            return (&line[..at], Some(&line[at..]));
        }
        after_blank = is_blank(c);
    }
    (line, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_in_every_usual_way() {
        let lines: Vec<(usize, &str)> =
            Lines::of("a\nb\r\nc\rd\n\ne").map(|line| (line.number, line.text)).collect();
        assert_eq!(lines, [(1, "a"), (2, "b"), (3, "c"), (4, "d"), (5, ""), (6, "e")]);
        assert_eq!(Lines::of("").count(), 0);
    }

    #[test]
    fn a_comment_begins_after_a_blank() {
        assert_eq!(split_comment("a #b"), ("a ", Some("#b")));
        assert_eq!(split_comment("a#b"), ("a#b", None));
        assert_eq!(split_comment("#b"), ("", Some("#b")));
    }
}
