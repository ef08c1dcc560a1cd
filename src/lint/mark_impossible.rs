//! A mark notes a digit that its cell cannot hold.
//!
//! ## Why
//! Closed marks, `46` or `5!`, say that the cell holds one of these digits: they are wrong if the cell sees all of
//! them, or if the puzzle's one solution has another digit there. Open marks, `46?`, claim nothing about the rest of
//! the cell, so each of their digits is wrong only once the cell sees that digit. A digit that rules out several open
//! marks is reported once. What only the solution shows is said once a sheet, without the right digits, and only where
//! no digit written on the sheet is wrong.
//!
//! ## Found
//! ```gset
//! puzzle ht-15 "Rubbed Out"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   1   .
//!   .   .   .   .
//!   .   .   34? .
//! #~        ^^^ mark-impossible: r3c3 cannot hold 4: it sees the 4 in r4c4
//!   .   3   .   4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-15 "Rubbed Out"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! work
//!   2   .   1   .
//!   .   .   .   .
//!   .   .   3?  .
//!   .   3   .   4
//! ```

use super::sheet::Sheet;
use super::wording::{joined, listed};
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Digit, DigitSet, Grid};
use crate::book::Token;
use std::collections::BTreeMap;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "mark-impossible",
    group: Group::Sheets,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("mark_impossible.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    Sheet::all(scene).flat_map(|sheet| drafts(scene, &sheet)).collect()
}

fn drafts(scene: &PuzzleScene, sheet: &Sheet) -> Vec<Draft> {
    let standing = sheet.standing();
    let solution = sheet.solution();
    let mut open: BTreeMap<(Cell, Digit), Vec<(Cell, DigitSet)>> = BTreeMap::new();
    let mut closed = Vec::new();
    let mut unsolved = Vec::new();
    for (cell, token) in sheet.tokens().filter(|(cell, _)| sheet.given(*cell).is_none()) {
        match token {
            Token::Empty | Token::Digit(_) => {}
            Token::Open(digits) => {
                for (bar, digit) in bars(sheet, &standing, cell, digits) {
                    open.entry((bar, digit)).or_default().push((cell, digits));
                }
            }
            Token::Known(_) | Token::Closed(_) => {
                let digits = Sheet::says(token).unwrap_or_default();
                let bars = bars(sheet, &standing, cell, digits);
                if bars.len() == digits.len() {
                    closed.push(all_barred(sheet, cell, &bars));
                } else if solution.and_then(|grid| grid[cell]).is_some_and(|digit| !digits.contains(digit)) {
                    unsolved.push(cell);
                }
            }
        }
    }
    let open = open.into_iter().map(|((bar, digit), marks)| one_barred(sheet, bar, digit, &marks));
    open.chain(closed).chain(not_in_solution(scene, sheet, &unsolved)).collect()
}

/// For each of the digits that the cell sees, where it stands.
fn bars(sheet: &Sheet, standing: &Grid, cell: Cell, digits: DigitSet) -> Vec<(Cell, Digit)> {
    let peers = sheet.layout.peers(cell);
    let bar = |digit| Some((peers.iter().find(|peer| standing[*peer] == Some(digit))?, digit));
    digits.iter().filter_map(bar).collect()
}

/// Open marks of a digit that sees them.
fn one_barred(sheet: &Sheet, bar: Cell, digit: Digit, marks: &[(Cell, DigitSet)]) -> Draft {
    let cells: Vec<Cell> = marks.iter().map(|(cell, _)| *cell).collect();
    let see = if cells.len() == 1 { "it sees" } else { "they see" };
    let message = format!("{} cannot hold {digit}: {see} the {digit} in {bar}", listed(&cells));
    let help = format!("take {digit} out of the open marks");
    let mut draft = Draft::new(sheet.cell(cells[0]), message, &help);
    for &cell in &cells[1..] {
        draft = draft.beside(sheet.cell(cell), format!("{cell} cannot hold {digit} either"));
    }
    draft = draft.beside(sheet.cell(bar), format!("{bar} holds {digit}"));
    let without = |&(cell, digits): &(Cell, DigitSet)| {
        let rest = digits - DigitSet::single(digit);
        let text = if rest.is_empty() { ".".to_owned() } else { format!("{rest}?") };
        sheet.write(cell, &text)
    };
    draft.propose(help, marks.iter().map(without).collect())
}

/// Closed marks of a cell that sees each of their digits.
fn all_barred(sheet: &Sheet, cell: Cell, bars: &[(Cell, Digit)]) -> Draft {
    let digits: Vec<String> = bars.iter().map(|(_, digit)| digit.to_string()).collect();
    let seen: Vec<String> = bars.iter().map(|(bar, digit)| format!("the {digit} in {bar}")).collect();
    let barred = match &digits[..] {
        [digit] => format!("cannot hold {digit}"),
        _ => format!("can hold none of its marks, {}", joined(&digits)),
    };
    let message = format!("{cell} {barred}: it sees {}", joined(&seen));
    let draft =
        Draft::new(sheet.cell(cell), message, "mark the cell anew, or look for what was written by mistake");
    bars.iter()
        .fold(draft, |draft, (bar, digit)| draft.beside(sheet.cell(*bar), format!("{bar} holds {digit}")))
}

/// Closed marks without the digit that the solution has.
fn not_in_solution(scene: &PuzzleScene, sheet: &Sheet, cells: &[Cell]) -> Option<Draft> {
    let (&first, others) = cells.split_first()?;
    let marks = scene.section.at(sheet.cell(first));
    let more = match others {
        [] => String::new(),
        [other] => format!("; {other} lacks its digit too"),
        _ => format!("; {} lack theirs too", listed(others)),
    };
    let message =
        format!("the digit that {first} holds in the solution is not among its marks, {marks}{more}");
    let draft =
        Draft::new(sheet.cell(first), message, "mark the cell anew, and look at what was concluded from it")
            .spoiling();
    let beside =
        |draft: Draft, &other| draft.beside(sheet.cell(other), format!("{other} lacks its digit too"));
    Some(others.iter().fold(draft, beside))
}
