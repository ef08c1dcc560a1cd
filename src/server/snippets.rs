//! Statements with places to be filled in, for editors that lead from one to the next.

use crate::book::words_of;
use crate::format::is_close;
use crate::notation::{Block, Keyword, Wants};

/// Values stand from this column on, counted from 0.
const COLUMN: usize = 11;

/// A statement with the places of its values and the beginning of its block; `None` where there is nothing to fill in.
pub fn of(keyword: Keyword) -> Option<String> {
    let shape = keyword.shape();
    let values = values(keyword);
    let block = if shape.block == Block::None { "" } else { "\n  $0" };
    if values.is_empty() && block.is_empty() {
        return None;
    }
    if values.is_empty() {
        return Some(format!("{}{block}", shape.word));
    }
    let width = if is_close(keyword) { 0 } else { COLUMN - 1 };
    Some(format!("{:<width$} {values}{block}", shape.word))
}

/// The values of a statement, each a place with an example, or one of some words.
fn values(keyword: Keyword) -> String {
    let words = words_of(keyword);
    if !words.is_empty() {
        return format!("${{1|{}|}}", words.join(","));
    }
    let example = match keyword {
        Keyword::Puzzle | Keyword::Lesson => "${1:id} \"${2:title}\"",
        Keyword::Part | Keyword::Collection | Keyword::Series => "\"${1:title}\"",
        Keyword::Notation => "1",
        Keyword::Size => "${1:9}",
        Keyword::Boxes => "${1:3x3}",
        Keyword::House => "${1:name} ${2:cells}",
        Keyword::Ids => "${1:lk-001}",
        Keyword::Numbers => "from ${1:1}",
        Keyword::Language => "${1:en}",
        Keyword::Page => "${1:2x2}",
        Keyword::Level => "${1:3}",
        Keyword::Levels => "${1:1}-${2:3}",
        Keyword::Clues => "${1:24}",
        Keyword::Needs | Keyword::Avoids | Keyword::Teaches => "${1:hidden pair}",
        Keyword::From => "${1:id} at ${2:point}",
        Keyword::Answer | Keyword::Take => "${1:id}",
        Keyword::Repeats => "${1:id} \"${2:how}\"",
        Keyword::Allow => "${1:finding} \"${2:why}\"",
        Keyword::Date => "${1:2026-05-31}",
        Keyword::Tested | Keyword::Revised | Keyword::Erratum => "${1:2026-05-31} \"${2:what}\"",
        _ if matches!(keyword.shape().wants, Wants::AtLeast(_)) => "${1:value}",
        _ => "",
    };
    example.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Book;
    use crate::format::format;
    use crate::notation::KEYWORDS;

    /// A place becomes its example, or the first of its words.
    fn filled(snippet: &str) -> String {
        let mut text = snippet.replace("$0", "1");
        while let Some(start) = text.find("${") {
            let end = start + text[start..].find('}').unwrap();
            let place = &text[start + "${1:".len()..end];
            let example = place.split([',', '|']).next().unwrap().to_owned();
            text.replace_range(start..=end, &example);
        }
        text
    }

    #[test]
    fn what_is_filled_in_stands_in_its_one_form() {
        for shape in KEYWORDS {
            let Some(snippet) = of(shape.keyword) else { continue };
            let text = filled(&snippet) + "\n";
            assert!(text.starts_with(shape.word), "{text}");
            let line = text.lines().next().unwrap();
            let formatted = format(&Book::read("a.gset", &text));
            assert!(formatted.lines().any(|it| it == line), "{line:?} in {formatted:?}");
        }
    }
}
