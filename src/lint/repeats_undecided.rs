//! Whether a puzzle stands in the collection twice is not known, because its lines look too much alike.
//!
//! ## Why
//! Two puzzles are the same if another order of their lines and other names for their digits make one of the other. There
//! are more orders than could be tried, so lines are told apart by what they hold. In a large grid whose lines nothing
//! tells apart that takes too long: it stops at a limit, the same on every machine, and nothing is said of the puzzle by a
//! guess.
//!
//! ## Found
//! Nothing that people solve comes near the limit. This grid was made for it: four by four squares of the same kind, shifted
//! against each other so that each line looks like every other one.
//! ```gset
//! puzzle ht-23 "Full Weave"
//! #<^^^^^^^^^^^^^^^^^^^^^^^ repeats-undecided: whether this puzzle stands elsewhere in another dress is not known
//! size       20
//! boxes      1x20
//! givens
//!   1 2 3 4 5 A 6 7 8 9 F B C D E I J K G H
//!   2 3 4 5 1 6 7 8 9 A B C D E F J K G H I
//!   3 4 5 1 2 7 8 9 A 6 C D E F B K G H I J
//!   4 5 1 2 3 8 9 A 6 7 D E F B C G H I J K
//!   5 1 2 3 4 9 A 6 7 8 E F B C D H I J K G
//!   6 7 8 9 A 2 3 4 5 1 J K G H I B C D E F
//!   7 8 9 A 6 3 4 5 1 2 K G H I J C D E F B
//!   8 9 A 6 7 4 5 1 2 3 G H I J K D E F B C
//!   9 A 6 7 8 5 1 2 3 4 H I J K G E F B C D
//!   A 6 7 8 9 1 2 3 4 5 I J K G H F B C D E
//!   B C D E F H I J K G 2 3 4 5 1 9 A 6 7 8
//!   C D E F B I J K G H 3 4 5 1 2 A 6 7 8 9
//!   D E F B C J K G H I 4 5 1 2 3 6 7 8 9 A
//!   E F B C D K G H I J 5 1 2 3 4 7 8 9 A 6
//!   F B C D E G H I J K 1 2 3 4 5 8 9 A 6 7
//!   J K G H I F B C D E A 6 7 8 9 4 5 1 2 3
//!   K G H I J B C D E F 6 7 8 9 A 5 1 2 3 4
//!   G H I J K C D E F B 7 8 9 A 6 1 2 3 4 5
//!   H I J K G D E F B C 8 9 A 6 7 2 3 4 5 1
//!   I J K G H E F B C D 9 A 6 7 8 3 4 5 1 2
//! ```
//!
//! ## Fixed
//! By hand: look yourself whether it stands elsewhere, and say so by `allow`.

use super::same::called;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Puzzle, SectionId, Workspace};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "repeats-undecided",
    group: Group::Books,
    severity: Severity::Info,
    check: Check::Workspace(check),
    source: include_str!("repeats_undecided.rs"),
};

const HELP: &str = "look yourself, and accept this by `allow repeats-undecided \"…\"`";

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let puzzles = workspace.puzzles();
    puzzles
        .filter_map(|(id, _, puzzle)| Some((id, alone(puzzle).or_else(|| said(workspace, puzzle))?)))
        .collect()
}

/// Whether it was tried in vain to compare a puzzle.
fn is_undecided(puzzle: &Puzzle) -> bool {
    matches!(puzzle.form(), Some(Err(_)))
}

/// What there is to say of a puzzle that is compared with none.
fn alone(puzzle: &Puzzle) -> Option<Draft> {
    is_undecided(puzzle).then(|| {
        let message = "whether this puzzle stands elsewhere in another dress is not known: its lines look so much alike \
                       that it was not compared within the limit";
        Draft::new(puzzle.head, message, HELP)
    })
}

/// What there is to say of a puzzle that says it is one which is compared with none.
fn said(workspace: &Workspace, puzzle: &Puzzle) -> Option<Draft> {
    let fact = puzzle.facts.repeats.as_ref().filter(|fact| fact.own)?;
    let (_, other) = workspace.find(&fact.value)?;
    is_undecided(other).then(|| {
        let message = format!(
            "whether this is {} is not known: the lines of that look so much alike that it was not compared within the \
             limit",
            called(other)
        );
        Draft::new(fact.span, message, HELP)
    })
}
