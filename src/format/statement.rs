//! A statement's own line: the keyword, its values, and a comment behind them.

use crate::notation::{Keyword, Section, Statement, is_blank};

/// Where values stand, counted from 0: column 12.
const VALUES_AT: usize = 11;

/// The line, or `None` where it must be left as it stands.
pub(super) fn write(section: &Section, statement: &Statement) -> Option<String> {
    let keyword = statement.keyword.filter(|keyword| section.at(statement.word) == keyword.word())?;
    let line = &section.lines[statement.line as usize];
    let head = section.at(line.span);
    // An indented statement is a slip that only its author can judge; so is a line with a fault in it.
    let indented = statement.word.start != line.span.start && !head.starts_with('\u{feff}');
    let faulty = |at: u32| (line.span.start..=line.span.end).contains(&at);
    if indented || section.faults.iter().any(|fault| faulty(fault.span.start)) {
        return None;
    }
    let mut text = keyword.word().to_owned();
    if let Some(first) = statement.values.first() {
        let last = statement.values.last().unwrap_or(first);
        text.push(' ');
        if !is_close(keyword) {
            text.push_str(&" ".repeat(VALUES_AT.saturating_sub(text.len())));
        }
        let values: Vec<String> =
            statement
                .values
                .iter()
                .map(|&value| {
                    if value.quoted {
                        quoted(&section.value(value))
                    } else {
                        section.at(value.span).to_owned()
                    }
                })
                .collect();
        text.push_str(&values.join(" "));
        push_comment(&mut text, &section.text[last.span.end as usize..line.span.end as usize]);
    } else {
        push_comment(&mut text, &section.text[statement.word.end as usize..line.span.end as usize]);
    }
    Some(text)
}

/// Whether one blank parts the keyword from its values: those whose values are names and titles.
pub fn is_close(keyword: Keyword) -> bool {
    matches!(
        keyword,
        Keyword::Notation
            | Keyword::Puzzle
            | Keyword::Lesson
            | Keyword::Part
            | Keyword::Answer
            | Keyword::Take
            | Keyword::Text
            | Keyword::Work
            | Keyword::Steps
            | Keyword::Allow
    )
}

/// Appends the comment that `rest` of a line holds, two blanks off.
pub(super) fn push_comment(text: &mut String, rest: &str) {
    let comment = rest.trim_matches(is_blank);
    if !comment.is_empty() {
        text.push_str("  ");
        text.push_str(comment);
    }
}

/// `said` as a string of the notation.
fn quoted(said: &str) -> String {
    format!("\"{}\"", said.replace('\\', "\\\\").replace('"', "\\\""))
}
