//! Marks of a solver's sheet.

use super::{Change, put_below, rewrite};
use crate::board::{Candidates, Cell, DigitSet, Grid, Layout};
use crate::book::{Puzzle, Sheet, Token};
use crate::format;
use crate::notation::Section;

/// What is done with marks.
#[derive(Clone, Copy, PartialEq, Eq, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Marking {
    /// Each empty cell gets all digits that no cell in its sight holds.
    Fill,
    /// Digits that a cell in its sight holds go from a cell's marks.
    Tidy,
    /// All marks go.
    Clear,
}

/// Does something with the marks of a sheet. Without a sheet, one is made below the givens, to be filled. Nothing, where
/// nothing would change or the puzzle is broken.
pub fn mark(section: &Section, puzzle: &Puzzle, sheet: Option<&Sheet>, marking: Marking) -> Vec<Change> {
    let base = puzzle.position.as_ref().or(puzzle.givens.as_ref());
    let (Some(layout), Some(base)) = (&puzzle.layout, base) else { return Vec::new() };
    match sheet {
        Some(sheet) => {
            let tokens = marked(layout, &base.grid, sheet, marking);
            let new = Sheet { tokens, ..sheet.clone() };
            rewrite(section, &section.statements[sheet.statement], &format::sheet_lines(&new))
        }
        None if marking == Marking::Fill => {
            let token = |cell| base.grid[cell].map_or(Token::Empty, Token::Digit);
            let tokens = layout.size().all_cells().map(token).collect();
            let (side, statement) = (layout.size().side(), base.statement);
            let empty = Sheet { name: None, tokens, side, statement };
            let tokens = marked(layout, &base.grid, &empty, marking);
            let rows = format::sheet_lines(&Sheet { tokens, ..empty });
            vec![put_below(section, &section.statements[statement], "work", &rows)]
        }
        None => Vec::new(),
    }
}

fn marked(layout: &Layout, base: &Grid, sheet: &Sheet, marking: Marking) -> Vec<Token> {
    let candidates = Candidates::of(layout, &sheet.grid(base));
    let token = |cell: Cell| match (marking, sheet.token(cell)) {
        (_, token) if base[cell].is_some() => token,
        (Marking::Fill, Token::Empty) => closed(candidates.at(cell)),
        (Marking::Tidy, old @ Token::Closed(digits)) => match digits & candidates.at(cell) {
            // That none is left is a mistake, and no marks tell of it.
            none if none.is_empty() => old,
            left => closed(left),
        },
        (Marking::Tidy, Token::Open(digits)) => match digits & candidates.at(cell) {
            none if none.is_empty() => Token::Empty,
            left => Token::Open(left),
        },
        (Marking::Clear, Token::Closed(_) | Token::Open(_) | Token::Known(_)) => Token::Empty,
        (_, token) => token,
    };
    layout.size().all_cells().map(token).collect()
}

/// Closed marks; one digit alone would be an entry.
fn closed(digits: DigitSet) -> Token {
    match digits.only() {
        Some(digit) => Token::Known(digit),
        None if digits.is_empty() => Token::Empty,
        None => Token::Closed(digits),
    }
}
