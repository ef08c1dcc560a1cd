//! Lists: one puzzle a line.

use super::import::{Draft, Id, Piece, Place};
use super::symbols;
use super::text::{Line, Lines, chars_before, is_blank, split_comment, trim};

/// Reads a list. A line whose second word is a whole solution of its puzzle has it as its solution; whatever else
/// stands after a blank is the id.
pub(super) fn read<'a>(text: &'a str, emit: &mut dyn FnMut(Piece<'a>)) {
    for line in Lines::of(text) {
        let (said, comment) = split_comment(line.text);
        if !trim(said).is_empty() {
            emit(puzzle(line, said, comment));
        } else if comment.is_some() {
            emit(Piece::Kept { raw: line.text, trouble: None });
        }
    }
}

fn puzzle<'a>(line: Line<'a>, said: &'a str, comment: Option<&'a str>) -> Piece<'a> {
    let said = trim(said);
    let place =
        |piece: &str, at: usize| Place { line: line.number, column: chars_before(line.text, piece) + at + 1 };
    // A whole grid may stand there in pieces.
    let whole = symbols::read(said).is_ok();
    let (word, mut rest) = if whole { (said, "") } else { said.split_once(is_blank).unwrap_or((said, "")) };
    let word = word.trim_end_matches([',', ';']);
    let reading = match symbols::read(word) {
        Ok(reading) => reading,
        Err(refusal) => {
            return Piece::Kept { raw: line.text, trouble: Some((place(word, refusal.at), refusal.kind)) };
        }
    };
    let mut draft = Draft::new(place(word, 0), reading.grid, reading.look);
    draft.remarks.extend(comment);
    let (next, after) = trim(rest).split_once(is_blank).unwrap_or((trim(rest), ""));
    if let Some(solution) = symbols::read(next).ok().filter(|next| draft.is_solved_by(&next.grid)) {
        draft.solution = Some(solution.grid);
        rest = after;
    }
    let rest = trim(rest);
    if !rest.is_empty() {
        draft.id = Some(Id { text: symbols::peel(rest).to_owned(), place: place(rest, 0) });
    }
    Piece::Puzzle(Box::new(draft))
}
