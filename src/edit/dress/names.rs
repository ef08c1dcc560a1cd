//! Plain names for digits.

use crate::board::Digit;
use crate::book::{Puzzle, Verdict};
use crate::sameness::Transformation;
use serde::{Deserialize, Serialize};

/// How the digits of a puzzle are named anew.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum Names {
    /// 1, 2 and so on as they come first in the grid.
    AsGiven,
    /// So that the first row of the solution has them in order.
    FirstRow,
}

impl Names {
    /// What names the digits of a puzzle so; `None` where they are named so already, or that is not known at once.
    pub fn of(self, puzzle: &Puzzle) -> Option<Transformation> {
        let board = puzzle.givens.as_ref().or(puzzle.position.as_ref())?;
        let size = board.grid.size();
        let digits: Vec<Digit> = match self {
            Names::AsGiven => board.grid.digits().map(|(_, digit)| digit).collect(),
            Names::FirstRow => match puzzle.verdict_at_once()? {
                Verdict::One(solution) => solution.digits().map(|(_, digit)| digit).collect(),
                _ => return None,
            },
        };
        let how = Transformation::renaming(size, digits.into_iter());
        (how != Transformation::identity(size)).then_some(how)
    }
}
