//! A box has open marks of a digit, but the digit is in none of the cells so marked.
//!
//! ## Why
//! Under `marks by-box`, open marks of a digit in a box say that the digit is in one of these cells. Here the puzzle's
//! one solution has it in another cell of the box: a mark is missing. The message does not say where, for a sheet is
//! somebody's work. Nothing is said where a digit written on the sheet is wrong, and nothing under `marks free`.
//!
//! ## Found
//! ```gset
//! marks      by-box
//!
//! puzzle ht-16 "Only Here"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   1   .
//!   4?  4?  .   .
//! #~^^ mark-missing: 4 is noted in r2c1 r2c2, but box 1 has it in another cell
//!   .   .   .   .
//!   .   3   .   4
//! ```
//!
//! ## Fixed
//! By hand: look at the box again, and mark every cell that can hold the digit.

use super::sheet::Sheet;
use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Digit, Grid, House, HouseName};
use crate::book::{Marks, Token};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "mark-missing",
    group: Group::Sheets,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("mark_missing.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    match &scene.puzzle.facts.marks {
        Some(fact) if fact.value == Marks::ByBox => {
            Sheet::all(scene).flat_map(|sheet| drafts(&sheet)).collect()
        }
        _ => Vec::new(),
    }
}

fn drafts(sheet: &Sheet) -> Vec<Draft> {
    let Some(solution) = sheet.solution() else { return Vec::new() };
    let mut drafts = Vec::new();
    for house in sheet.layout.houses() {
        if matches!(house.name, HouseName::Box(_) | HouseName::Region(_)) {
            for digit in sheet.layout.size().digits().iter() {
                drafts.extend(draft(sheet, solution, house, digit));
            }
        }
    }
    drafts
}

fn draft(sheet: &Sheet, solution: &Grid, house: &House, digit: Digit) -> Option<Draft> {
    let noted = |cell: &Cell| matches!(sheet.token(*cell), Token::Open(digits) if digits.contains(digit));
    let marked: Vec<Cell> = house.cells.iter().copied().filter(noted).collect();
    let &first = marked.first()?;
    let home = house.cells.iter().copied().find(|cell| solution[*cell] == Some(digit))?;
    // What is given, written in or marked closed there was found, and the open marks are merely left over.
    if sheet.given(home).is_some()
        || Sheet::says(sheet.token(home)).is_some_and(|digits| digits.contains(digit))
    {
        return None;
    }
    let message =
        format!("{digit} is noted in {}, but {} has it in another cell", listed(&marked), house.name);
    let help = format!("mark every cell of {} that can hold {digit}", house.name);
    let draft = Draft::new(sheet.cell(first), message, help).spoiling();
    Some(
        marked[1..]
            .iter()
            .fold(draft, |draft, &cell| draft.beside(sheet.cell(cell), format!("{digit} is noted here"))),
    )
}
