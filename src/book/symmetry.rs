//! Which cells are each other's counterparts in a symmetry.

use super::Symmetry;
use crate::board::{Cell, CellSet, Grid};

/// A way to carry a cell to its counterpart, given the last number of a row or column.
type Move = fn(Cell, u8) -> Cell;

impl Symmetry {
    /// The givens whose counterpart is empty, with the counterpart; for the diagonals, in the one that fits better.
    pub fn broken(self, grid: &Grid) -> Vec<(Cell, Cell)> {
        let last = grid.size().side() - 1;
        let breaks = |carry: &Move| -> Vec<(Cell, Cell)> {
            let pairs = grid.digits().map(|(cell, _)| (cell, carry(cell, last)));
            pairs.filter(|(_, counterpart)| grid[*counterpart].is_none()).collect()
        };
        moves(self).iter().map(breaks).min_by_key(Vec::len).unwrap_or_default()
    }

    /// Cells that are carried to each other, and to no others, in the order of their first; none for givens that do not have
    /// the symmetry, and for the symmetry that is none.
    pub fn counterparts(self, grid: &Grid) -> Vec<Vec<Cell>> {
        let last = grid.size().side() - 1;
        let holds = |carry: &&Move| grid.digits().all(|(cell, _)| grid[carry(cell, last)].is_some());
        let Some(carry) = moves(self).iter().find(holds) else { return Vec::new() };
        let mut seen = CellSet::EMPTY;
        let mut all = Vec::new();
        for cell in grid.size().all_cells().filter(|&cell| grid[cell].is_some()) {
            let round = std::iter::successors(Some(cell), |&cell| Some(carry(cell, last)));
            let fresh: Vec<Cell> = round.take_while(|&cell| seen.insert(cell)).collect();
            if !fresh.is_empty() {
                all.push(fresh);
            }
        }
        all
    }
}

/// What `symmetry` may mean: one move, or either of two.
fn moves(symmetry: Symmetry) -> &'static [Move] {
    match symmetry {
        Symmetry::HalfTurn => &[|cell, last| Cell::new(last - cell.row(), last - cell.col())],
        Symmetry::QuarterTurn => &[|cell, last| Cell::new(cell.col(), last - cell.row())],
        Symmetry::MirrorAcross => &[|cell, last| Cell::new(cell.row(), last - cell.col())],
        Symmetry::MirrorDown => &[|cell, last| Cell::new(last - cell.row(), cell.col())],
        Symmetry::MirrorDiagonal => &[
            |cell, _| Cell::new(cell.col(), cell.row()),
            |cell, last| Cell::new(last - cell.col(), last - cell.row()),
        ],
        Symmetry::None => &[],
    }
}
