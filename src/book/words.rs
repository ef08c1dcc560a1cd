//! Values that are one of a few words.

use super::{Marks, Symmetry};
use crate::notation::Keyword;

/// The words of which the value of a statement is one, the usual one first; behind `printed` a date stands. None for a
/// statement with other values.
pub fn words_of(keyword: Keyword) -> Vec<&'static str> {
    match keyword {
        Keyword::Symmetry => Symmetry::WORDS.iter().map(|(word, _)| *word).collect(),
        Keyword::Marks => Marks::WORDS.iter().map(|(word, _)| *word).collect(),
        Keyword::Rules => vec!["diagonals", "none"],
        Keyword::Answers => vec!["end", "facing", "after", "none"],
        Keyword::Status => vec!["draft", "ready", "printed"],
        Keyword::Naming => vec!["r4c1", "D1", "words"],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, FaultKind};
    use crate::notation::KEYWORDS;

    #[test]
    fn these_words_are_understood_and_said_where_another_is_not() {
        let faults = |line: String| {
            let book = Book::read("a.gset", &format!("{line}\n"));
            let unreadable = |fault: &crate::book::Fault| match &fault.kind {
                FaultKind::ValueUnreadable(_, can_be) => Some(can_be.clone()),
                _ => None,
            };
            book.meanings
                .iter()
                .flat_map(|meaning| meaning.faults.iter().filter_map(unreadable))
                .collect::<Vec<_>>()
        };
        let mut seen = 0;
        for shape in KEYWORDS {
            for word in words_of(shape.keyword) {
                let date = if word == "printed" { " 2026-05-31" } else { "" };
                assert_eq!(faults(format!("{} {word}{date}", shape.word)), Vec::<String>::new(), "{word}");
                let told = faults(format!("{} x-{word}", shape.word));
                assert!(told.len() == 1 && told[0].contains(&format!("`{word}`")), "{told:?}");
                seen += 1;
            }
        }
        assert_eq!(seen, 20);
    }
}
