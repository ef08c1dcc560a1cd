//! Turns of phrase that several findings share.

use crate::board::Digit;
use std::fmt::Display;

/// `1 cell`, `7 cells`.
pub(super) fn counted<N: Copy + Display + PartialEq + From<u8>>(count: N, what: &str) -> String {
    let s = if count == N::from(1) { "" } else { "s" };
    format!("{count} {what}{s}")
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

/// Those of `names` that `word` is most like: all that are equally near, if a third of its letters would have to change
/// at most.
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
    near
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
