//! The ways to search, and the choice among them.

use std::cell::RefCell;
use std::sync::Arc;

use super::{general, nine};
use crate::board::{Cell, Digit, Grid, Layout};

/// A way to search. The fastest there is gets chosen; the others are there to be tested and measured. All find the same
/// solutions, and all but [`Way::General`] find them in the same order and in the same number of nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// For the classic layout of size 9, with AVX2.
    Avx2,
    /// For the classic layout of size 9, on any machine.
    Portable,
    /// For any layout, on any machine.
    General,
}

impl Way {
    /// The ways to search this layout on this machine, the fastest first and the general one last.
    pub fn all(layout: &Layout) -> impl Iterator<Item = Way> {
        let special = [Way::Avx2, Way::Portable].into_iter();
        special.filter(|way| way.settle(layout).is_some()).chain([Way::General])
    }

    /// The fastest of them.
    pub fn best(layout: &Layout) -> Way {
        Way::all(layout).next().unwrap_or(Way::General)
    }

    fn settle(self, layout: &Layout) -> Option<nine::Settle> {
        if nine::fits(layout) { nine::settle_by(self) } else { None }
    }
}

/// A layout made ready to be searched in some way.
#[derive(Clone)]
pub(super) enum Prepared {
    Nine(nine::Settle),
    General(Arc<general::Net>),
}

thread_local! {
    /// The layout that was searched last, with its net: a file of thousands of puzzles mostly has one layout, and
    /// making the net takes longer than many a search.
    static LAST: RefCell<Option<(Layout, Arc<general::Net>)>> = const { RefCell::new(None) };
}

impl Prepared {
    /// For this way, or for the general one if the layout or the machine does not allow it.
    pub(super) fn by(way: Way, layout: &Layout) -> Prepared {
        if let Some(settle) = way.settle(layout) {
            return Prepared::Nine(settle);
        }
        Prepared::General(LAST.with_borrow_mut(|last| match last {
            Some((same, net)) if same == layout => Arc::clone(net),
            _ => Arc::clone(&last.insert((layout.clone(), Arc::new(general::Net::new(layout)))).1),
        }))
    }
}

/// What a search came upon.
pub(super) enum Found {
    /// The next solution.
    Solution(Grid),
    /// There are no more.
    Nothing,
    /// The nodes ran out first.
    Budget,
}

/// A search through the solutions of one position.
pub(super) enum Search {
    Nine(nine::Search),
    General(general::Search),
}

impl Search {
    /// A search for the solutions that have these digits.
    pub(super) fn new(prepared: &Prepared, givens: &Grid) -> Search {
        match prepared {
            Prepared::Nine(settle) => Search::Nine(nine::Search::new(*settle, givens)),
            Prepared::General(net) => Search::General(general::Search::new(Arc::clone(net), givens)),
        }
    }

    /// The same search, for the solutions without this digit in this cell; to be said before the first step.
    pub(super) fn without(self, cell: Cell, digit: Digit) -> Search {
        match self {
            Search::Nine(search) => Search::Nine(search.without(cell, digit)),
            Search::General(search) => Search::General(search.without(cell, digit)),
        }
    }

    /// The same search, which first tries the digits of this grid, so that the solutions near it come early.
    pub(super) fn near(self, grid: &Grid) -> Search {
        match self {
            Search::Nine(search) => Search::Nine(search.near(grid)),
            Search::General(search) => Search::General(search.near(grid)),
        }
    }

    /// How many assumptions were made so far.
    pub(super) fn nodes(&self) -> u64 {
        match self {
            Search::Nine(search) => search.nodes(),
            Search::General(search) => search.nodes(),
        }
    }

    /// Goes on to the next solution, unless that takes more than `budget` assumptions in all.
    pub(super) fn advance(&mut self, budget: u64) -> Found {
        match self {
            Search::Nine(search) => search.advance(budget),
            Search::General(search) => search.advance(budget),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    #[test]
    fn only_the_classic_layout_of_size_9_is_special() {
        let classic = |side| Layout::classic(Size::new(side).unwrap()).unwrap();
        let special = |layout: &Layout| Way::all(layout).filter(|way| *way != Way::General).count();
        let nine = classic(9);
        assert!(special(&nine) > 0 && Way::best(&nine) != Way::General);
        let row: Vec<Cell> = (0..9).map(|col| Cell::new(0, col)).collect();
        let regions: Vec<char> = ('A'..='I').flat_map(|letter| [letter; 9]).collect();
        let others = [
            classic(8),
            classic(16),
            nine.clone().and_diagonals(),
            nine.and_house("extra", row).unwrap(),
            Layout::with_regions(Size::new(9).unwrap(), &regions).unwrap(),
        ];
        for layout in others {
            assert_eq!((special(&layout), Way::best(&layout)), (0, Way::General));
        }
    }
}
