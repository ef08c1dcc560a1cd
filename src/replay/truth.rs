//! Whether a claim is false.

use super::{Counter, Ground, State};
use crate::board::{Cell, Digit, Grid};
use crate::book::Assertion;
use crate::solve::{Budget, count};
use crate::study::contradicted;

/// What shows at once that a claim is false here: the one solution, or for a look the grid.
pub(super) fn counter(ground: &Ground, state: &State, says: &Assertion) -> Option<Counter> {
    let known = &state.known;
    match says {
        Assertion::Misses { houses, digits } => {
            let wrong = houses.iter().find(|&&house| known.missing(house) != *digits)?;
            Some(Counter::Misses(*wrong, known.missing(*wrong)))
        }
        Assertion::Open { cells } => {
            let settled = |cell: &Cell| known.candidates(*cell).len() < 2;
            cells.iter().find(settled).map(Counter::Settled)
        }
        _ => {
            let standing = contradicted_by_digits(known.grid(), says);
            standing.or_else(|| by_solution(ground, ground.solution()?, says))
        }
    }
}

fn by_solution(ground: &Ground, solution: &Grid, says: &Assertion) -> Option<Counter> {
    let cell = contradicted(says, ground.layout(), solution)?;
    Some(Counter::Holds(cell, solution.get(cell)?))
}

/// A digit that stands against a claim.
fn contradicted_by_digits(grid: &Grid, says: &Assertion) -> Option<Counter> {
    let held = |cell: Cell| grid.get(cell).map(|digit| (cell, digit));
    let against = |(cell, digit)| Counter::Holds(cell, digit);
    match says {
        Assertion::Is { cells, digits } => {
            let mut wrong = cells.iter().filter_map(held).filter(|(_, digit)| !digits.contains(*digit));
            wrong.next().map(against)
        }
        Assertion::IsNot { cells, digits } => {
            let mut wrong = cells.iter().filter_map(held).filter(|(_, digit)| digits.contains(*digit));
            wrong.next().map(against)
        }
        _ => None,
    }
}

/// A digit that some solution of the start has where a claim has another, where it takes a search to tell.
pub(super) fn searched(ground: &Ground, says: &Assertion) -> Option<Counter> {
    let layout = ground.layout();
    let all = layout.size().digits();
    let mut against: Vec<(Cell, Digit)> = Vec::new();
    match says {
        Assertion::Is { cells, digits } => {
            against.extend(cells.iter().flat_map(|cell| (all - *digits).iter().map(move |it| (cell, it))));
        }
        Assertion::IsNot { cells, digits } => {
            against.extend(cells.iter().flat_map(|cell| digits.iter().map(move |it| (cell, it))));
        }
        Assertion::Within { houses, digits, place } => {
            for house in houses {
                let elsewhere = *layout.at(*house).set() - *place;
                against.extend(elsewhere.iter().flat_map(|cell| digits.iter().map(move |it| (cell, it))));
            }
        }
        Assertion::Misses { .. } | Assertion::Open { .. } => {}
    }
    for (cell, digit) in against {
        let mut grid = ground.start.givens.clone();
        if grid.get(cell).is_some_and(|there| there != digit) {
            continue;
        }
        grid.set(cell, Some(digit));
        if !grid.clashes(layout).is_empty() {
            continue;
        }
        let outcome = count(layout, &grid, 1, Budget { nodes: ground.nodes.get() });
        if outcome.count > 0 {
            return Some(Counter::Holds(cell, digit));
        }
        ground.nodes.set(ground.nodes.get().saturating_sub(outcome.nodes));
    }
    None
}
