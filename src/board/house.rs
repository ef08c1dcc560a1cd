//! Houses: the groups of cells that hold each digit once.

use std::fmt;

use super::{Cell, CellSet};

/// What a house is called. Numbers count from 1.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HouseName {
    /// A row, from the top.
    Row(u8),
    /// A column, from the left.
    Column(u8),
    /// A box, in reading order.
    Box(u8),
    /// A region, by its letter.
    Region(char),
    /// A diagonal: 1 from the top left to the bottom right, 2 from the top right to the bottom left.
    Diagonal(u8),
    /// An extra house, by the name that the puzzle gives it.
    Named(Box<str>),
}

impl fmt::Display for HouseName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HouseName::Row(number) => write!(f, "row {number}"),
            HouseName::Column(number) => write!(f, "col {number}"),
            HouseName::Box(number) => write!(f, "box {number}"),
            HouseName::Region(letter) => write!(f, "region {letter}"),
            HouseName::Diagonal(number) => write!(f, "diagonal {number}"),
            HouseName::Named(name) => write!(f, "house {name}"),
        }
    }
}

impl HouseName {
    /// Whether it is a box or a region.
    pub fn is_block(&self) -> bool {
        matches!(self, HouseName::Box(_) | HouseName::Region(_))
    }
}

/// Which house of a layout: its place in [`Layout::houses`](super::Layout::houses).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HouseId(pub(super) u16);

impl HouseId {
    /// Its place among the houses of its layout, from 0.
    pub fn place(self) -> usize {
        usize::from(self.0)
    }
}

/// A cell's place in one of its houses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// The house.
    pub house: HouseId,
    /// The cell's place in [`House::cells`], from 0.
    pub at: u8,
}

/// A house: as many cells as a side has, which together hold each digit once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct House {
    /// What it is called.
    pub name: HouseName,
    /// Its cells, in reading order.
    pub cells: Vec<Cell>,
    set: CellSet,
}

impl House {
    pub(super) fn new(name: HouseName, mut cells: Vec<Cell>) -> House {
        cells.sort_unstable();
        let set = cells.iter().copied().collect();
        House { name, cells, set }
    }

    /// Its cells, as a set.
    pub fn set(&self) -> &CellSet {
        &self.set
    }
}

/// The places of the bits that are set, rising: for masks with a bit for each cell of a house, or for each digit.
pub(crate) fn bits(mut mask: u32) -> impl Iterator<Item = u8> {
    std::iter::from_fn(move || {
        let at = mask.trailing_zeros().to_le_bytes()[0];
        (mask != 0).then(|| {
            mask &= mask - 1;
            at
        })
    })
}
