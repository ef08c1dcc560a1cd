//! How many solutions a puzzle has: judged only where nothing that it leans on is broken.

use super::Puzzle;
use crate::board::{Clash, Grid, Layout};
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
    Several(Box<Outcome>),
    /// The search ended at its budget before it could tell; what it had counted.
    Undecided(Box<Outcome>),
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
    /// Counts the solutions of `puzzle`: whether there are several first, and only then how many.
    pub(super) fn of(puzzle: &Puzzle) -> Verdict {
        Verdict::within(puzzle, Budget::default()).unwrap_or_else(|(layout, grid, outcome)| {
            if outcome.count < SEVERAL {
                return Verdict::Undecided(outcome.into());
            }
            let all = count(layout, grid, MOST_SOLUTIONS, COUNTING);
            Verdict::Several(if all.count >= outcome.count { all } else { outcome }.into())
        })
    }

    /// The same, if it can be had in a fraction of a millisecond.
    pub(super) fn at_once(puzzle: &Puzzle) -> Option<Verdict> {
        let (most, budget) = AT_ONCE;
        let small = puzzle.layout.as_ref().is_none_or(|layout| layout.size().side() <= most);
        Verdict::within(puzzle, if small { budget } else { Budget { nodes: 0 } }).ok()
    }

    /// The verdict if it is neither that there are several solutions nor that the budget was too small; otherwise what was
    /// searched, and what came of it.
    fn within(puzzle: &Puzzle, budget: Budget) -> Result<Verdict, (&Layout, &Grid, Outcome)> {
        let (Some(layout), Some(givens), true) = (&puzzle.layout, &puzzle.givens, puzzle.judged()) else {
            return Ok(Verdict::NotJudged);
        };
        let outcome = count(layout, &givens.grid, SEVERAL, budget);
        // Where there is a solution no givens clash; and where they do, the search sees it at once.
        if outcome.count == 0 {
            let clashes = givens.grid.clashes(layout);
            if !clashes.is_empty() {
                return Ok(Verdict::Clash(clashes));
            }
        }
        match outcome {
            Outcome { count: 0, stopped: None, .. } => {
                Ok(Verdict::NoSolution(contradiction(layout, &givens.grid)))
            }
            Outcome { count: 1, stopped: None, first: Some(solution), .. } => Ok(Verdict::One(solution)),
            outcome => Err((layout, &givens.grid, outcome)),
        }
    }
}
