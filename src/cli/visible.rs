//! Text from files and file names, made safe to show: what a terminal would obey is written out instead.

use std::borrow::Cow;
use std::fmt::Write as _;

/// `text` on one line: control characters (line ends and tabs among them) and characters that turn the direction of
/// writing or cannot be seen are written out, as `\u{1b}`.
pub fn line(text: &str) -> Cow<'_, str> {
    written_out(text, is_hidden)
}

/// `text` with its line feeds and tabs as they stand, and everything else as [`line()`] has it.
pub fn lines(text: &str) -> Cow<'_, str> {
    written_out(text, |c| is_hidden(c) && !matches!(c, '\n' | '\t'))
}

/// Whether a terminal could obey `c`, or a reader could not see it.
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'
            | '\u{2066}'..='\u{2069}' | '\u{feff}' | '\u{e0000}'..='\u{e007f}')
}

fn written_out(text: &str, hidden: impl Fn(char) -> bool) -> Cow<'_, str> {
    let Some(first) = text.find(&hidden) else { return Cow::Borrowed(text) };
    let mut shown = String::with_capacity(text.len() + 16);
    shown.push_str(&text[..first]);
    for c in text[first..].chars() {
        if hidden(c) {
            write!(shown, "\\u{{{:x}}}", u32::from(c)).expect("a String takes all that is written to it");
        } else {
            shown.push(c);
        }
    }
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_obey_is_written_out() {
        assert_eq!(line("a\u{1b}[31mb\u{7}\u{202e}c\u{9b}"), r"a\u{1b}[31mb\u{7}\u{202e}c\u{9b}");
        assert_eq!(line("a\tb\nc"), r"a\u{9}b\u{a}c");
        assert_eq!(lines("a\tb\r\nc"), "a\tb\\u{d}\nc");
    }

    #[test]
    fn other_text_stays() {
        let text = "Größe ✓ 数独 e\u{301} 👩\u{200d}👧";
        assert!(matches!(line(text), Cow::Borrowed(same) if same == text));
    }
}
