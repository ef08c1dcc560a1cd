//! What the digits on the board leave for each empty cell.

use std::ops::Index;

use super::{Cell, DigitSet, Grid, Layout, Size};

/// For each empty cell the digits that none of the cells it sees holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidates {
    size: Size,
    sets: Vec<DigitSet>,
}

impl Candidates {
    /// The candidates of a grid under the houses of a layout of the same size.
    pub fn of(layout: &Layout, grid: &Grid) -> Candidates {
        let size = layout.size();
        let missing = missing(layout, grid);
        let mut sets = vec![DigitSet::EMPTY; size.cells()];
        for cell in grid.empty_cells() {
            let slots = layout.slots(cell).iter();
            sets[size.index(cell)] =
                slots.fold(size.digits(), |left, slot| left & missing[slot.house.place()]);
        }
        Candidates { size, sets }
    }

    /// The candidates of each cell, in reading order.
    pub fn iter(&self) -> impl Iterator<Item = (Cell, DigitSet)> {
        self.size.all_cells().zip(self.sets.iter().copied())
    }

    /// The candidates of a cell; none if it holds a digit.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn at(&self, cell: Cell) -> DigitSet {
        self[cell]
    }
}

impl Index<Cell> for Candidates {
    type Output = DigitSet;

    fn index(&self, cell: Cell) -> &DigitSet {
        assert!(self.size.contains(cell), "the grid has no {cell}");
        &self.sets[self.size.index(cell)]
    }
}

/// The digits that do not stand in each house of a layout, in its order.
fn missing(layout: &Layout, grid: &Grid) -> Vec<DigitSet> {
    let mut missing = vec![layout.size().digits(); layout.houses().len()];
    for (cell, digit) in grid.digits() {
        for slot in layout.slots(cell) {
            missing[slot.house.place()].remove(digit);
        }
    }
    missing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Digit;
    use proptest::prelude::*;

    #[test]
    fn a_digit_leaves_every_cell_that_sees_it() {
        let layout = Layout::classic(Size::new(4).unwrap()).unwrap();
        let grid = Grid::from_line("1.../..../.2../...4".replace('/', "").as_str()).unwrap();
        let candidates = Candidates::of(&layout, &grid);
        let shown: Vec<String> =
            layout.size().all_cells().map(|cell| candidates.at(cell).to_string()).collect();
        let expected =
            ["", "34", "234", "23", "234", "34", "1234", "123", "34", "", "13", "13", "3", "13", "123", ""];
        assert_eq!(shown, expected);
    }

    proptest! {
        #[test]
        fn an_open_cell_has_what_no_cell_in_its_sight_holds(digits in proptest::collection::vec(0_u8..5, 16)) {
            let size = Size::new(4).unwrap();
            let layout = Layout::classic(size).unwrap().and_diagonals();
            let mut grid = Grid::empty(size);
            for (cell, digit) in size.all_cells().zip(digits) {
                grid.set(cell, Digit::new(digit));
            }
            for (cell, candidates) in Candidates::of(&layout, &grid).iter() {
                let seen: DigitSet = layout.peers(cell).iter().filter_map(|peer| grid[peer]).collect();
                let left = if grid[cell].is_none() { size.digits() - seen } else { DigitSet::EMPTY };
                prop_assert_eq!(candidates, left);
            }
        }
    }
}
