//! Givens that a puzzle could do without.

use std::sync::Arc;

use super::{Budget, Found, Search, net_for};
use crate::board::{Cell, Grid, Layout};

/// Which givens can be spared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spare {
    /// The cells of those givens any one of which, but not always several, can go and leave one solution.
    pub cells: Vec<Cell>,
    /// Whether the budget was spent before every given was looked at.
    pub undecided: bool,
}

/// The givens any one of which can go from a puzzle with one solution, in reading order. A puzzle with none or several
/// solutions has none to spare.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn spare_givens(layout: &Layout, givens: &Grid, budget: Budget) -> Spare {
    let net = net_for(layout, givens);
    let mut left = budget;
    let mut spare = Spare { cells: Vec::new(), undecided: false };
    let mut search = Search::new(Arc::clone(&net), givens);
    let first = search.advance(left.nodes);
    let second = search.advance(left.nodes);
    left.spend(search.nodes());
    match (first, second) {
        (Found::Solution(_), Found::Nothing) => {}
        (first, second) => {
            spare.undecided = matches!(first, Found::Budget) || matches!(second, Found::Budget);
            return spare;
        }
    }
    for (cell, digit) in givens.digits() {
        let mut fewer = givens.clone();
        fewer.set(cell, None);
        let mut search = Search::new(Arc::clone(&net), &fewer).without(cell, digit);
        match search.advance(left.nodes) {
            Found::Solution(_) => {}
            Found::Nothing => spare.cells.push(cell),
            Found::Budget => spare.undecided = true,
        }
        left.spend(search.nodes());
    }
    spare
}
