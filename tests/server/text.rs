//! Texts as a client keeps them: what columns count, edits at random, and edits that it is told to make.

use super::protocol::place;
use serde_json::{Value, json};

/// What columns count, as the client does it for itself.
#[derive(Clone, Copy, Debug)]
pub enum Columns {
    Bytes,
    Units,
    Characters,
}

impl Columns {
    pub const ALL: [Columns; 3] = [Columns::Bytes, Columns::Units, Columns::Characters];

    pub fn name(self) -> &'static str {
        match self {
            Columns::Bytes => "utf-8",
            Columns::Units => "utf-16",
            Columns::Characters => "utf-32",
        }
    }

    fn of(self, text: &str) -> usize {
        match self {
            Columns::Bytes => text.len(),
            Columns::Units => text.encode_utf16().count(),
            Columns::Characters => text.chars().count(),
        }
    }

    /// Line and column of a byte.
    pub fn position(self, text: &str, byte: usize) -> (usize, usize) {
        let lines = lines(text);
        let line = lines.partition_point(|(start, _)| *start <= byte) - 1;
        (line, self.of(&text[lines[line].0..byte]))
    }

    /// A byte as the protocol has it.
    pub fn place(self, text: &str, byte: usize) -> Value {
        let (line, column) = self.position(text, byte);
        json!({"line": line, "character": column})
    }

    /// The byte of a position that is one of the text; `None` for one that lies beyond a line or within a character.
    pub fn byte(self, text: &str, position: &Value) -> Option<usize> {
        let (line, column) = place(position);
        let (start, end) = *lines(text).get(usize::try_from(line).unwrap())?;
        let ends = text[start..end].char_indices().map(|(at, _)| start + at).chain([end]);
        ends.into_iter().find(|at| self.of(&text[start..*at]) as u64 == column)
    }

    /// Edits of the protocol, made in a text.
    pub fn applied(self, text: &str, edits: &Value) -> String {
        let byte = |place: &Value| {
            self.byte(text, place).unwrap_or_else(|| panic!("{place} is nowhere in {text:?}"))
        };
        let mut all: Vec<(usize, usize, &str)> = edits
            .as_array()
            .unwrap()
            .iter()
            .map(|edit| {
                let range = &edit["range"];
                (byte(&range["start"]), byte(&range["end"]), edit["newText"].as_str().unwrap())
            })
            .collect();
        all.sort_by_key(|(start, end, _)| (*start, *end));
        assert!(all.is_sorted_by(|one, next| one.1 <= next.0), "edits over each other: {edits}");
        let mut new = text.to_owned();
        for (start, end, with) in all.into_iter().rev() {
            new.replace_range(start..end, with);
        }
        new
    }
}

/// Where each line begins and where it ends, without what ends it: LF, CR LF or CR.
fn lines(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut lines = Vec::new();
    let (mut start, mut at) = (0, 0);
    while at < bytes.len() {
        let ending = match &bytes[at..] {
            [b'\r', b'\n', ..] => 2,
            [b'\r' | b'\n', ..] => 1,
            _ => 0,
        };
        if ending > 0 {
            lines.push((start, at));
            start = at + ending;
        }
        at += ending.max(1);
    }
    lines.push((start, text.len()));
    lines
}

/// A small generator of numbers (`SplitMix64`: Steele, Lea and Flood 2014): the same seed gives the same run.
pub struct Random(pub u64);

impl Random {
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % bound as u64).unwrap()
    }

    pub fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    pub fn one<'a, T: ?Sized>(&mut self, of: &[&'a T]) -> &'a T {
        of[self.below(of.len())]
    }
}

const PIECES: &[&str] = &[
    "",
    "",
    "",
    "5",
    ".",
    "1",
    "2?",
    "3!",
    "\n",
    "\r\n",
    "\r",
    "x",
    "é",
    "e\u{301}",
    "🂡",
    "👩\u{200d}🚀",
    "ℝ",
    "\u{feff}",
    "\u{2028}",
    " ",
    "\t",
    "puzzle a-1\n",
    "puzzle a-2 \"Two 🂡\"\r\n",
    "lesson l-1\n",
    "part \"P\"\n",
    "size 4\n",
    "size 9\n",
    "clues 7\n",
    "givens\n  1 . . 4\n",
    "work\n  1 2? . .\n",
    "note\n  see {a-1}\n",
    "answer a-1\n",
    "take b-1\n",
    "repeats a-1 \"turned\"\n",
    "# puzzle\n",
    "steps\n  r1c3 = 3  by crossing in box 2\n",
    "  finish\n",
    "allow id-unknown \"so\"\n",
    "allow clues-wrong \"so\"\n",
    "level 2\n",
];

/// A place in a text that has a position of its own: there is none between CR and LF.
pub fn boundary(text: &str, at: usize) -> usize {
    let at = text.floor_char_boundary(at.min(text.len()));
    if text[..at].ends_with('\r') && text[at..].starts_with('\n') { at - 1 } else { at }
}

/// Makes a change in a text at random; gives it as a client tells it, now and then by a position that is none of the text:
/// what lies beyond the end of a line is its end, what lies within a character is its beginning, and what lies below the
/// last line is the end of the text.
pub fn edit(random: &mut Random, text: &mut String, columns: Columns) -> (Option<Value>, String) {
    let new: String = (0..=random.below(2)).map(|_| random.one(PIECES)).collect();
    if random.one_in(60) {
        text.clone_from(&new);
        return (None, new);
    }
    let start = boundary(text, random.below(text.len() + 1));
    let end = boundary(text, start + random.below(30) * random.below(2)).max(start);
    let mut place = |at: usize| {
        let (mut line, mut column) = columns.position(text, at);
        match text[at..].chars().next() {
            None if random.one_in(4) => (line, column) = (line + 1 + random.below(9), random.below(9)),
            None | Some('\n' | '\r') if random.one_in(4) => column += random.below(3000),
            Some(wide) if random.one_in(4) => column += columns.of(wide.encode_utf8(&mut [0; 4])) - 1,
            _ => {}
        }
        json!({"line": line, "character": column})
    };
    let (first, last) = (place(start), place(end));
    let last = if start == end { first.clone() } else { last };
    text.replace_range(start..end, &new);
    (Some(json!({"start": first, "end": last})), new)
}
