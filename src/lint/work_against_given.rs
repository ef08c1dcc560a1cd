//! A sheet has something else in a cell whose digit is given.
//!
//! ## Why
//! A solver's sheet repeats the givens or leaves their cells empty. Where it says otherwise, it belongs to another
//! puzzle, a row slipped, or a digit was overwritten by mistake. It is said once a sheet, at the first such cell.
//!
//! ## Found
//! ```gset
//! puzzle ht-12 "Overwritten"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   3   .
//! #~        ^ work-against-given: r1c3 is given as 1, and this sheet has 3 there
//!   .   .   .   .
//!   .   .   .   .
//!   .   .   .   .
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-12 "Overwritten"
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
//!   .   .   .   .
//! ```

use super::sheet::Sheet;
use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::Cell;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "work-against-given",
    group: Group::Sheets,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("work_against_given.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    Sheet::all(scene).filter_map(|sheet| draft(scene, &sheet)).collect()
}

fn draft(scene: &PuzzleScene, sheet: &Sheet) -> Option<Draft> {
    let against = sheet.against_given();
    let (&(first, given), others) = against.split_first()?;
    let cells: Vec<Cell> = others.iter().map(|(cell, _)| *cell).collect();
    let more = match cells.len() {
        0 => String::new(),
        1 => format!("; {} differs too", cells[0]),
        _ => format!("; {} differ too", listed(&cells)),
    };
    let token = scene.section.at(sheet.cell(first));
    let message = format!("{first} is given as {given}, and this sheet has {token} there{more}");
    let mut draft = Draft::new(sheet.cell(first), message, "write what is given, or mend the givens");
    if let Some(span) = sheet.given_span(first) {
        draft = draft.beside(span, format!("{first} is given here"));
    }
    for &(cell, given) in others {
        draft = draft.beside(sheet.cell(cell), format!("{cell} is given as {given}"));
    }
    let edits = against.iter().map(|&(cell, given)| sheet.write(cell, &given.to_string())).collect();
    Some(draft.propose("write what is given", edits))
}
