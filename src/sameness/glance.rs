//! What tells most puzzles apart at a glance.

use crate::board::Grid;

/// Whether puzzles with these givens may be the same, as far as their numbers tell, which no other dress changes: how many
/// givens there are of each digit, in each row and in each column, whichever digit or line has so many.
pub fn may_be_same(one: &Grid, other: &Grid) -> bool {
    if one.size() != other.size() || one.filled() != other.filled() {
        return false;
    }
    let (one, other) = (Numbers::of(one), Numbers::of(other));
    one.digits == other.digits
        && ((&one.rows, &one.columns) == (&other.rows, &other.columns)
            || (&one.rows, &one.columns) == (&other.columns, &other.rows))
}

/// How many givens there are of each kind, rising.
struct Numbers {
    digits: Vec<u8>,
    rows: Vec<u8>,
    columns: Vec<u8>,
}

impl Numbers {
    fn of(grid: &Grid) -> Numbers {
        let side = grid.size().usize();
        let (mut digits, mut rows, mut columns) = (vec![0; side], vec![0; side], vec![0; side]);
        for cell in grid.size().all_cells() {
            if let Some(digit) = grid.get(cell) {
                digits[digit.place()] += 1;
                rows[usize::from(cell.row())] += 1;
                columns[usize::from(cell.col())] += 1;
            }
        }
        for numbers in [&mut digits, &mut rows, &mut columns] {
            numbers.sort_unstable();
        }
        Numbers { digits, rows, columns }
    }
}
