//! Turns of phrase that several findings share.

use crate::board::{Cell, Digit};
use std::fmt::{Display, Write};

/// `1 cell`, `7 cells`.
pub(super) fn counted<N: Copy + Display + PartialEq + From<u8>>(count: N, what: &str) -> String {
    let s = if count == N::from(1) { "" } else { "s" };
    format!("{count} {what}{s}")
}

/// A pattern with its article: `a hidden pair`, `an x-wing`, `locked candidates`.
pub(super) fn one(pattern: &str) -> String {
    let several = pattern.ends_with("candidates") || pattern.ends_with("sets");
    let article = match pattern.starts_with(['a', 'e', 'i', 'o', 'u', 'x']) {
        _ if several => "",
        true => "an ",
        false => "a ",
    };
    format!("{article}{pattern}")
}

/// `` `a` ``, `` `a` or `b` ``, `` `a`, `b` or `c` ``.
pub(super) fn either(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} or {last}", first.join(", ")),
    }
}

/// A list in a message names at most so many cells: more are counted, for nobody reads them in a line.
const MOST_CELLS: usize = 8;

/// The cells as a message lists them: `r1c1 r1c4`; of a long list the first ones, and how many more there are.
pub(super) fn listed(cells: &[Cell]) -> String {
    let shown = if cells.len() > MOST_CELLS { MOST_CELLS - 1 } else { cells.len() };
    let mut text = cells[..shown].iter().map(Cell::to_string).collect::<Vec<_>>().join(" ");
    if shown < cells.len() {
        let _ = write!(text, " and {} more", cells.len() - shown);
    }
    text
}

/// Parts of a sentence, joined: `a`, `a and b`, `a, b and c`.
pub(super) fn joined(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// With more that are equally near, nobody finds the one that was meant among them.
const MOST_NEAREST: usize = 12;

/// Those of `names` that `word` is most like: all that are equally near, if a third of its letters would have to change
/// at most; none, if these are very many.
pub(super) fn nearest<'a>(word: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let length = word.chars().count();
    let mut best = (length / 3).max(1);
    let mut near = Vec::new();
    for name in names {
        // A whole file may come as one word: lengths are compared before letters are.
        if name.chars().count().abs_diff(length) > best {
            continue;
        }
        let distance = strsim::osa_distance(name, word);
        if distance < best {
            near.clear();
            best = distance;
        }
        if distance <= best {
            near.push(name);
        }
    }
    if near.len() > MOST_NEAREST { Vec::new() } else { near }
}

/// How much may be compared in looking for names that words are most like: as many letters with as many others.
pub(super) struct Comparing(usize);

impl Comparing {
    /// So much takes a fraction of a second.
    pub fn new() -> Comparing {
        Comparing(100_000_000)
    }

    /// Whether `word` may be compared with so many names, none much longer than it is; if so, that counts.
    pub fn may_compare(&mut self, word: &str, names: usize) -> bool {
        let letters = word.len().saturating_mul(word.len()).saturating_mul(names);
        let left = self.0.checked_sub(letters);
        self.0 = left.unwrap_or(self.0);
        left.is_some()
    }
}

/// The digits of a board of this side: `1 to 6`, `1 to 9 and A to G`.
pub(super) fn digits_of(side: u8) -> String {
    let last = Digit::new(side).map_or('?', Digit::symbol);
    match side {
        ..=9 => format!("1 to {last}"),
        10 => "1 to 9 and A".to_owned(),
        _ => format!("1 to 9 and A to {last}"),
    }
}

/// Text for a message: control characters are shown as the signs that picture them, and what is long is cut.
pub(super) fn shown(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut shown: String = text.chars().take(LONGEST).map(visible).collect();
    if text.chars().nth(LONGEST).is_some() {
        shown.push('…');
    }
    shown
}

/// A control character as the sign that pictures it; any other as it is.
pub(super) fn visible(c: char) -> char {
    match u32::from(c) {
        code @ 0..0x20 => char::from_u32(0x2400 + code).unwrap_or(c),
        0x7f => '␡',
        0x80..0xa0 => '\u{fffd}',
        _ => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_english() {
        assert_eq!(either(&[]), "");
        assert_eq!(either(&["a"]), "`a`");
        assert_eq!(either(&["a", "b"]), "`a` or `b`");
        assert_eq!(either(&["a", "b", "c"]), "`a`, `b` or `c`");
    }

    #[test]
    fn cells_and_parts_are_listed() {
        let row = |count| (0..count).map(|col| Cell::new(0, col)).collect::<Vec<_>>();
        assert_eq!(listed(&row(2)), "r1c1 r1c2");
        assert_eq!(listed(&row(8)), "r1c1 r1c2 r1c3 r1c4 r1c5 r1c6 r1c7 r1c8");
        assert_eq!(listed(&row(9)), "r1c1 r1c2 r1c3 r1c4 r1c5 r1c6 r1c7 and 2 more");
        let parts = ["row 1", "col 2", "box 3"].map(str::to_owned);
        assert_eq!(joined(&parts[..1]), "row 1");
        assert_eq!(joined(&parts[..2]), "row 1 and col 2");
        assert_eq!(joined(&parts), "row 1, col 2 and box 3");
    }

    #[test]
    fn only_what_is_equally_near_is_offered() {
        let names = ["level", "levels", "number"];
        assert_eq!(nearest("levelx", names.into_iter()), ["level", "levels"]);
        assert_eq!(nearest("leve", names.into_iter()), ["level"]);
        assert!(nearest("quite-else", names.into_iter()).is_empty());
    }

    #[test]
    fn what_a_terminal_would_obey_is_pictured() {
        assert_eq!(shown("a\u{1b}[2Jb\u{0}"), "a␛[2Jb␀");
        assert_eq!(shown(&"x".repeat(50)).chars().count(), 41);
    }
}
