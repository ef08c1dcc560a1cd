//! Cells and sets of cells.

use std::fmt;
use std::ops::{BitAnd, BitAndAssign, BitOr, BitOrAssign, Sub, SubAssign};

use super::MAX_SIDE;

/// A place in a grid of any size, in reading order. Shown as `r4c1`, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cell {
    row: u8,
    col: u8,
}

impl Cell {
    /// The cell in this row and column, both counted from 0 and below 25.
    ///
    /// # Panics
    /// If the row or the column is 25 or more: no grid has such a cell.
    pub fn new(row: u8, col: u8) -> Cell {
        assert!(row < MAX_SIDE && col < MAX_SIDE, "no grid has a row or column beyond 25");
        Cell { row, col }
    }

    /// The row, counted from 0.
    pub fn row(self) -> u8 {
        self.row
    }

    /// The column, counted from 0.
    pub fn col(self) -> u8 {
        self.col
    }

    /// The cells above, to the left, to the right and below, as far as the largest grid has them.
    pub(super) fn neighbours(self) -> impl Iterator<Item = Cell> {
        let (row, col) = (self.row(), self.col());
        let on_board = |row: Option<u8>, col: Option<u8>| {
            let inside = |place: Option<u8>| place.filter(|&place| place < MAX_SIDE);
            Some(Cell::new(inside(row)?, inside(col)?))
        };
        [
            on_board(row.checked_sub(1), Some(col)),
            on_board(Some(row), col.checked_sub(1)),
            on_board(Some(row), Some(col + 1)),
            on_board(Some(row + 1), Some(col)),
        ]
        .into_iter()
        .flatten()
    }

    /// Its place in reading order in the largest grid.
    fn place(self) -> usize {
        usize::from(self.row) * usize::from(MAX_SIDE) + usize::from(self.col)
    }

    /// The cell in this place of the largest grid.
    fn at(place: usize) -> Cell {
        let part = |place: usize| place.to_le_bytes()[0];
        Cell { row: part(place / usize::from(MAX_SIDE)), col: part(place % usize::from(MAX_SIDE)) }
    }

    fn word_and_bit(self) -> (usize, u64) {
        (self.place() / 64, 1 << (self.place() % 64))
    }
}

impl fmt::Display for Cell {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "r{}c{}", self.row() + 1, self.col() + 1)
    }
}

/// The words of a set: enough for the 625 cells of the largest grid.
const WORDS: usize = 10;

/// A set of cells, of grids of any size.
#[derive(Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct CellSet([u64; WORDS]);

impl CellSet {
    /// No cell.
    pub const EMPTY: CellSet = CellSet([0; WORDS]);

    /// No cell.
    pub fn empty() -> CellSet {
        CellSet::EMPTY
    }

    /// Just this cell.
    pub fn single(cell: Cell) -> CellSet {
        let mut set = CellSet::EMPTY;
        set.insert(cell);
        set
    }

    /// Puts a cell in; tells whether it is new.
    pub fn insert(&mut self, cell: Cell) -> bool {
        let new = !self.contains(cell);
        let (word, bit) = cell.word_and_bit();
        self.0[word] |= bit;
        new
    }

    /// Puts cells of a row in, a bit for each column.
    pub fn insert_row(&mut self, row: u8, columns: u32) {
        let begin = usize::from(row) * usize::from(MAX_SIDE);
        let columns = u64::from(columns);
        self.0[begin / 64] |= columns << (begin % 64);
        // A row may go on in the next word.
        if begin % 64 + usize::from(MAX_SIDE) > 64 {
            self.0[begin / 64 + 1] |= columns >> (64 - begin % 64);
        }
    }

    /// Takes a cell out; tells whether it was there.
    pub fn remove(&mut self, cell: Cell) -> bool {
        let there = self.contains(cell);
        let (word, bit) = cell.word_and_bit();
        self.0[word] &= !bit;
        there
    }

    /// Whether the cell is in the set.
    pub fn contains(&self, cell: Cell) -> bool {
        let (word, bit) = cell.word_and_bit();
        self.0[word] & bit != 0
    }

    /// How many cells, 0 to 625.
    pub fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Whether there is no cell in it.
    pub fn is_empty(&self) -> bool {
        self.0.iter().fold(0, |all, word| all | word) == 0
    }

    /// The first of the cells in reading order.
    pub fn first(&self) -> Option<Cell> {
        let (word, at) = self.0.iter().zip((0..).step_by(64)).find(|(word, _)| **word != 0)?;
        Some(Cell::at(at + word.trailing_zeros() as usize))
    }

    /// The cells that are in either set; also written `a | b`.
    #[must_use]
    pub fn union(self, other: CellSet) -> CellSet {
        self.with(other, |a, b| a | b)
    }

    /// The cells that are in both sets; also written `a & b`.
    #[must_use]
    pub fn intersection(self, other: CellSet) -> CellSet {
        self.with(other, |a, b| a & b)
    }

    /// The cells that are in this set but not in the other; also written `a - b`.
    #[must_use]
    pub fn difference(self, other: CellSet) -> CellSet {
        self.with(other, |a, b| a & !b)
    }

    /// Whether every cell of this set is in the other.
    pub fn is_subset(&self, other: &CellSet) -> bool {
        self.difference(*other).is_empty()
    }

    /// The cells, in reading order.
    pub fn iter(&self) -> impl Iterator<Item = Cell> + use<> {
        let words = self.0;
        let mut at = 0;
        let mut word = words[0];
        std::iter::from_fn(move || {
            while word == 0 {
                at += 1;
                word = *words.get(at)?;
            }
            let bit = word.trailing_zeros() as usize;
            word &= word - 1;
            Some(Cell::at(at * 64 + bit))
        })
    }

    fn with(mut self, other: CellSet, join: impl Fn(u64, u64) -> u64) -> CellSet {
        for (mine, its) in self.0.iter_mut().zip(other.0) {
            *mine = join(*mine, its);
        }
        self
    }
}

impl FromIterator<Cell> for CellSet {
    fn from_iter<I: IntoIterator<Item = Cell>>(cells: I) -> Self {
        let mut set = CellSet::EMPTY;
        for cell in cells {
            set.insert(cell);
        }
        set
    }
}

impl BitOr for CellSet {
    type Output = CellSet;
    fn bitor(self, other: CellSet) -> CellSet {
        self.union(other)
    }
}

impl BitAnd for CellSet {
    type Output = CellSet;
    fn bitand(self, other: CellSet) -> CellSet {
        self.intersection(other)
    }
}

impl Sub for CellSet {
    type Output = CellSet;
    fn sub(self, other: CellSet) -> CellSet {
        self.difference(other)
    }
}

impl BitOrAssign for CellSet {
    fn bitor_assign(&mut self, other: CellSet) {
        *self = self.union(other);
    }
}

impl BitAndAssign for CellSet {
    fn bitand_assign(&mut self, other: CellSet) {
        *self = self.intersection(other);
    }
}

impl SubAssign for CellSet {
    fn sub_assign(&mut self, other: CellSet) {
        *self = self.difference(other);
    }
}

impl fmt::Debug for CellSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set().entries(self.iter().map(|cell| cell.to_string())).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> impl Iterator<Item = Cell> {
        (0..25).flat_map(|row| (0..25).map(move |col| Cell::new(row, col)))
    }

    #[test]
    fn cells_keep_their_place_and_their_order() {
        assert_eq!(Cell::new(3, 0).to_string(), "r4c1");
        assert_eq!(Cell::new(24, 24).to_string(), "r25c25");
        assert!(all().zip(all().skip(1)).all(|(a, b)| a < b));
        assert!(all().all(|cell| Cell::new(cell.row(), cell.col()) == cell));
    }

    #[test]
    fn neighbours_touch_along_a_side() {
        let of = |row, col| Cell::new(row, col).neighbours().map(|n| n.to_string()).collect::<Vec<_>>();
        assert_eq!(of(0, 0), ["r1c2", "r2c1"]);
        assert_eq!(of(24, 24), ["r24c25", "r25c24"]);
        assert_eq!(of(1, 1), ["r1c2", "r2c1", "r2c3", "r3c2"]);
    }

    #[test]
    fn cells_of_a_row_are_put_in_together() {
        for row in 0..25 {
            let columns = 0b1_0110_0000_0001_0010_1000_0011;
            let mut set = CellSet::EMPTY;
            set.insert_row(row, columns);
            assert!(
                set.iter().eq((0..25).filter(|col| columns & 1 << col != 0).map(|col| Cell::new(row, col)))
            );
        }
    }

    #[test]
    fn sets_of_cells() {
        let full: CellSet = all().collect();
        assert_eq!(full.len(), 625);
        assert!(full.iter().eq(all()));
        let row: CellSet = all().filter(|cell| cell.row() == 2).collect();
        let col: CellSet = all().filter(|cell| cell.col() == 24).collect();
        assert_eq!((row & col).iter().map(|cell| cell.to_string()).collect::<Vec<_>>(), ["r3c25"]);
        assert_eq!((row | col).len(), 49);
        assert_eq!((row - col).len(), 24);
        assert!((row - col).is_subset(&row) && !row.is_subset(&col));
        let mut changing = CellSet::single(Cell::new(2, 24));
        assert!(!changing.insert(Cell::new(2, 24)) && changing == row & col);
        assert!(changing.remove(Cell::new(2, 24)) && changing.is_empty());
    }
}
