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
//!   1 2  . .
//!   . .  2 .
//!   . 1  . .
//!   . .  1 3
//! ```
//!
//! ## Fixed
//! ```gset
//! notation 1
//! size       4
//!
//! puzzle lm-01 "Lamp Oil"
//! givens
//!   1 2  . .
//!   . .  2 .
//!   . 1  . .
//!   . .  1 3
//! ```

use super::finding::item_at;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Book, Entry, FaultKind, Puzzle, SectionId, Spot, Workspace};
use crate::notation::{ItemKind, Section, Span, Statement};

pub static FINDING: Finding = Finding {
    name: "size-unsaid",
    group: Group::Grids,
    severity: Severity::Info,
    check: Check::Workspace(check),
    source: include_str!("size_unsaid.rs"),
};

/// A place where a size is unsaid: the section of its book, where in it, and the side that is read.
type Unsaid = (usize, Span, u8);

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let mut drafts = Vec::new();
    for (number, book) in workspace.books.iter().enumerate() {
        let unsaid: Vec<Unsaid> = book
            .meanings
            .iter()
            .enumerate()
            .flat_map(|(section, meaning)| {
                meaning.faults.iter().filter_map(move |fault| match fault.kind {
                    FaultKind::SizeUnsaid(side) => Some((section, fault.span, side)),
                    _ => None,
                })
            })
            .collect();
        // It is said once a file.
        let Some(&(section, span, side)) = unsaid.first() else { continue };
        let spot = |section, span| Spot { section: SectionId { book: number, section }, span };
        let message = format!("this grid is read as {side}x{side}, and nothing says so");
        let draft = if suits_all(book, side) {
            let (place, text) = in_preface(&book.tree.sections[0], side);
            let help = format!("write `size {side}` before the first puzzle");
            Draft::new(span, message, help.clone()).mend(help, vec![(spot(0, place), text)])
        } else {
            let in_each = unsaid.iter().map(|&(section, span, side)| {
                let (span, text) = in_puzzle(&book.tree.sections[section], span, side);
                (spot(section, span), text)
            });
            Draft::new(span, message, format!("write `size {side}` in the puzzle"))
                .mend("write `size` in each puzzle that needs it", in_each.collect())
        };
        drafts.push((SectionId { book: number, section }, draft));
    }
    drafts
}

/// Whether all puzzles of a book that do not say their own size have this one.
fn suits_all(book: &Book, side: u8) -> bool {
    let suits = |puzzle: &Puzzle| {
        puzzle.facts.size.as_ref().is_some_and(|size| size.own)
            || puzzle.layout.as_ref().is_some_and(|layout| layout.size().side() == side)
    };
    let entries = book.meanings.iter().flat_map(|meaning| &meaning.entries);
    entries.into_iter().all(|entry| !matches!(entry, Entry::Puzzle(puzzle) if !suits(puzzle)))
}

/// `size` behind the last statement before the first puzzle, or as the first line of all.
fn in_preface(first: &Section, side: u8) -> (Span, String) {
    let preface = first.statements_of(&first.items[0]);
    match preface.last().filter(|_| matches!(first.items[0].kind, ItemKind::Preface)) {
        Some(last) => behind(first, last.block.end.max(last.line + 1) - 1, side),
        None => {
            let start = if first.text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
            let ending = first.lines.first().map_or("\n", |line| line.ending.text());
            (Span::new(start, start), format!("size       {side}{ending}{ending}"))
        }
    }
}

/// `size` behind the head of the puzzle that stands at `at`.
fn in_puzzle(section: &Section, at: Span, side: u8) -> (Span, String) {
    let head: Option<&Statement> = section.statements_of(&section.items[item_at(section, at.start)]).first();
    behind(section, head.map_or(0, |head| head.line), side)
}

fn behind(section: &Section, line: u32, side: u8) -> (Span, String) {
    let line = &section.lines[line as usize];
    let end = line.span.end as usize + line.ending.text().len();
    (Span::new(end, end), format!("size       {side}{}", line.ending.text()))
}
