//! Exact search: how many solutions a puzzle has, and which.
//!
//! Every layout can be searched: a diagonal or an extra house is one more house. The classic one of size 9 has a search
//! of its own, see [`Way`]. Each looks at as many positions as its [`Budget`] allows and says honestly when that was not
//! enough.

mod contradiction;
mod difference;
mod general;
mod nine;
mod settling;
mod spare;
mod way;

use crate::board::{Grid, Layout};
pub use contradiction::{Contradiction, contradiction};
pub use difference::{Difference, Differing, difference};
pub use settling::settling_given;
pub use spare::{Spare, spare_givens, spare_together};
pub use way::Way;
use way::{Found, Prepared, Search};

/// How much searching is allowed: never time, so that the answer is the same on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// How many nodes: each is one digit assumed in one cell. What follows plainly costs nothing.
    pub nodes: u64,
}

impl Default for Budget {
    /// About a second for a large grid of 25 by 25.
    fn default() -> Budget {
        Budget { nodes: 40_000 }
    }
}

impl Budget {
    /// Takes nodes off, as far as there are any.
    fn spend(&mut self, nodes: u64) {
        self.nodes = self.nodes.saturating_sub(nodes);
    }
}

/// Why a count ended before every solution was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// It reached the limit that was asked for.
    Limit,
    /// The budget was spent.
    Budget,
}

/// What a count came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// How many solutions were found: all of them if `stopped` is `None`, else at least so many exist.
    pub count: u64,
    /// Why the count is not known to be complete.
    pub stopped: Option<Stop>,
    /// The first solution found.
    pub first: Option<Grid>,
    /// How many nodes it took.
    pub nodes: u64,
}

/// Counts the solutions of a puzzle, up to a limit.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn count(layout: &Layout, givens: &Grid, limit: u64, budget: Budget) -> Outcome {
    let mut search = Search::new(&prepared(Way::best(layout), layout, givens), givens);
    let mut outcome = Outcome { count: 0, stopped: None, first: None, nodes: 0 };
    while outcome.stopped.is_none() {
        if outcome.count == limit {
            outcome.stopped = Some(Stop::Limit);
            break;
        }
        match search.advance(budget.nodes) {
            Found::Solution(grid) => {
                outcome.count += 1;
                outcome.first.get_or_insert(grid);
            }
            Found::Nothing => break,
            Found::Budget => outcome.stopped = Some(Stop::Budget),
        }
    }
    outcome.nodes = search.nodes();
    outcome
}

/// The solutions of a puzzle, one after the other, always in the same order.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn solutions(layout: &Layout, givens: &Grid, budget: Budget) -> Solutions {
    solutions_by(Way::best(layout), layout, givens, budget)
}

/// The same, found in this way, or in the general one if the layout or the machine does not allow it.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn solutions_by(way: Way, layout: &Layout, givens: &Grid, budget: Budget) -> Solutions {
    Solutions { search: Search::new(&prepared(way, layout, givens), givens), budget, out_of_budget: false }
}

/// An iterator over the solutions of a puzzle, see [`solutions`].
pub struct Solutions {
    search: Search,
    budget: Budget,
    out_of_budget: bool,
}

impl Solutions {
    /// Whether the iterator ended because its budget was spent: then there may be more solutions.
    pub fn out_of_budget(&self) -> bool {
        self.out_of_budget
    }

    /// How many nodes it took so far.
    pub fn nodes(&self) -> u64 {
        self.search.nodes()
    }
}

impl Iterator for Solutions {
    type Item = Grid;

    fn next(&mut self) -> Option<Grid> {
        match self.search.advance(self.budget.nodes) {
            Found::Solution(grid) => Some(grid),
            Found::Nothing => None,
            Found::Budget => {
                self.out_of_budget = true;
                None
            }
        }
    }
}

fn prepared(way: Way, layout: &Layout, givens: &Grid) -> Prepared {
    assert_eq!(layout.size(), givens.size(), "a grid has the size of its layout");
    Prepared::by(way, layout)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{Cell, Digit, Size};

    fn classic(side: u8) -> Layout {
        Layout::classic(Size::new(side).unwrap()).unwrap()
    }

    fn counted(layout: &Layout, givens: &Grid, limit: u64, nodes: u64) -> (u64, Option<Stop>) {
        let outcome = count(layout, givens, limit, Budget { nodes });
        assert!(outcome.nodes <= nodes);
        assert_eq!(outcome.first.is_some(), outcome.count > 0);
        (outcome.count, outcome.stopped)
    }

    #[test]
    fn a_count_says_why_it_ended() {
        let layout = classic(4);
        let empty = Grid::empty(layout.size());
        assert_eq!(counted(&layout, &empty, 1000, 1000), (288, None));
        assert_eq!(counted(&layout, &empty, 288, 1000), (288, Some(Stop::Limit)));
        assert_eq!(counted(&layout, &empty, 2, 1000), (2, Some(Stop::Limit)));
        assert_eq!(counted(&layout, &empty, 0, 1000), (0, Some(Stop::Limit)));
        assert_eq!(counted(&layout, &empty, 2, 0), (0, Some(Stop::Budget)));
        let clash = Grid::from_line("11..............").unwrap();
        assert_eq!(counted(&layout, &clash, 2, 0), (0, None));
        let full = Grid::from_line("1234341221434321").unwrap();
        assert_eq!(counted(&layout, &full, 2, 0), (1, None));
    }

    #[test]
    fn solutions_come_once_each_and_in_the_same_order() {
        let layout = classic(4);
        let empty = Grid::empty(layout.size());
        let all: Vec<Grid> = solutions(&layout, &empty, Budget::default()).collect();
        let again: Vec<Grid> = solutions(&layout, &empty, Budget::default()).collect();
        assert_eq!(all, again);
        assert_eq!(all.iter().collect::<std::collections::HashSet<_>>().len(), 288);
        let mut few = solutions(&layout, &empty, Budget { nodes: 20 });
        let found = few.by_ref().count();
        assert!(found > 0 && found < 288 && few.out_of_budget() && few.nodes() == 20);
        assert_eq!(few.next(), None);
    }

    #[test]
    fn no_grid_is_too_open_or_too_wrong() {
        // On a stack that is smaller than any thread's usual one.
        let search = || {
            for side in [9, 16, 25] {
                let layout = classic(side);
                let mut grid = Grid::empty(layout.size());
                assert_eq!(counted(&layout, &grid, 2, Budget::default().nodes), (2, Some(Stop::Limit)));
                grid.set(Cell::new(side - 1, side - 1), Digit::new(side));
                assert_eq!(counted(&layout, &grid, 2, Budget::default().nodes), (2, Some(Stop::Limit)));
                assert!(difference(&layout, &grid, Budget::default()).is_some());
                assert_eq!(settling_given(&layout, &grid, Budget::default()), None);
                assert_eq!(spare_givens(&layout, &grid, Budget::default()).cells, []);
                grid.set(Cell::new(0, side - 1), Digit::new(side));
                assert_eq!(counted(&layout, &grid, 2, 0), (0, None));
            }
            let layout = classic(16);
            let mut ten = Grid::empty(layout.size());
            for at in 0..10 {
                ten.set(Cell::new(at, 3 * at % 16), Digit::new(at + 1));
            }
            assert_eq!(counted(&layout, &ten, 2, Budget::default().nodes), (2, Some(Stop::Limit)));
        };
        std::thread::Builder::new().stack_size(64 * 1024).spawn(search).unwrap().join().unwrap();
    }
}
