//! A puzzle begins where no `puzzle` line begins one.
//!
//! ## Why
//! A puzzle has one grid of givens. Where another begins, or a fact that comes once in a puzzle comes again behind the
//! grid, a `puzzle` line is lost. What follows is kept as a puzzle without a name, which is not judged: else one lost
//! line would spoil two puzzles. While there is such a puzzle, ids that nobody bears are not reported, for it may bear them.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! givens
//! #<^^^^ puzzle-missing: `givens` comes again after the grid, so another puzzle begins here without a `puzzle` line
//! ```
//!
//! ## Fixed
//! By hand: write the `puzzle` line, with an id that nothing else bears.

use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::notation::{Fault, FaultKind, Item, ItemKind, Keyword};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "puzzle-missing",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Syntax(check),
    source: include_str!("puzzle_missing.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::PuzzleMissing(keyword) = fault.kind else { return None };
    let word = keyword.word();
    let before = scene.item_at(fault.span).checked_sub(1).and_then(|item| scene.section.items.get(item));
    let again = before.is_some_and(|item| {
        matches!(item.kind, ItemKind::Puzzle | ItemKind::Lesson) && said_before(scene, item, keyword)
    });
    let why = if again { "comes again after the grid" } else { "belongs to a puzzle" };
    Some(Draft::new(
        fault.span,
        format!("`{word}` {why}, so another puzzle begins here without a `puzzle` line"),
        "write `puzzle` with an id above it, in column 1",
    ))
}

fn said_before(scene: &Scene, item: &Item, keyword: Keyword) -> bool {
    scene.section.statements_of(item).iter().any(|statement| statement.keyword == Some(keyword))
}
