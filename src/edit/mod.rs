//! Changes of a text that a person asks for, and not a finding: marks of a sheet, the next step,
//! the solution, a walkthrough, another dress.
//!
//! Each gives the new text of some places of a section. Givens are never touched but by another dress, and where a person
//! asks for a puzzle with fewer.

mod dress;
mod marks;
mod minimal;
mod next;
mod solution;
#[cfg(test)]
mod tests;
mod walkthrough;

pub use dress::{Dress, Names, Tied};
pub use marks::{Marking, mark};
pub use minimal::make_minimal;
pub use next::take_step;
pub use solution::write_solution;
pub use walkthrough::{
    Standing, add_lines, finish_walk, lesson_lines, walk_lines, walk_to_point, write_walk,
};

use crate::notation::{Line, LineKind, Section, Span, Statement};

/// The new text of a place of a section.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Change {
    /// What is replaced; where nothing is, the text is put in.
    pub span: Span,
    /// By what.
    pub text: String,
}

/// The changes that give the rows of a block their new text: only of those that differ, and without their comments.
fn rewrite(section: &Section, statement: &Statement, rows: &[String]) -> Vec<Change> {
    let written = section.block(statement).iter().filter(|line| is_row(line));
    let changes = written
        .zip(rows)
        .map(|(line, row)| Change { span: without_comment(section, line), text: row.clone() });
    changes.filter(|change| section.at(change.span) != change.text).collect()
}

/// The change that puts a new block below the block of a statement.
fn put_below(section: &Section, statement: &Statement, word: &str, rows: &[String]) -> Change {
    let lines: Vec<String> = std::iter::once(word.to_owned()).chain(rows.iter().cloned()).collect();
    below(section, statement, &lines)
}

/// The change that puts lines below the block of a statement.
fn below(section: &Section, statement: &Statement, lines: &[String]) -> Change {
    let last = statement.block.end.max(statement.line + 1) as usize - 1;
    let last = &section.lines[last];
    let ending = last.ending.text();
    let at = last.span.end as usize + ending.len();
    // A text that ends within the line gets its end first, and then ends within the new lines.
    let (before, ending) = if ending.is_empty() { ("\n", "\n") } else { ("", ending) };
    let lines: String = lines.iter().map(|line| line.to_owned() + ending).collect();
    let mut text = format!("{before}{lines}");
    text.truncate(text.len() - before.len());
    Change { span: Span::new(at, at), text }
}

fn is_row(line: &Line) -> bool {
    matches!(line.kind, LineKind::Row | LineKind::Tokens)
}

/// A row without the comment behind it and the blanks before that.
fn without_comment(section: &Section, line: &Line) -> Span {
    let text = section.at(line.span);
    let row = text.find('#').map_or(text, |at| &text[..at]);
    line.span.first(row.trim_end_matches(crate::notation::is_blank).len())
}
