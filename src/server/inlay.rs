//! What each row of a grid still misses, at its end.

use super::convert::position_in;
use super::settings::Shown;
use super::state::Snapshot;
use crate::board::{Cell, DigitSet, Layout};
use crate::book::{Puzzle, Sheet, Token};
use crate::notation::{Section, Span};
use tower_lsp::ls_types::{InlayHint, InlayHintLabel, Position, Range};

/// The hints of the lines in a range.
pub fn answer(snapshot: &Snapshot, range: Range) -> Vec<InlayHint> {
    if snapshot.settings.rows == Shown::Hide {
        return Vec::new();
    }
    let book = &snapshot.book;
    let mut hints = Vec::new();
    for at in snapshot.sections_in(&(range.start.line..range.end.line.saturating_add(1))) {
        let (section, meaning) = (&book.tree.sections[at], &book.meanings[at]);
        let before = snapshot.lines_before(at);
        for (span, missing) in meaning.puzzles().flat_map(|puzzle| of_puzzle(section, puzzle)) {
            let place = position_in(section, span.end, snapshot.encoding);
            let position = Position::new(place.line + before, place.character);
            if (range.start.line..=range.end.line).contains(&position.line) {
                hints.push(hint(position, missing));
            }
        }
    }
    hints
}

fn hint(position: Position, missing: DigitSet) -> InlayHint {
    let digits: Vec<String> = missing.iter().map(|digit| digit.to_string()).collect();
    InlayHint {
        position,
        label: InlayHintLabel::String(format!("misses {}", digits.join(" "))),
        kind: None,
        text_edits: None,
        tooltip: None,
        padding_left: Some(true),
        padding_right: None,
        data: None,
    }
}

/// For each row of the givens, of a position and of the sheets that is not full: where it ends, and what it misses.
fn of_puzzle(section: &Section, puzzle: &Puzzle) -> Vec<(Span, DigitSet)> {
    let Some(layout) = &puzzle.layout else { return Vec::new() };
    let boards = [&puzzle.givens, &puzzle.position].into_iter().flatten().flat_map(|board| {
        rows(layout, |cell| (board.place(section, cell), board.grid.get(cell).into_iter().collect()))
    });
    let sheets = puzzle
        .sheets
        .iter()
        .flat_map(|sheet| rows(layout, |cell| (sheet.place(section, cell), stands(puzzle, sheet, cell))));
    boards.chain(sheets).collect()
}

/// What stands in a cell of a sheet: what is written or known, or given.
fn stands(puzzle: &Puzzle, sheet: &Sheet, cell: Cell) -> DigitSet {
    match sheet.token(cell) {
        Token::Digit(digit) | Token::Known(digit) => DigitSet::single(digit),
        Token::Empty | Token::Closed(_) | Token::Open(_) => {
            puzzle.givens.as_ref().and_then(|board| board.grid.get(cell)).into_iter().collect()
        }
    }
}

/// The rows that are not full and not empty, by what each cell holds and where it stands.
fn rows(layout: &Layout, cell: impl Fn(Cell) -> (Span, DigitSet)) -> Vec<(Span, DigitSet)> {
    let size = layout.size();
    let cells: Vec<Cell> = size.all_cells().collect();
    let row = |row: &[Cell]| {
        let (places, held): (Vec<Span>, Vec<DigitSet>) = row.iter().map(|&at| cell(at)).unzip();
        let held = held.into_iter().fold(DigitSet::EMPTY, |all, some| all | some);
        let missing = size.digits() - held;
        let partly = !held.is_empty() && !missing.is_empty();
        places.into_iter().max_by_key(|place| place.end).filter(|_| partly).map(|place| (place, missing))
    };
    cells.chunks(size.usize()).filter_map(row).collect()
}
