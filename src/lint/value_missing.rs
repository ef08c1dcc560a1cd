//! A statement stands alone and needs a value after it.
//!
//! ## Why
//! Most statements say something only by what stands after them: `level` says how hard a puzzle is meant to be by the
//! number behind it. A statement without its value is kept, and says nothing.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! level
//! #<^^^ value-missing: `level` needs a value after it
//! givens
//! ```
//!
//! ## Fixed
//! By hand: write the value, or take the line out.

use super::wording::counted;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Keyword, Wants};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "value-missing",
    group: Group::Lines,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("value_missing.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::ValueMissing(keyword) = fault.kind else { return None };
    let word = keyword.word();
    let found = scene.statement_at(fault.span).map_or(0, |statement| statement.values.len());
    let message = match keyword.shape().wants {
        Wants::AtLeast(least) if least > 1 => {
            format!("`{word}` needs {} after it, and has {found}", counted(least, "value"))
        }
        _ => format!("`{word}` needs a value after it"),
    };
    Some(Draft::new(
        fault.span,
        message,
        format!("write it like `{word} {}`, or take the line out", example(keyword)),
    ))
}

/// What could stand behind a keyword that needs something there.
fn example(keyword: Keyword) -> &'static str {
    match keyword {
        Keyword::Notation => "1",
        Keyword::Collection | Keyword::Series | Keyword::Part => "\"Lantern Street\"",
        Keyword::Volume | Keyword::Edition | Keyword::Number => "2",
        Keyword::Status => "draft",
        Keyword::Ids | Keyword::Answer | Keyword::Puzzle => "lk-001",
        Keyword::Lesson => "two-looks \"Two digits, one look\"",
        Keyword::Numbers => "from 1",
        Keyword::Language => "en",
        Keyword::Naming => "r4c1",
        Keyword::Answers => "end",
        Keyword::Ladder => "usual",
        Keyword::Marks => "by-box",
        Keyword::Take => "lk-001..lk-012",
        Keyword::From => "lk-001 at two-kettles",
        Keyword::Symbols => "A-I",
        Keyword::Size => "6",
        Keyword::Boxes | Keyword::Page => "2x3",
        Keyword::Rules => "diagonals",
        Keyword::House => "window1 r2c2..r4c4",
        Keyword::Level => "3",
        Keyword::Levels => "2-4",
        Keyword::Needs | Keyword::Avoids | Keyword::Teaches => "hidden pair",
        Keyword::Clues => "24-26",
        Keyword::Symmetry => "half-turn",
        Keyword::Cage | Keyword::Sum => "15 r1c1 r1c2 r2c1",
        Keyword::Thermometer => "r3c1..r3c4",
        Keyword::Arrow => "r5c5 : r4c4 r3c3",
        Keyword::Odd | Keyword::Even => "r1c9 r2c8",
        Keyword::Less => "r7c1 r7c2",
        Keyword::Differ => "2 r7c1 r7c2",
        Keyword::Setter | Keyword::Source => "\"Nour Hadley\"",
        Keyword::Date => "2025-09-02",
        Keyword::Tags => "evening, gentle",
        Keyword::Tested => "2025-09-02 \"Ida, 14 minutes\"",
        Keyword::Extra => "shelf \"LS 41\"",
        Keyword::Made => "seed 8812",
        Keyword::Repeats => "lk-030 \"turned on purpose\"",
        Keyword::Revised | Keyword::Erratum => "2025-10-01 \"title\"",
        Keyword::Printed => "2025-07-01 7c1e40",
        Keyword::Allow => "not-minimal \"the picture is wanted\"",
        // These can stand alone.
        Keyword::Text
        | Keyword::Plan
        | Keyword::Givens
        | Keyword::Solution
        | Keyword::Regions
        | Keyword::Position
        | Keyword::Work
        | Keyword::Known
        | Keyword::Steps
        | Keyword::Note
        | Keyword::Hint
        | Keyword::Scanning
        | Keyword::Minimal => "\"…\"",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{self, Book};
    use crate::notation::{self, KEYWORDS};

    #[test]
    fn every_example_is_a_value_that_can_be_read() {
        for shape in KEYWORDS.iter().filter(|shape| matches!(shape.wants, Wants::AtLeast(_))) {
            let text = format!("{} {}\n", shape.word, example(shape.keyword));
            let book = Book::read("example.gset", &text);
            let misplaced = |fault: &&notation::Fault| !matches!(fault.kind, FaultKind::PuzzleMissing(_));
            assert_eq!(book.tree.sections[0].faults.iter().find(misplaced), None, "{text}");
            let senseless = |fault: &&book::Fault| matches!(fault.kind, book::FaultKind::ValueUnreadable(..));
            assert_eq!(book.meanings[0].faults.iter().find(senseless), None, "{text}");
        }
    }
}
