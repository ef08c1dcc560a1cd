//! How many solutions a puzzle has: judged only where nothing that it leans on is broken.

use super::Puzzle;
use crate::board::{Clash, Grid};
use crate::solve::{Budget, Contradiction, Outcome, contradiction, count};

/// What the exact search says of a puzzle.
#[derive(Clone, Debug)]
pub enum Verdict {
    /// Not asked: its layout or grid is broken or absent, a line of it is lost, or it has a constraint that is not used yet.
    NotJudged,
    /// Equal givens in a house.
    Clash(Vec<Clash>),
    /// No solution; the plain reason, where there is one.
    NoSolution(Option<Contradiction>),
    /// Exactly one.
    One(Grid),
    /// Two or more; how the search ended and what it counted.
    Several(Outcome),
    /// The search ended at its budget before it could tell; what it had counted.
    Undecided(Outcome),
}

/// Two solutions are enough to know that there are several.
const SEVERAL: u64 = 2;

/// Solutions are counted no further than this: with more, nobody mends a puzzle by their number.
pub const MOST_SOLUTIONS: u64 = 1000;

/// Nodes for that count: enough for [`MOST_SOLUTIONS`] of a 9x9 grid, and a fraction of a second at any size.
const COUNTING: Budget = Budget { nodes: 5_000 };

/// Sides up to this, and so many nodes, are searched in a fraction of a millisecond.
const AT_ONCE: (u8, Budget) = (9, Budget { nodes: 200 });

impl Verdict {
    /// The same as [`Verdict::of`], if it can be had in a fraction of a millisecond.
    pub(super) fn at_once(puzzle: &Puzzle) -> Option<Verdict> {
        let (Some(layout), Some(givens), true) = (&puzzle.layout, &puzzle.givens, puzzle.judged()) else {
            return Some(Verdict::NotJudged);
        };
        let (most, budget) = AT_ONCE;
        if !givens.grid.clashes(layout).is_empty() {
            return Some(Verdict::of(puzzle));
        }
        if layout.size().side() > most {
            return None;
        }
        match count(layout, &givens.grid, SEVERAL, budget) {
            Outcome { count: 0, stopped: None, .. } => {
                Some(Verdict::NoSolution(contradiction(layout, &givens.grid)))
            }
            Outcome { count: 1, stopped: None, first: Some(solution), .. } => Some(Verdict::One(solution)),
            _ => None,
        }
    }

    /// Counts the solutions of `puzzle`: whether there are several first, and only then how many.
    pub(super) fn of(puzzle: &Puzzle) -> Verdict {
        let (Some(layout), Some(givens), true) = (&puzzle.layout, &puzzle.givens, puzzle.judged()) else {
            return Verdict::NotJudged;
        };
        let clashes = givens.grid.clashes(layout);
        if !clashes.is_empty() {
            return Verdict::Clash(clashes);
        }
        let outcome = count(layout, &givens.grid, SEVERAL, Budget::default());
        match outcome {
            Outcome { count: 0, stopped: None, .. } => {
                Verdict::NoSolution(contradiction(layout, &givens.grid))
            }
            Outcome { count: 1, stopped: None, first: Some(solution), .. } => Verdict::One(solution),
            outcome if outcome.count < SEVERAL => Verdict::Undecided(outcome),
            outcome => {
                let all = count(layout, &givens.grid, MOST_SOLUTIONS, COUNTING);
                Verdict::Several(if all.count >= outcome.count { all } else { outcome })
            }
        }
    }
}
