//! What a line looks like, where it cannot be what it should be.

use super::line::{bad_symbol, first_word, is_frame, is_token, pieces, without_comment};
use super::{Keyword, is_blank, is_open};

/// What a line looks like, where the open block says that it cannot be what it must be.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    Row,
    Sheet,
    Walk,
}

impl Look {
    pub(super) fn of(line: &str) -> Option<Look> {
        if looks_like_walk(line) {
            return Some(Look::Walk);
        }
        let row = without_comment(line);
        if is_frame(row) {
            return Some(Look::Row);
        }
        let tokens = || pieces(row).map(|(_, piece)| piece);
        if tokens().any(|piece| is_house_word(piece) || is_cell_name(piece)) {
            return None;
        }
        if bad_symbol(row).is_none() {
            // Prose is letters too; a row has figures or open cells and no word before them, or its symbols stand alone.
            let figures =
                row.contains(|c: char| c.is_ascii_digit() || is_open(c)) && first_word(row).is_none();
            let single = tokens().all(|piece| piece.len() == 1) && tokens().count() > 1;
            return (figures || single).then_some(Look::Row);
        }
        (tokens().all(is_token) && tokens().count() > 1).then_some(Look::Sheet)
    }

    /// The statement whose block such lines are.
    pub(super) fn keyword(self) -> Keyword {
        match self {
            Look::Row => Keyword::Givens,
            Look::Sheet => Keyword::Work,
            Look::Walk => Keyword::Steps,
        }
    }
}

/// Whether a line can only be a claim or a line of a walk.
pub(super) fn looks_like_walk(line: &str) -> bool {
    let mut words = line.split(|c: char| is_blank(c) || c == ',').filter(|word| !word.is_empty());
    let first = words.next().unwrap_or_default();
    let second = words.next().unwrap_or_default();
    let house = || is_house_word(first) && second.chars().next().is_some_and(char::is_alphanumeric);
    let verb = || match first {
        "show" => second.chars().next().is_none_or(|c| c.is_ascii_lowercase() || c == '"'),
        "ask" => second.starts_with('"'),
        "point" => !second.is_empty(),
        "finish" => second.is_empty() || second == "by",
        _ => false,
    };
    first.starts_with('>') || second == "of" || is_cell_name(first) || house() || verb()
}

fn is_house_word(word: &str) -> bool {
    matches!(word, "row" | "col" | "box" | "region" | "diagonal" | "house")
}

/// Whether a word is a cell, such as `r4c1`, or a range of them.
fn is_cell_name(word: &str) -> bool {
    let figures = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let cell = |rest: &str| rest.split_once('c').is_some_and(|(row, col)| figures(row) && figures(col));
    word.strip_prefix('r').is_some_and(|rest| cell(rest.split_once("..").map_or(rest, |(first, _)| first)))
}
