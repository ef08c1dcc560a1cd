//! A digit written on a sheet is not the one that the solution has.
//!
//! ## Why
//! Nothing on the sheet contradicts the digit yet; only the puzzle's one solution shows that it is wrong. The message
//! names the cells and not the right digits, for a sheet is somebody's work. It is said once a sheet, at the first such
//! cell in reading order, and marks are then not held against the solution: wrong marks follow from wrong digits.
//!
//! ## Found
//! ```gset
//! puzzle ht-14 "Too Soon"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   1   .
//!   4   .   .   .
//! #~^ work-wrong: r2c1 does not hold 4 in the solution
//!   .   .   .   .
//!   .   3   .   4
//! ```
//!
//! ## Fixed
//! By hand: take the digit out, and what was concluded from it.

use super::sheet::Sheet;
use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "work-wrong",
    group: Group::Sheets,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("work_wrong.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    Sheet::all(scene).filter_map(|sheet| draft(scene, &sheet)).collect()
}

fn draft(scene: &PuzzleScene, sheet: &Sheet) -> Option<Draft> {
    let wrong = sheet.wrong();
    let (&first, others) = wrong.split_first()?;
    let more = match others {
        [] => String::new(),
        [other] => format!("; {other} is wrong too"),
        _ => format!("; {} are wrong too", listed(others)),
    };
    let entry = scene.section.at(sheet.cell(first));
    let message = format!("{first} does not hold {entry} in the solution{more}");
    let draft =
        Draft::new(sheet.cell(first), message, "take it out, and what was concluded from it").spoiling();
    Some(
        others
            .iter()
            .fold(draft, |draft, &other| draft.beside(sheet.cell(other), format!("{other} is wrong too"))),
    )
}
