//! How large a grid is, and the shape of its boxes.

use std::fmt;
use std::str::FromStr;

use super::{Cell, DigitSet};

/// The least number of cells along a side.
pub const MIN_SIDE: u8 = 4;
/// The greatest number of cells along a side.
pub const MAX_SIDE: u8 = 25;

/// The number of cells along a side, from [`MIN_SIDE`] to [`MAX_SIDE`]: also the number of digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size(u8);

impl Size {
    /// The size with `side` cells along a side, if it is within [`MIN_SIDE`]..=[`MAX_SIDE`].
    pub fn new(side: u8) -> Option<Size> {
        (MIN_SIDE..=MAX_SIDE).contains(&side).then_some(Size(side))
    }

    /// The size of a grid of `count` cells, if `count` is the square of a size.
    pub fn from_cell_count(count: usize) -> Option<Size> {
        (MIN_SIDE..=MAX_SIDE).map(Size).find(|size| size.cells() == count)
    }

    /// Cells along a side, 4 to 25.
    pub fn side(self) -> u8 {
        self.0
    }

    /// Cells along a side, 4 to 25, as a count.
    pub fn usize(self) -> usize {
        usize::from(self.0)
    }

    /// Cells of the whole grid, 16 to 625.
    pub fn cells(self) -> usize {
        self.usize() * self.usize()
    }

    /// Every cell, in reading order.
    pub fn all_cells(self) -> impl Iterator<Item = Cell> {
        (0..self.0).flat_map(move |row| (0..self.0).map(move |column| Cell::new(row, column)))
    }

    /// The digits that a grid of this size uses: 1 to the side.
    pub fn digits(self) -> DigitSet {
        DigitSet::up_to(self.0)
    }

    /// Whether a grid of this size has the cell.
    pub fn contains(self, cell: Cell) -> bool {
        cell.row() < self.0 && cell.col() < self.0
    }

    /// The boxes that are meant where nothing is said; `None` for a size that has no usual ones.
    pub fn default_boxes(self) -> Option<BoxShape> {
        let (rows, columns) = match self.0 {
            4 => (2, 2),
            6 => (2, 3),
            8 => (2, 4),
            9 => (3, 3),
            10 => (2, 5),
            12 => (3, 4),
            15 => (3, 5),
            16 => (4, 4),
            25 => (5, 5),
            _ => return None,
        };
        Some(BoxShape { rows, columns })
    }

    /// The place of a cell of this size in reading order, from 0.
    pub(crate) fn index(self, cell: Cell) -> usize {
        usize::from(cell.row()) * self.usize() + usize::from(cell.col())
    }
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// The shape of a box: so many rows by so many columns of cells. Written `2x3`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BoxShape {
    /// Cells from top to bottom.
    pub rows: u8,
    /// Cells from left to right.
    pub columns: u8,
}

impl BoxShape {
    /// Whether such a box holds as many cells as a house of this size.
    pub fn fits(self, size: Size) -> bool {
        u16::from(self.rows) * u16::from(self.columns) == u16::from(size.side())
    }
}

impl fmt::Display for BoxShape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}x{}", self.rows, self.columns)
    }
}

/// The text is not two whole numbers with an `x` between them, such as `2x3`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoxShapeError;

impl fmt::Display for BoxShapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("boxes are written rows x columns, such as `2x3`")
    }
}

impl std::error::Error for BoxShapeError {}

impl FromStr for BoxShape {
    type Err = BoxShapeError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let number = |digits: &str| {
            let plain = digits.bytes().all(|byte| byte.is_ascii_digit());
            digits.parse().ok().filter(|&n: &u8| plain && n > 0).ok_or(BoxShapeError)
        };
        let (rows, columns) = text.split_once(['x', 'X']).ok_or(BoxShapeError)?;
        Ok(BoxShape { rows: number(rows)?, columns: number(columns)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_run_from_4_to_25() {
        assert_eq!(Size::new(3), None);
        assert_eq!(Size::new(26), None);
        let counts: Vec<_> = (0..700).filter_map(Size::from_cell_count).map(Size::side).collect();
        assert_eq!(counts, (4..=25).collect::<Vec<_>>());
    }

    #[test]
    fn usual_boxes_fit_their_size() {
        let with_boxes: Vec<_> =
            (4..=25).filter_map(Size::new).filter(|size| size.default_boxes().is_some()).collect();
        assert_eq!(with_boxes.len(), 9);
        assert!(with_boxes.iter().all(|size| size.default_boxes().unwrap().fits(*size)));
    }

    #[test]
    fn box_shapes_read_and_print() {
        assert_eq!("2x3".parse(), Ok(BoxShape { rows: 2, columns: 3 }));
        assert_eq!("3X5".parse::<BoxShape>().unwrap().to_string(), "3x5");
        for wrong in ["", "x", "2x", "x3", "2*3", "2x3x1", "+2x3", "0x4", "999x1", "2 x 3"] {
            assert_eq!(wrong.parse::<BoxShape>(), Err(BoxShapeError), "{wrong}");
        }
    }
}
