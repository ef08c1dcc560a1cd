//! What was printed is not what stands here by now.
//!
//! ## Why
//! A book that is printed cannot be changed any more, and a puzzle that is changed in its file afterwards is not the one
//! that readers have: its solution, its level and its walkthrough are of another puzzle. `printed DATE MARK` holds the
//! grid to what it was when it went to print; the mark is a short fingerprint of the givens and the houses. A reprint is a
//! further line below. In a book whose `status` is `printed` every puzzle has one.
//!
//! ## Found
//! ```gset
//! puzzle ht-14 "Press Proof"
//! size       4
//! printed    2026-05-31 0c0ffe
//! #<^^^^^^^^^^^^^^^^^^^^^^^^^^ printed-changed: what was printed on 2026-05-31 is not this grid
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! By hand: put back what was printed; or, where it is corrected, write an `erratum`, and a further `printed` line with the
//! new date and the mark that the message gives, when it is printed again.

use super::place::behind_head;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::book::{Book, SectionId, Workspace, fingerprint};
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "printed-changed",
    group: Group::Books,
    severity: Severity::Error,
    check: Check::Each(&[Check::Puzzle(changed), Check::Workspace(unmarked)]),
    source: include_str!("printed_changed.rs"),
};

fn changed(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| facts.printed.as_deref())?;
    let date = &fact.value.date;
    let now = fingerprint(scene.puzzle.layout.as_ref()?, &givens.grid);
    let (message, help) = match &fact.value.mark {
        Some(mark) if *mark == now => return None,
        Some(mark) => (
            format!("what was printed on {date} is not this grid: its mark was {mark}, and here it is {now}"),
            "put back what was printed; if it is corrected, say so by `erratum`, and write the new mark when it is \
             printed again",
        ),
        None => (
            format!("nothing tells whether this is the grid that was printed on {date}: there is no mark"),
            "write the mark behind the date, if this is what was printed",
        ),
    };
    let draft = Draft::new(scene.claim_span(fact), message, help);
    // A mark that is there is never written over: that would hide what it is there to show.
    Some(match scene.claim_value(fact, Keyword::Printed).filter(|_| fact.value.mark.is_none()) {
        Some(value) => draft.propose(format!("write the mark {now}"), vec![(value, format!("{date} {now}"))]),
        None => draft,
    })
}

/// The puzzles without a mark of books that say that they are printed.
fn unmarked(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let printed: Vec<Option<String>> = workspace.books.iter().map(Book::printed).collect();
    let puzzles = workspace.puzzles().filter(|(_, _, puzzle)| !puzzle.lesson && !puzzle.unsure);
    let unmarked = puzzles.filter_map(|(id, _, puzzle)| {
        let date = printed[id.book].as_ref().filter(|_| puzzle.facts.printed.is_none())?;
        let now = fingerprint(puzzle.layout.as_ref()?, &puzzle.givens.as_ref()?.grid);
        let message =
            format!("this book was printed on {date}, and no mark tells what was printed of this puzzle");
        let help = format!("write `printed {date} {now}`, if this is what was printed");
        let change = behind_head(workspace.section(id), puzzle.head, &format!("printed    {date} {now}"));
        Some((id, Draft::new(puzzle.head, message, help).propose("write the mark", vec![change])))
    });
    unmarked.collect()
}
