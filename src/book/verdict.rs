//! How many solutions a puzzle has: judged only where nothing that it leans on is broken.

use crate::board::{Clash, Grid};
use crate::solve::{Contradiction, Outcome};

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
