//! Two equal givens see each other: they stand in one row, column, box or other house.
//!
//! ## Why
//! A house holds each digit once, so such a puzzle has no solution. Each pair of equal digits is reported once,
//! however many houses the two share. Of the two, the one that clashes with more givens is marked, as it is the
//! likelier slip; otherwise the later one. Where changing one given would leave exactly one solution, that is proposed.
//!
//! ## Found
//! ```gset
//! puzzle ht-01 "Twice in a Row"
//! size       4
//! givens
//!   2 .  1 2
//! #~       ^ givens-clash: r1c4 holds 2, and so does r1c1 in row 1
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-01 "Twice in a Row"
//! size       4
//! givens
//!   2 .  1 3
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::repeats::{repeats, told_together};
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::Layout;
use crate::book::Board;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "givens-clash",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("givens_clash.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let puzzle = scene.puzzle;
    // It is known of most, and then nothing clashes.
    if scene.solution().is_some() {
        return Vec::new();
    }
    // What a lesson's position holds, its givens hold or do not matter.
    match (&puzzle.layout, puzzle.position.as_ref().or(puzzle.givens.as_ref())) {
        (Some(layout), Some(board)) if !puzzle.unsure => clashes(scene, layout, board),
        _ => Vec::new(),
    }
}

fn clashes(scene: &PuzzleScene, layout: &Layout, board: &Board) -> Vec<Draft> {
    let clashes = repeats(layout, &board.grid, |_| false);
    let alone = clashes.len() == 1;
    let drafts = clashes.into_iter().map(|clash| {
        let span = scene.cell(board, clash.cell);
        let help = format!("change {}, or what it clashes with", clash.cell);
        let mut draft = Draft::new(span, clash.message(layout), help);
        for &other in &clash.others {
            draft = draft.beside(scene.cell(board, other), format!("{other} holds {} too", clash.digit));
        }
        if alone && !scene.puzzle.lesson {
            let among = [&[clash.cell], &clash.others[..]].concat();
            draft = scene.with_slips(draft, layout, board, &among);
        }
        draft
    });
    told_together(drafts.collect())
}
