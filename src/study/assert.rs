//! What somebody asserts of a puzzle, as a reader takes it, and whether it can be so.

use crate::board::{Cell, CellSet, DigitSet, Grid, Layout};
use crate::book::Assertion;
use crate::step::{Claim, Position};

/// What is left to claim of an assertion where this is known: without cells that are filled and digits that stand. None
/// for a look, and where nothing is left; cells that cannot hold a digit are no place for it.
pub fn claims(says: &Assertion, known: &Position) -> Vec<Claim> {
    let open = |cells: CellSet| -> CellSet {
        cells.iter().filter(|cell| known.grid().get(*cell).is_none()).collect()
    };
    let about = |cells: CellSet, claim: fn(CellSet, DigitSet) -> Claim, digits: DigitSet| {
        let cells = open(cells);
        if cells.is_empty() { Vec::new() } else { vec![claim(cells, digits)] }
    };
    match says {
        Assertion::Is { cells, digits } => {
            about(*cells, |cells, digits| Claim::Is { cells, digits }, *digits)
        }
        Assertion::IsNot { cells, digits } => {
            about(*cells, |cells, digits| Claim::IsNot { cells, digits }, *digits)
        }
        Assertion::Within { houses, digits, place } => {
            let within = |&house| {
                let digits = *digits & known.missing(house);
                let can = |cell: &Cell| !(known.candidates(*cell) & digits).is_empty();
                let cells = open(*place & *known.layout().at(house).set()).iter().filter(can).collect();
                (!digits.is_empty()).then_some(Claim::Within { house, digits, cells })
            };
            houses.iter().filter_map(within).collect()
        }
        Assertion::Misses { .. } | Assertion::Open { .. } => Vec::new(),
    }
}

/// A cell where an assertion is not so in this solution, or where the digit stands that it has elsewhere; `None` if it
/// is so. Of looks it says nothing.
pub fn contradicted(says: &Assertion, layout: &Layout, solution: &Grid) -> Option<Cell> {
    let holds = |cell: Cell, digits: DigitSet| solution.get(cell).is_some_and(|digit| digits.contains(digit));
    match says {
        Assertion::Is { cells, digits } => cells.iter().find(|cell| !holds(*cell, *digits)),
        Assertion::IsNot { cells, digits } => cells.iter().find(|cell| holds(*cell, *digits)),
        Assertion::Within { houses, digits, place } => houses.iter().find_map(|&house| {
            let elsewhere = *layout.at(house).set() - *place;
            elsewhere.iter().find(|cell| holds(*cell, *digits))
        }),
        Assertion::Misses { .. } | Assertion::Open { .. } => None,
    }
}
