//! Where two solutions of a puzzle differ, on as few cells as can be.

use super::{Budget, Found, Prepared, Search, Way, prepared};
use crate::board::{Cell, Digit, Grid, Layout};

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
    shrunk(&prepared(Way::best(layout), layout, givens), givens, &mut { budget })
}

/// The same, with the nodes taken off the budget.
pub(super) fn shrunk(prepared: &Prepared, givens: &Grid, left: &mut Budget) -> Option<Difference> {
    let mut search = Search::new(prepared, givens);
    let (Found::Solution(mut first), Found::Solution(mut second)) =
        (search.advance(left.nodes), search.advance(left.nodes))
    else {
        return None;
    };
    left.spend(search.nodes());
    let minimal = loop {
        match shrink(prepared, &first, &second, left) {
            Shrunk::To(one, other) => (first, second) = (one, other),
            Shrunk::NoFurther => break true,
            Shrunk::Undecided => break false,
        }
    };
    let differ = |cell| Some(Differing { cell, first: first[cell]?, second: second[cell]? });
    let cells = first.differing(&second).iter().filter_map(differ).collect();
    Some(Difference { first, second, cells, minimal })
}

/// What became of an attempt to find a smaller difference inside one.
enum Shrunk {
    To(Grid, Grid),
    NoFurther,
    Undecided,
}

fn shrink(prepared: &Prepared, first: &Grid, second: &Grid, left: &mut Budget) -> Shrunk {
    let cells = first.differing(second);
    let mut common = first.clone();
    for cell in cells.iter() {
        common.set(cell, None);
    }
    let mut search = Search::new(prepared, &common).near(first);
    // As long as no two solutions agree in any of the cells, each digit of a cell is in one of them only: so there are
    // never many.
    let mut seen: Vec<Grid> = Vec::new();
    let outcome = loop {
        match search.advance(left.nodes) {
            Found::Solution(grid) => {
                if let Some(at) = seen.iter().position(|other| grid.differing(other) != cells) {
                    break Shrunk::To(seen.swap_remove(at), grid);
                }
                seen.push(grid);
            }
            Found::Nothing => break Shrunk::NoFurther,
            Found::Budget => break Shrunk::Undecided,
        }
    };
    left.spend(search.nodes());
    outcome
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    fn classic(side: u8) -> Layout {
        Layout::classic(Size::new(side).unwrap()).unwrap()
    }

    #[test]
    fn grids_with_many_solutions_have_a_least_difference() {
        for side in [4, 9, 16] {
            let layout = classic(side);
            let found = difference(&layout, &Grid::empty(layout.size()), Budget::default()).unwrap();
            // Two digits that trade places crosswise are the least that there can be.
            assert!(found.minimal && found.cells.len() >= 4, "size {side}");
        }
    }

    #[test]
    fn says_where_the_digits_trade_places() {
        let layout = classic(4);
        let found =
            difference(&layout, &Grid::from_line(".2.4.4.221434321").unwrap(), Budget::default()).unwrap();
        let shown: Vec<String> =
            found.cells.iter().map(|at| format!("{} {}{}", at.cell, at.first, at.second)).collect();
        assert_eq!(shown, ["r1c1 13", "r1c3 31", "r2c1 31", "r2c3 13"]);
    }

    #[test]
    fn one_solution_or_none_has_no_difference() {
        let of = |line| difference(&classic(4), &Grid::from_line(line).unwrap(), Budget::default());
        assert_eq!(of("1234341221434321"), None);
        assert_eq!(of("11.............."), None);
    }
}
