//! Contradictions that show without any search.

use crate::board::{Candidates, Cell, Digit, DigitSet, Grid, HouseName, Layout};

/// Why a puzzle plainly has no solution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Contradiction {
    /// An empty cell that sees every digit.
    CellWithoutCandidate(Cell),
    /// A digit that no cell of a house holds, and that none of its empty cells can hold.
    DigitWithoutPlace(Digit, HouseName),
}

/// The first contradiction that the digits show, once each is struck from the cells that see it: a cell, in reading
/// order, or else a digit of a house, in the layout's order. `None` says nothing: such a puzzle can be without
/// solution all the same. Clashes are not looked for, see [`Grid::clashes`].
pub fn contradiction(layout: &Layout, givens: &Grid) -> Option<Contradiction> {
    let candidates = Candidates::of(layout, givens);
    if let Some(cell) = givens.empty_cells().find(|&cell| candidates[cell].is_empty()) {
        return Some(Contradiction::CellWithoutCandidate(cell));
    }
    layout.houses().iter().find_map(|house| {
        let held = house.cells.iter().filter_map(|&cell| givens[cell]).collect::<DigitSet>();
        let possible = house.cells.iter().fold(held, |set, &cell| set | candidates[cell]);
        let missing = (layout.size().digits() - possible).iter().next()?;
        Some(Contradiction::DigitWithoutPlace(missing, house.name.clone()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    fn of(line: &str) -> Option<Contradiction> {
        contradiction(&Layout::classic(Size::new(4).unwrap()).unwrap(), &Grid::from_line(line).unwrap())
    }

    #[test]
    fn the_plain_ones_are_named() {
        let digit = |symbol| Digit::from_symbol(symbol).unwrap();
        assert_eq!(of("123......4......"), None);
        assert_eq!(of("123....4........"), Some(Contradiction::CellWithoutCandidate(Cell::new(0, 3))));
        let no_place = Contradiction::DigitWithoutPlace(digit('4'), HouseName::Row(1));
        assert_eq!(of("12......4......4").as_ref(), None);
        assert_eq!(of("12.....4........"), Some(no_place));
    }
}
