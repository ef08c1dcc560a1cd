//! Givens that a puzzle could do without.

use super::{Budget, Found, Search, Way, count, prepared};
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
    let prepared = prepared(Way::best(layout), layout, givens);
    let mut left = budget;
    let mut spare = Spare { cells: Vec::new(), undecided: false };
    let mut search = Search::new(&prepared, givens);
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
        let mut search = Search::new(&prepared, &fewer).without(cell, digit);
        match search.advance(left.nodes) {
            Found::Solution(_) => {}
            Found::Nothing => spare.cells.push(cell),
            Found::Budget => spare.undecided = true,
        }
        left.spend(search.nodes());
    }
    spare
}

/// Those of these sets of givens that can go together from a puzzle with one solution, the first ones first, and what is
/// left then. None is needed afterwards that was not tried: what is needed among many givens is needed among fewer. What
/// the budget does not reach stays.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn spare_together(
    layout: &Layout,
    givens: &Grid,
    sets: impl Iterator<Item = Vec<Cell>>,
    mut budget: Budget,
) -> (Vec<Cell>, Grid) {
    let mut left = givens.clone();
    let mut gone = Vec::new();
    for set in sets {
        let mut fewer = left.clone();
        for &cell in &set {
            fewer.set(cell, None);
        }
        let outcome = count(layout, &fewer, 2, budget);
        budget.nodes = budget.nodes.saturating_sub(outcome.nodes);
        if outcome.count == 1 && outcome.stopped.is_none() {
            left = fewer;
            gone.extend(set);
        }
    }
    (gone, left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    fn of(line: &str, nodes: u64) -> (String, bool) {
        let layout = Layout::classic(Size::new(4).unwrap()).unwrap();
        let spare = spare_givens(&layout, &Grid::from_line(line).unwrap(), Budget { nodes });
        (spare.cells.iter().map(Cell::to_string).collect::<Vec<_>>().join(" "), spare.undecided)
    }

    #[test]
    fn each_given_that_can_go_is_named() {
        let full = "1234341221434321";
        assert_eq!(of(full, 1000).0.split(' ').count(), 16);
        assert_eq!(of("1234............", 1000), (String::new(), false));
        assert_eq!(of("11..............", 1000), (String::new(), false));
        assert_eq!(of("................", 0), (String::new(), true));
    }
}
