//! A digit that would leave a puzzle with one solution.

use super::difference::shrunk;
use super::{Budget, Found, Search, Way, prepared};
use crate::board::{Cell, Digit, Grid, Layout};

/// How many solutions are looked at to rule digits out before any is tried.
const SAMPLE: usize = 500;

/// A cell and a digit that, added to the puzzle, leave exactly one solution. First the cells of the
/// [`difference`](super::difference()) are tried, then the other empty ones, in reading order. `None` if the puzzle has
/// not two solutions or more, if no digit does it, or if the budget was spent before one was found.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn settling_given(layout: &Layout, givens: &Grid, budget: Budget) -> Option<(Cell, Digit)> {
    let prepared = prepared(Way::best(layout), layout, givens);
    let mut left = budget;
    let found = shrunk(&prepared, givens, &mut left)?;

    // A digit that stands in two solutions settles nothing.
    let mut sample = Vec::new();
    let mut search = Search::new(&prepared, givens);
    while sample.len() < SAMPLE {
        let Found::Solution(grid) = search.advance(left.nodes / 2) else { break };
        sample.push(grid);
    }
    left.spend(search.nodes());

    let differing = found.cells.iter().flat_map(|at| [(at.cell, at.first), (at.cell, at.second)]);
    let others =
        givens.empty_cells().flat_map(|cell| layout.size().digits().iter().map(move |digit| (cell, digit)));
    for (cell, digit) in differing.chain(others) {
        if sample.iter().filter(|grid| grid[cell] == Some(digit)).take(2).count() == 2 {
            continue;
        }
        let mut more = givens.clone();
        more.set(cell, Some(digit));
        let mut search = Search::new(&prepared, &more);
        let one = matches!(search.advance(left.nodes), Found::Solution(_))
            && matches!(search.advance(left.nodes), Found::Nothing);
        if one {
            return Some((cell, digit));
        }
        left.spend(search.nodes());
        if left.nodes == 0 {
            break;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    fn of(line: &str) -> Option<String> {
        let layout = Layout::classic(Size::new(4).unwrap()).unwrap();
        settling_given(&layout, &Grid::from_line(line).unwrap(), Budget::default())
            .map(|(cell, digit)| format!("{cell} {digit}"))
    }

    #[test]
    fn a_digit_that_settles_is_in_a_differing_cell_first() {
        assert_eq!(of(".2.4.4.221434321"), Some("r1c1 1".to_owned()));
    }

    #[test]
    fn nothing_settles_what_is_settled_or_far_too_open() {
        assert_eq!(of("1234341221434321"), None);
        assert_eq!(of("1111............"), None);
        assert_eq!(of("................"), None);
    }
}
