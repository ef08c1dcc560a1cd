//! A digit written on a sheet stands twice in a house.
//!
//! ## Why
//! A house holds each digit once, so at least one of the two is wrong. Each pair is reported once, at a digit that was
//! written and not given. Neither is held against the solution then, nor are marks held against them.
//!
//! ## Found
//! ```gset
//! puzzle ht-13 "Twice in a Column"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   1   .
//!   .   .   .   .
//!   .   .   .   .
//!   2   3   .   4
//! #~^ work-clash: r4c1 holds 2, and so does r1c1 in col 1
//! ```
//!
//! ## Fixed
//! By hand: take out the digit that was written by mistake, and what was concluded from it.

use super::repeats::{Repeat, told_together};
use super::sheet::Sheet;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "work-clash",
    group: Group::Sheets,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("work_clash.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    Sheet::all(scene).flat_map(|sheet| drafts(&sheet)).collect()
}

fn drafts(sheet: &Sheet) -> Vec<Draft> {
    let draft = |clash: Repeat| {
        let help = format!("take out {}, or what it clashes with", clash.cell);
        let draft = Draft::new(sheet.cell(clash.cell), clash.message(sheet.layout), help);
        let beside = |draft: Draft, &other| {
            draft.beside(sheet.cell(other), format!("{other} holds {} too", clash.digit))
        };
        clash.others.iter().fold(draft, beside)
    };
    told_together(sheet.clashes().into_iter().map(draft).collect())
}
