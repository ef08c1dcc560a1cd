//! Where two solutions of a puzzle differ, on as few cells as can be.

use std::sync::Arc;

use super::{Budget, Found, Search, net_for};
use crate::board::{Cell, CellSet, Digit, Grid, Layout};

/// Two solutions of one puzzle, and where they differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// One solution.
    pub first: Grid,
    /// The other.
    pub second: Grid,
    /// The cells in which they differ, in reading order, never none.
    pub cells: Vec<Differing>,
    /// Whether it is known that among the solutions that agree with these two everywhere else, no two differ in only
    /// some of the cells. `false` says that the budget was spent before that was settled.
    pub minimal: bool,
}

/// A cell that two solutions fill differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Differing {
    /// The cell.
    pub cell: Cell,
    /// Its digit in the first solution.
    pub first: Digit,
    /// Its digit in the second solution.
    pub second: Digit,
}

/// Finds two solutions whose difference has no smaller one inside it. `None` if the puzzle has fewer than two
/// solutions, or if two were not found within the budget.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn difference(layout: &Layout, givens: &Grid, budget: Budget) -> Option<Difference> {
    let net = net_for(layout, givens);
    let mut left = budget;
    let mut search = Search::new(Arc::clone(&net), givens);
    let (Found::Solution(first), Found::Solution(second)) =
        (search.advance(left.nodes), search.advance(left.nodes))
    else {
        return None;
    };
    left.spend(search.nodes());

    let (mut first, mut second) = (first, second);
    let mut cells = first.differing(&second);
    // Solutions that agree outside the cells. Until two of them agree in one of the cells too, which gives a smaller
    // difference, each digit of a cell stands in one of them only: so there are never many.
    let minimal = 'smaller: loop {
        let mut common = first.clone();
        for cell in cells.iter() {
            common.set(cell, None);
        }
        let mut search = Search::new(Arc::clone(&net), &common).near(&first);
        let mut seen = vec![first.clone(), second.clone()];
        loop {
            match search.advance(left.nodes) {
                Found::Solution(grid) => {
                    let smaller = |other: &Grid| {
                        let inside = grid.differing(other);
                        !inside.is_empty() && inside != cells
                    };
                    if let Some(other) = seen.iter().find(|other| smaller(other)) {
                        (first, second) = (other.clone(), grid);
                        cells = first.differing(&second);
                        left.spend(search.nodes());
                        continue 'smaller;
                    }
                    seen.push(grid);
                }
                Found::Nothing => break 'smaller true,
                Found::Budget => break 'smaller false,
            }
        }
    };
    let cells = list(cells, &first, &second);
    Some(Difference { first, second, cells, minimal })
}

fn list(cells: CellSet, first: &Grid, second: &Grid) -> Vec<Differing> {
    cells
        .iter()
        .filter_map(|cell| Some(Differing { cell, first: first[cell]?, second: second[cell]? }))
        .collect()
}
