//! The search for the classic layout of size 9, many times as fast as the general one.
//!
//! Each digit has a word a band, whose bits are its places; the words of all digits are the lanes of wide registers,
//! so that a conclusion is drawn for all digits at once (`rounds.rs`). Only the files of the lanes know the registers
//! of a machine, and only `ways.rs` asks which there are. All come to the same positions: so the solutions, their order
//! and the count of nodes are the same on every machine.

#[cfg(target_arch = "x86_64")]
mod avx2;
mod places;
mod portable;
mod rounds;
mod ways;

use super::way::Found;
use crate::board::{BoxShape, Cell, Digit, Grid, Layout};
use places::Places;
pub(super) use ways::{Settle, settle_by};

/// Whether this search is one for the layout.
pub(super) fn fits(layout: &Layout) -> bool {
    // A diagonal or an extra house would be one house more.
    layout.boxes() == Some(BoxShape { rows: 3, columns: 3 }) && layout.houses().len() == 27
}

/// Few puzzles put more positions aside at a time.
const USUAL: usize = 8;

/// A search through the solutions of one position.
pub(super) struct Search {
    settle: Settle,
    /// The positions to look at, the next one last. All but one were put aside where a cell was assumed to hold a digit:
    /// so there is at most one a cell, and one more.
    ahead: Vec<Places>,
    /// Where digits are to be tried first.
    preferred: Places,
    nodes: u64,
}

impl Search {
    /// A search for the solutions that have these digits.
    pub(super) fn new(settle: Settle, givens: &Grid) -> Search {
        let mut ahead = Vec::with_capacity(USUAL);
        ahead.push(places::left_by(givens));
        Search { settle, ahead, preferred: Places::default(), nodes: 0 }
    }

    /// The same search, for the solutions without this digit in this cell; to be said before the first step.
    pub(super) fn without(mut self, cell: Cell, digit: Digit) -> Search {
        let (band, bit) = places::place(cell);
        for start in &mut self.ahead {
            start[band][digit.place()] &= !bit;
        }
        self
    }

    /// The same search, which first tries the digits of this grid, so that the solutions near it come early.
    pub(super) fn near(mut self, grid: &Grid) -> Search {
        for (cell, digit) in grid.digits() {
            let (band, bit) = places::place(cell);
            self.preferred[band][digit.place()] |= bit;
        }
        self
    }

    /// How many assumptions were made so far.
    pub(super) fn nodes(&self) -> u64 {
        self.nodes
    }

    /// Goes on to the next solution, unless that takes more than `budget` assumptions in all.
    pub(super) fn advance(&mut self, budget: u64) -> Found {
        while let Some(mut here) = self.ahead.pop() {
            if !(self.settle)(&mut here) {
                continue;
            }
            let Some((band, bit, digit)) = places::choose(&here) else {
                return Found::Solution(places::grid(&here));
            };
            if self.nodes >= budget {
                self.ahead.push(here);
                return Found::Budget;
            }
            self.nodes += 1;
            let liked = (0..9).find(|&other| here[band][other] & self.preferred[band][other] & bit != 0);
            let digit = liked.unwrap_or(digit);
            let mut otherwise = here;
            otherwise[band][digit] &= !bit;
            here[band] = here[band].map(|own| own & !bit);
            here[band][digit] |= bit;
            self.ahead.extend([otherwise, here]);
        }
        Found::Nothing
    }
}
