//! A move: lines in another order, perhaps rows for columns, digits under other names.

use crate::board::{Cell, Digit, Grid, MAX_SIDE, Size};

/// As many places as the largest side has: what a size does not use stays as it is.
type Places = [u8; MAX_SIDE as usize];

/// Carries a grid to another: its rows (or, if transposed, its columns) are taken in the order `rows`, its columns
/// (or rows) in the order `columns`, and each digit gets another name. The houses of a layout move with the cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Transformation {
    size: Size,
    transposed: bool,
    /// Which line becomes row 1, 2 and so on; all counted from 0.
    rows: Places,
    columns: Places,
    /// For each digit less 1, its new name less 1.
    digits: Places,
}

impl Transformation {
    /// What leaves everything where it is.
    pub fn identity(size: Size) -> Transformation {
        let places = std::array::from_fn(|place| place.to_le_bytes()[0]);
        Transformation { size, transposed: false, rows: places, columns: places, digits: places }
    }

    /// The transformation under which row `i` is the line `rows[i]` (a row, or a column if `transposed`), column `i`
    /// the line `columns[i]` of the other kind, and the digit `d + 1` becomes `digits[d] + 1`; all are counted from 0.
    /// `None` if a list does not have each number below the size once.
    pub fn new(
        size: Size,
        transposed: bool,
        rows: &[u8],
        columns: &[u8],
        digits: &[u8],
    ) -> Option<Transformation> {
        let mut new = Transformation { transposed, ..Transformation::identity(size) };
        for (list, places) in [(rows, &mut new.rows), (columns, &mut new.columns), (digits, &mut new.digits)]
        {
            let mut sorted = list.to_vec();
            sorted.sort_unstable();
            if !sorted.into_iter().eq(0..size.side()) {
                return None;
            }
            places[..list.len()].copy_from_slice(list);
        }
        Some(new)
    }

    /// A turn or a reflection: rows become columns or not, and then rows and columns come in their order or back to front.
    pub(super) fn turning(
        size: Size,
        transposed: bool,
        rows_back: bool,
        columns_back: bool,
    ) -> Transformation {
        let mut new = Transformation { transposed, ..Transformation::identity(size) };
        for (places, back) in [(&mut new.rows, rows_back), (&mut new.columns, columns_back)] {
            if back {
                places[..size.usize()].reverse();
            }
        }
        new
    }

    /// The one under which two digits trade names.
    ///
    /// # Panics
    /// If the size has no such digit.
    pub fn swapping(size: Size, one: Digit, other: Digit) -> Transformation {
        assert!(size.digits().contains(one) && size.digits().contains(other), "both digits are of the size");
        let mut new = Transformation::identity(size);
        new.digits.swap(one.place(), other.place());
        new
    }

    /// The one under which the digit that comes first here becomes 1, the next new one 2, and so on.
    pub fn renaming(size: Size, appearing: impl Iterator<Item = Digit>) -> Transformation {
        let Transformation { rows, columns, .. } = Transformation::identity(size);
        let side = size.usize();
        Transformation::naming(size, false, &rows[..side], &columns[..side], appearing)
    }

    /// Whether it leaves every cell where it is.
    pub fn stays(&self) -> bool {
        let still = Transformation { digits: self.digits, ..Transformation::identity(self.size) };
        *self == still
    }

    /// What a digit becomes.
    ///
    /// # Panics
    /// If the size has no such digit.
    pub fn digit(&self, digit: Digit) -> Digit {
        assert!(self.size.digits().contains(digit), "the digit is of the size");
        Digit::new(self.digits[digit.place()] + 1).unwrap_or(digit)
    }

    /// The same, with the digits named in the order in which they appear here; each may do so often.
    pub(super) fn naming(
        size: Size,
        transposed: bool,
        rows: &[u8],
        columns: &[u8],
        appearing: impl Iterator<Item = Digit>,
    ) -> Transformation {
        let mut new = Transformation { transposed, ..Transformation::identity(size) };
        new.rows[..rows.len()].copy_from_slice(rows);
        new.columns[..columns.len()].copy_from_slice(columns);
        let mut unnamed = size.digits();
        let mut name = 0;
        let mut give = |digit: Digit| {
            if unnamed.remove(digit) {
                new.digits[digit.place()] = name;
                name += 1;
            }
        };
        appearing.for_each(&mut give);
        size.digits().iter().for_each(give);
        new
    }

    /// The size of the grids that it carries.
    pub fn size(&self) -> Size {
        self.size
    }

    /// Whether rows become columns.
    pub fn transposed(&self) -> bool {
        self.transposed
    }

    /// Which row (if transposed, which column) becomes row 1, 2 and so on, counted from 0.
    pub fn rows(&self) -> &[u8] {
        &self.rows[..self.size.usize()]
    }

    /// Which column (if transposed, which row) becomes column 1, 2 and so on, counted from 0.
    pub fn columns(&self) -> &[u8] {
        &self.columns[..self.size.usize()]
    }

    /// The lines that become the rows and then the columns, in order, numbered rows first.
    pub(super) fn lines(&self) -> impl Iterator<Item = usize> {
        let side = self.size.usize();
        let (rows, columns) = if self.transposed { (side, 0) } else { (0, side) };
        let numbered = |lines, first| <[u8]>::iter(lines).map(move |&line| first + usize::from(line));
        numbered(self.rows(), rows).chain(numbered(self.columns(), columns))
    }

    /// What the digits 1, 2 and so on become, each less 1.
    pub fn digits(&self) -> &[u8] {
        &self.digits[..self.size.usize()]
    }

    /// The cell that comes to stand in this one.
    ///
    /// # Panics
    /// If a grid of this size has no such cell.
    pub fn source(&self, cell: Cell) -> Cell {
        assert!(self.size.contains(cell), "the grid has no {cell}");
        let (row, column) = (self.rows[usize::from(cell.row())], self.columns[usize::from(cell.col())]);
        if self.transposed { Cell::new(column, row) } else { Cell::new(row, column) }
    }

    /// What becomes of a grid.
    ///
    /// # Panics
    /// If it is of another size.
    pub fn apply(&self, grid: &Grid) -> Grid {
        assert_eq!(grid.size(), self.size, "a transformation is for grids of one size");
        let mut new = Grid::empty(self.size);
        for cell in self.size.all_cells() {
            let digit = grid[self.source(cell)];
            new.set(cell, digit.and_then(|digit| Digit::new(self.digits[digit.place()] + 1)));
        }
        new
    }

    /// This one, and then the other.
    ///
    /// # Panics
    /// If they are of different sizes.
    #[must_use]
    pub fn then(&self, next: &Transformation) -> Transformation {
        assert_eq!(self.size, next.size, "a transformation is for grids of one size");
        let (rows, columns) =
            if next.transposed { (&self.columns, &self.rows) } else { (&self.rows, &self.columns) };
        Transformation {
            size: self.size,
            transposed: self.transposed != next.transposed,
            rows: next.rows.map(|at| rows[usize::from(at)]),
            columns: next.columns.map(|at| columns[usize::from(at)]),
            digits: self.digits.map(|at| next.digits[usize::from(at)]),
        }
    }

    /// What takes it back.
    #[must_use]
    pub fn inverse(&self) -> Transformation {
        let (rows, columns) =
            if self.transposed { (&self.columns, &self.rows) } else { (&self.rows, &self.columns) };
        Transformation {
            size: self.size,
            transposed: self.transposed,
            rows: inverse(rows),
            columns: inverse(columns),
            digits: inverse(&self.digits),
        }
    }
}

fn inverse(places: &Places) -> Places {
    let mut inverse = *places;
    for (&to, from) in places.iter().zip(0..) {
        inverse[usize::from(to)] = from;
    }
    inverse
}
