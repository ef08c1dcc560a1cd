//! Applying fixes: each whole or not at all, none over another, and again until nothing is left to mend.

use crate::book::{Book, Spot, Workspace};
use crate::lint::{self, Fix, Report};
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// So many times the files are mended and looked at again. What is mended may uncover something else to mend, though
/// seldom more than twice; the bound only keeps two fixes from undoing each other for ever.
const MOST_ROUNDS: usize = 10;

/// How to mend.
pub struct Mending<'a> {
    /// Whether a finding is to be mended.
    pub chosen: &'a dyn Fn(&Report) -> bool,
    /// Whether a book may be changed.
    pub may_change: &'a dyn Fn(usize) -> bool,
    /// Reads a book from the text that it has by now.
    pub read: &'a dyn Fn(usize, &str) -> Book,
    /// Take the first fix of each finding, and not only the first safe one.
    pub unsafe_too: bool,
}

impl Mending<'_> {
    /// Mends the books of `workspace` as far as their fixes allow; returns how many fixes were made, and what is left to
    /// report.
    pub fn mend(&self, workspace: &mut Workspace) -> (usize, Vec<Report>) {
        let mut made = 0;
        let mut reports = lint::check(workspace);
        for _ in 0..MOST_ROUNDS {
            let mut round = Round::of(workspace);
            for report in reports.iter().filter(|report| (self.chosen)(report)) {
                let fix = report.fixes.iter().find(|fix| self.unsafe_too || fix.safe);
                if fix.is_some_and(|fix| self.can_make(fix) && round.take(fix)) {
                    made += 1;
                }
            }
            if round.edits.is_empty() {
                break;
            }
            // All books are read again: what is said of an answer also depends on the puzzle's own book.
            let books = workspace.books.iter().enumerate().map(|(at, book)| {
                let edits = round.edits.get(&at).map_or(&[][..], Vec::as_slice);
                let read = (self.read)(at, &rewritten(&book.tree.to_string(), edits));
                read.with_ladder(Arc::clone(&book.ladder))
            });
            *workspace = Workspace::new(books.collect());
            reports = lint::check(workspace);
        }
        (made, reports)
    }

    fn can_make(&self, fix: &Fix<Spot>) -> bool {
        fix.edits.iter().all(|(spot, _)| (self.may_change)(spot.section.book))
    }
}

/// A new text for a stretch of a file, in bytes of the file.
struct Edit {
    range: Range<usize>,
    text: String,
}

/// The edits of one round.
struct Round {
    /// For each book, where each of its sections begins, in bytes.
    begins: Vec<Vec<usize>>,
    /// For each book that changes, what changes, in order of place and none over another.
    edits: BTreeMap<usize, Vec<Edit>>,
}

impl Round {
    fn of(workspace: &Workspace) -> Round {
        let begins = workspace.books.iter().map(|book| book.tree.placed().map(|(begin, _)| begin).collect());
        Round { begins: begins.collect(), edits: BTreeMap::new() }
    }

    /// Takes the edits of `fix` if all of them still can be made; tells whether they were.
    fn take(&mut self, fix: &Fix<Spot>) -> bool {
        let edits = fix.edits.iter().map(|(spot, text)| {
            let before = self.begins[spot.section.book][spot.section.section];
            let span = spot.span.range();
            (spot.section.book, Edit { range: span.start + before..span.end + before, text: text.clone() })
        });
        let edits: Vec<(usize, Edit)> = edits.collect();
        let free = |(book, edit): &(usize, Edit)| self.place(*book, &edit.range).is_some();
        if edits.is_empty() || !edits.iter().all(free) {
            return false;
        }
        for (book, edit) in edits {
            if let Some(place) = self.place(book, &edit.range) {
                self.edits.entry(book).or_default().insert(place, edit);
            }
        }
        true
    }

    /// Where among the edits of `book` one of `range` belongs; `None` if it runs into one of them. Two that only touch
    /// are apart if neither is an insertion, whose order would be left to chance.
    fn place(&self, book: usize, range: &Range<usize>) -> Option<usize> {
        let Some(edits) = self.edits.get(&book) else { return Some(0) };
        let place = edits.partition_point(|edit| edit.range.start < range.start);
        let apart = |first: &Range<usize>, second: &Range<usize>| {
            first.end < second.start || (first.end == second.start && !first.is_empty() && !second.is_empty())
        };
        let after_last = place == 0 || apart(&edits[place - 1].range, range);
        let before_next = edits.get(place).is_none_or(|next| apart(range, &next.range));
        (after_last && before_next).then_some(place)
    }
}

/// `text` with `edits` made.
fn rewritten(text: &str, edits: &[Edit]) -> String {
    let mut new = String::with_capacity(text.len());
    let mut done = 0;
    for edit in edits {
        new.push_str(&text[done..edit.range.start]);
        new.push_str(&edit.text);
        done = edit.range.end;
    }
    new.push_str(&text[done..]);
    new
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::SectionId;
    use crate::notation::Span;

    fn fix(edits: &[(usize, usize, &str)]) -> Fix<Spot> {
        let section = SectionId { book: 0, section: 0 };
        let edit = |&(start, end, text): &(usize, usize, &str)| {
            (Spot { section, span: Span::new(start, end) }, text.to_owned())
        };
        Fix { title: String::new(), safe: true, edits: edits.iter().map(edit).collect() }
    }

    #[test]
    fn fixes_are_taken_whole_and_never_over_another() {
        let text = "# abcdefgh\n";
        let workspace = Workspace::new(vec![Book::read("a.gset", text)]);
        let mut round = Round::of(&workspace);
        assert!(round.take(&fix(&[(2, 3, "A"), (8, 9, "G")])));
        assert!(round.take(&fix(&[(3, 4, "B")])), "it only touches");
        assert!(!round.take(&fix(&[(4, 5, "C"), (7, 9, "F")])), "half of it runs into another");
        assert!(!round.take(&fix(&[(8, 8, "+")])), "an insertion where something is replaced");
        assert!(round.take(&fix(&[(6, 6, "+")])));
        assert!(!round.take(&fix(&[(6, 6, "-")])), "two insertions at one place");
        assert!(!round.take(&fix(&[])));
        assert_eq!(rewritten(text, &round.edits[&0]), "# ABcd+efGh\n");
    }
}
