//! A grid of another size than 9 is read, and nothing says its size.
//!
//! ## Why
//! A complete grid shows its size by itself. But while a row of it is typed, or when one is lost, it no longer does: with
//! `size` said, that is then reported as what it is.
//!
//! ## Found
//! ```gset
//! notation 1
//!
//! puzzle lm-01 "Lamp Oil"
//! givens
//! #<^^^^ size-unsaid: this grid is read as 4x4, and nothing says so
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! notation 1
//! size       4
//!
//! puzzle lm-01 "Lamp Oil"
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! ```

use super::place::{behind, behind_head};
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Book, Entry, FaultKind, Puzzle, SectionId, Spot, Workspace};
use crate::notation::{ItemKind, Section, Span};
use std::collections::BTreeSet;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "size-unsaid",
    group: Group::Grids,
    severity: Severity::Info,
    check: Check::Workspace(check),
    source: include_str!("size_unsaid.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    // Once a file for each size: one line at its top mends all.
    let mut said = BTreeSet::new();
    let mut drafts = Vec::new();
    for (id, _, meaning) in workspace.sections() {
        for fault in &meaning.faults {
            let FaultKind::SizeUnsaid(side) = fault.kind else { continue };
            if said.insert((id.book, side)) {
                drafts.push((id, draft(&workspace.books[id.book], id.book, fault.span, side)));
            }
        }
    }
    drafts
}

fn draft(book: &Book, number: usize, span: Span, side: u8) -> Draft {
    let spot = |section, span| Spot { section: SectionId { book: number, section }, span };
    let message = format!("this grid is read as {side}x{side}, and nothing says so");
    let puzzles = || {
        let entries = book.meanings.iter().enumerate();
        entries.flat_map(|(section, meaning)| meaning.entries.iter().map(move |entry| (section, entry)))
    };
    let unsaid = |puzzle: &Puzzle| puzzle.facts.size.is_none();
    let suits = |puzzle: &Puzzle| puzzle.layout.as_ref().is_some_and(|layout| layout.size().side() == side);
    // One line before the first puzzle suits, unless there is a puzzle of another size that does not say its own.
    if puzzles().all(|(_, entry)| !matches!(entry, Entry::Puzzle(puzzle) if unsaid(puzzle) && !suits(puzzle)))
    {
        let help = format!("write `size {side}` before the first puzzle");
        let (place, text) = in_preface(&book.tree.sections[0], side);
        return Draft::new(span, message, help.clone()).mend(help, vec![(spot(0, place), text)]);
    }
    let edits = puzzles().filter_map(|(section, entry)| match entry {
        Entry::Puzzle(puzzle) if unsaid(puzzle) && suits(puzzle) => {
            let (place, text) = behind_head(&book.tree.sections[section], puzzle.head, &statement(side));
            Some((spot(section, place), text))
        }
        _ => None,
    });
    let help = format!("write `size {side}` in each puzzle of this size");
    Draft::new(span, message, help.clone()).mend(help, edits.collect())
}

/// `size` behind the last statement before the first puzzle, or as the first line of all.
fn in_preface(first: &Section, side: u8) -> (Span, String) {
    let preface = first.statements_of(&first.items[0]);
    if let Some(last) = preface.last().filter(|_| first.items[0].kind == ItemKind::Preface) {
        return behind(first, last.block.end.max(last.line + 1) - 1, &statement(side));
    }
    let start = if first.text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let ending = first.lines.first().map_or("\n", |line| line.ending.text());
    (Span::new(start, start), format!("{}{ending}{ending}", statement(side)))
}

fn statement(side: u8) -> String {
    format!("size       {side}")
}
