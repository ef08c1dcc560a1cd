//! Sentences that would be too long are said in parts.

use super::MOST_WORDS;

/// How many words a text has.
pub(super) fn words(text: &str) -> usize {
    text.split_whitespace().count()
}

/// Whether a sentence is short enough.
pub(super) fn fits(sentence: &str) -> bool {
    words(sentence) <= MOST_WORDS
}

/// Says something of these items: in one sentence if that fits, else in several, of which each but the first has
/// `also`.
pub(super) fn in_parts<T>(items: &[T], say: &dyn Fn(&[T], bool) -> String) -> Vec<String> {
    part(items, false, say)
}

fn part<T>(items: &[T], also: bool, say: &dyn Fn(&[T], bool) -> String) -> Vec<String> {
    let sentence = say(items, also);
    if items.len() < 2 || fits(&sentence) {
        return vec![sentence];
    }
    let (first, rest) = items.split_at(items.len().div_ceil(2));
    [part(first, also, say), part(rest, true, say)].concat()
}

#[cfg(test)]
mod tests {
    use super::{fits, in_parts};

    #[test]
    fn what_is_too_long_is_parted() {
        let say = |items: &[u8], also: bool| {
            let list: Vec<String> = items.iter().map(u8::to_string).collect();
            format!("{} {}", if also { "and" } else { "we have" }, list.join(" "))
        };
        let few: Vec<u8> = (1..=23).collect();
        assert_eq!(in_parts(&few, &say).len(), 1);
        let many: Vec<u8> = (1..=60).collect();
        let parts = in_parts(&many, &say);
        assert!(parts.iter().all(|part| fits(part)));
        assert!(parts[0].starts_with("we have 1 2 ") && parts[1].starts_with("and "));
        let said: Vec<u8> =
            parts.iter().flat_map(|part| part.split(' ')).filter_map(|word| word.parse().ok()).collect();
        assert_eq!(said, many);
    }
}
