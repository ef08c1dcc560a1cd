//! A step, taken on a solver's sheet.

use super::{Change, below, put_below, rewrite};
use crate::board::{Cell, DigitSet};
use crate::book::{Puzzle, Sheet, Token};
use crate::format;
use crate::notation::{Keyword, Section};
use crate::step::{Deduction, Method, Position};

/// Takes a step from this position on a sheet, or below the givens where there is none. A digit is written in, on a new
/// sheet if there is none; what is struck goes from closed marks. Where the cells have no marks, and of a remembered
/// fact, a line of `known` says what is new.
pub fn take_step(
    section: &Section,
    puzzle: &Puzzle,
    sheet: Option<&Sheet>,
    position: &Position,
    step: &Deduction,
) -> Vec<Change> {
    let base = puzzle.position.as_ref().or(puzzle.givens.as_ref());
    let (Some(layout), Some(base)) = (&puzzle.layout, base) else { return Vec::new() };
    if step.places() {
        if let Some(sheet) = sheet {
            let rows = format::sheet_lines(&with_digits(sheet, step));
            return rewrite(section, &section.statements[sheet.statement], &rows);
        }
        let token = |cell| base.grid[cell].map_or(Token::Empty, Token::Digit);
        let tokens = layout.size().all_cells().map(token).collect();
        let new = Sheet { name: None, tokens, side: layout.size().side(), statement: base.statement };
        let rows = format::sheet_lines(&with_digits(&new, step));
        return vec![put_below(section, &section.statements[base.statement], "work", &rows)];
    }
    let strikes = position.strikes(&step.claims);
    let marked = |(cell, _): &(Cell, DigitSet)| {
        sheet.is_some_and(|sheet| matches!(sheet.token(*cell), Token::Closed(_)))
    };
    let mut changes = Vec::new();
    if let Some(sheet) = sheet.filter(|_| step.method == Method::Marks) {
        let rows = format::sheet_lines(&without(sheet, &strikes));
        changes = rewrite(section, &section.statements[sheet.statement], &rows);
    }
    if step.method == Method::Scanning || !strikes.iter().all(marked) {
        let line = format!("  {}", step.written(layout));
        let after = sheet.map_or(base.statement, |sheet| sheet.statement);
        let statement = |at: usize| &section.statements[at];
        // What is remembered with a sheet stands below it and above the next one.
        let mut known = puzzle.blocks(section, Keyword::Known);
        let next = puzzle.sheets.iter().map(|sheet| sheet.statement).find(|at| *at > after);
        changes.push(match known.find(|(at, _)| *at > after && next.is_none_or(|next| *at < next)) {
            Some((_, known)) => below(section, known, &[line]),
            None => put_below(section, statement(after), "known", &[line]),
        });
    }
    changes
}

/// A sheet with the digits that a step places.
fn with_digits(sheet: &Sheet, step: &Deduction) -> Sheet {
    let mut sheet = sheet.clone();
    for claim in step.claims.iter().filter(|claim| claim.places()) {
        if let Some(digit) = claim.digits().only() {
            claim.cells().iter().for_each(|cell| sheet.set(cell, Token::Digit(digit)));
        }
    }
    sheet
}

/// A sheet without what is struck from closed marks.
fn without(sheet: &Sheet, strikes: &[(Cell, DigitSet)]) -> Sheet {
    let mut sheet = sheet.clone();
    for &(cell, out) in strikes {
        if let Token::Closed(digits) = sheet.token(cell) {
            let left = digits - out;
            sheet.set(cell, left.only().map_or(Token::Closed(left), Token::Known));
        }
    }
    sheet
}
