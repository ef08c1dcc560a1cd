//! The solution of a puzzle, written into its text.

use super::{Change, put_below, rewrite};
use crate::book::{Puzzle, Verdict};
use crate::format;
use crate::notation::Section;

/// Writes the one solution below the givens, or over the rows of the `solution` that is there. Nothing, where that
/// would change nothing, or where the puzzle has not exactly one solution.
pub fn write_solution(section: &Section, puzzle: &Puzzle) -> Vec<Change> {
    let (Verdict::One(grid), Some(layout)) = (puzzle.verdict(), &puzzle.layout) else { return Vec::new() };
    let rows = format::grid_lines(grid, layout.boxes());
    match (&puzzle.solution, &puzzle.givens) {
        (Some(board), _) => rewrite(section, &section.statements[board.statement], &rows),
        (None, Some(givens)) => {
            vec![put_below(section, &section.statements[givens.statement], "solution", &rows)]
        }
        (None, None) => Vec::new(),
    }
}
