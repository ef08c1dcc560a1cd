//! The general search: assume a digit, draw the plain conclusions, go on or go back.
//!
//! Which conclusions these are, `conclusions.rs` says. Cells of houses that led into contradictions weigh more when the
//! next cell is chosen. All of it is decided by the position alone, so the same puzzle takes the same path on every
//! machine.

mod conclusions;
mod houses;
mod matching;
mod net;
mod position;

use std::sync::Arc;

use super::way::Found;
use crate::board::{Cell, Digit, DigitSet, Grid};
pub(super) use net::Net;
use position::{Conflict, Position};

/// A search through the solutions of one position.
pub(super) struct Search {
    net: Arc<Net>,
    position: Position,
    /// For each cell, the digits to try first.
    preferred: Vec<u32>,
    /// What was assumed, and what was possible before it, end to end.
    assumed: Vec<(usize, u32)>,
    saved: Vec<u32>,
    /// Whether the current position is free of contradictions and not yet reported.
    open: bool,
    nodes: u64,
}

impl Search {
    /// A search for the solutions that have these digits.
    pub(super) fn new(net: Arc<Net>, givens: &Grid) -> Search {
        let mut position = Position::new(&net);
        let open = position.begin(&net, givens.cells()).is_ok() && position.conclude(&net).is_ok();
        let preferred = vec![0; net.cells.len()];
        Search { net, position, preferred, assumed: Vec::new(), saved: Vec::new(), open, nodes: 0 }
    }

    /// The same search, for the solutions without this digit in this cell; to be said before the first step.
    pub(super) fn without(mut self, cell: Cell, digit: Digit) -> Search {
        let number = self.net.number(cell);
        self.open = self.open && self.strike(number, DigitSet::single(digit).bits()).is_ok();
        self
    }

    /// The same search, which first tries the digits of this grid, so that the solutions near it come early.
    pub(super) fn near(mut self, grid: &Grid) -> Search {
        for (cell, digit) in grid.digits() {
            self.preferred[self.net.number(cell)] = DigitSet::single(digit).bits();
        }
        self
    }

    /// How many assumptions were made so far.
    pub(super) fn nodes(&self) -> u64 {
        self.nodes
    }

    /// Goes on to the next solution, unless that takes more than `budget` assumptions in all.
    pub(super) fn advance(&mut self, budget: u64) -> Found {
        loop {
            if !self.open {
                let Some((cell, digit)) = self.assumed.pop() else { return Found::Nothing };
                self.position.restore(&mut self.saved);
                self.open = self.strike(cell, digit).is_ok();
            } else if let Some((cell, digit)) = self.choose() {
                if self.nodes >= budget {
                    return Found::Budget;
                }
                self.nodes += 1;
                self.assumed.push((cell, digit));
                self.position.save(&mut self.saved);
                self.open = self.strike(cell, !digit).is_ok();
            } else {
                self.open = false;
                return Found::Solution(self.solution());
            }
        }
    }

    /// Takes candidates from a cell, and draws every plain conclusion.
    fn strike(&mut self, cell: usize, digits: u32) -> Result<(), Conflict> {
        self.position.strike(&self.net, cell, digits)?;
        self.position.conclude(&self.net)
    }

    fn solution(&self) -> Grid {
        let mut grid = Grid::empty(self.net.size);
        for (&cell, &bits) in self.net.cells.iter().zip(self.position.cells()) {
            grid.set(cell, DigitSet::from_bits(bits).only());
        }
        grid
    }

    /// The cell to decide next, with a digit to try there; `None` if each cell has one candidate.
    fn choose(&self) -> Option<(usize, u32)> {
        let mut best: Option<(usize, u64, u64)> = None;
        for (cell, (&bits, &weight)) in self.position.cells().iter().zip(self.position.weights()).enumerate()
        {
            if !bits.is_power_of_two() {
                let (count, weight) = (u64::from(bits.count_ones()), u64::from(weight));
                if best.is_none_or(|(_, least, most)| count * most < least * weight) {
                    best = Some((cell, count, weight));
                }
            }
        }
        let (cell, _, _) = best?;
        let bits = self.position.cells()[cell];
        let liked = bits & self.preferred[cell];
        let pool = if liked == 0 { bits } else { liked };
        Some((cell, pool & pool.wrapping_neg()))
    }
}
