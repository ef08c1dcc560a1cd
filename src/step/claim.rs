//! What a step says.

use super::Position;
use crate::board::{CellSet, DigitSet, HouseId};

/// What a step says is so: new to the reader, and not what it rests on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Claim {
    /// Each of these cells holds one of these digits; one digit places it, in each of the cells.
    Is {
        /// Open cells.
        cells: CellSet,
        /// One digit or more.
        digits: DigitSet,
    },
    /// None of these cells holds any of these digits.
    IsNot {
        /// Open cells.
        cells: CellSet,
        /// One digit or more.
        digits: DigitSet,
    },
    /// The house has each of these digits in one of these cells; with as many cells as digits they hold no others.
    Within {
        /// The house.
        house: HouseId,
        /// Digits that the house does not have yet.
        digits: DigitSet,
        /// Open cells of the house that could hold one of the digits.
        cells: CellSet,
    },
}

impl Claim {
    /// The cells that it speaks of.
    pub fn cells(&self) -> CellSet {
        match self {
            Claim::Is { cells, .. } | Claim::IsNot { cells, .. } | Claim::Within { cells, .. } => *cells,
        }
    }

    /// The digits that it speaks of.
    pub fn digits(&self) -> DigitSet {
        match self {
            Claim::Is { digits, .. } | Claim::IsNot { digits, .. } | Claim::Within { digits, .. } => *digits,
        }
    }

    /// Whether it writes a digit into a cell.
    pub fn places(&self) -> bool {
        match self {
            Claim::Is { digits, .. } => digits.len() == 1,
            Claim::IsNot { .. } => false,
            Claim::Within { digits, cells, .. } => digits.len() == 1 && cells.len() == 1,
        }
    }

    /// Whether nothing of it is left to remember: its cells are filled, or its digits stand in its house.
    pub fn is_spent(&self, known: &Position) -> bool {
        let filled = |cells: CellSet| cells.iter().all(|cell| known.grid().get(cell).is_some());
        match *self {
            Claim::Within { house, digits, cells } => {
                filled(cells) || (digits & known.missing(house)).is_empty()
            }
            Claim::Is { cells, .. } | Claim::IsNot { cells, .. } => filled(cells),
        }
    }
}
