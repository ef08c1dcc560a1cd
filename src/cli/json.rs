//! JSON Lines: one object a line, in which no character can do anything to a terminal.

use super::visible;
use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter};
use std::io::{self, Write};

/// `value` as one line, with its end.
pub fn line(value: &impl Serialize) -> String {
    self::value(value) + "\n"
}

/// `value` without a line's end: a part of something longer.
pub fn value(value: &impl Serialize) -> String {
    let mut written = Vec::new();
    let mut serializer = serde_json::Serializer::with_formatter(&mut written, Plain(CompactFormatter));
    value
        .serialize(&mut serializer)
        .expect("plain structures with text keys can always be written to memory");
    String::from_utf8(written).expect("JSON is UTF-8")
}

/// Compact JSON in which what a terminal would obey is escaped: `serde_json` escapes what JSON demands, which leaves some.
struct Plain(CompactFormatter);

impl Formatter for Plain {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, writer: &mut W, fragment: &str) -> io::Result<()> {
        let mut rest = fragment;
        while let Some(at) = rest.find(visible::is_hidden) {
            let (before, from) = rest.split_at(at);
            self.0.write_string_fragment(writer, before)?;
            let hidden = from.chars().next().map_or(0, char::len_utf8);
            let (hidden, after) = from.split_at(hidden);
            for unit in hidden.encode_utf16() {
                write!(writer, "\\u{unit:04x}")?;
            }
            rest = after;
        }
        self.0.write_string_fragment(writer, rest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_characters_are_escaped() {
        let written = line(&"a\u{1b}[m\u{9b}\u{202e}\u{e0041}\n\"ß\"");
        assert_eq!(written, "\"a\\u001b[m\\u009b\\u202e\\udb40\\udc41\\n\\\"ß\\\"\"\n");
        let back: String = serde_json::from_str(&written).unwrap();
        assert_eq!(back, "a\u{1b}[m\u{9b}\u{202e}\u{e0041}\n\"ß\"");
    }
}
