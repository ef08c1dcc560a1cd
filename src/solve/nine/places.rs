//! A position of size 9 as bits.

use crate::board::{Cell, Digit, Grid, Size};

/// The places that each digit has left in each band.
pub(super) type Places = [[u32; 9]; 3];

/// The first cell of each row of a band. The cell in row r and column c of a band is bit 10 r + c.
pub(super) const ROWS: u32 = 1 | 1 << 10 | 1 << 20;
/// The cells of the first row.
pub(super) const ROW: u32 = 0x1ff;
/// The cells of a band.
pub(super) const BAND: u32 = ROW * ROWS;
/// The bits beside the rows, which stay free for what is carried.
pub(super) const CARRY: u32 = ROWS << 9;

/// The band of a cell, and its bit there.
pub(super) fn place(cell: Cell) -> (usize, u32) {
    (usize::from(cell.row() / 3), 1 << (cell.row() % 3 * 10 + cell.col()))
}

/// What the givens leave in their own cells; what they strike from others is for the rounds to see.
pub(super) fn left_by(givens: &Grid) -> Places {
    let mut left = Places::default();
    for (band, rows) in left.iter_mut().zip(givens.cells().chunks(27)) {
        let mut filled = 0;
        for (bit, digit) in bits_of_band().zip(rows) {
            if let Some(digit) = digit {
                band[digit.place()] |= bit;
                filled |= bit;
            }
        }
        for own in band {
            *own |= BAND & !filled;
        }
    }
    left
}

/// The grid of a solution.
pub(super) fn grid(solution: &Places) -> Grid {
    let size = Size::new(9).expect("it is a size");
    let mut cells = vec![None; size.cells()];
    for (digits, rows) in solution.iter().zip(cells.chunks_mut(27)) {
        for (&own, value) in digits.iter().zip(1..) {
            let mut left = own;
            while let Some(bit) = first(left) {
                let place = bit.trailing_zeros() as usize;
                rows[place / 10 * 9 + place % 10] = Digit::new(value);
                left &= !bit;
            }
        }
    }
    Grid::from_cells(size, cells)
}

/// The bits of a band's cells, in reading order.
fn bits_of_band() -> impl Iterator<Item = u32> {
    (0..27).map(|at| 1 << (at / 9 * 10 + at % 9))
}

/// The band, the bit and the digit to assume next; `None` if each cell has one candidate. It is a cell with two, one of
/// which has two places in its row, if there is such a cell: so something follows either way, and of two digits. Else it
/// is a cell with as few as can be.
pub(super) fn choose(here: &Places) -> Option<(usize, u32, usize)> {
    let counts = here.map(|digits| cells_with_more_than::<3>(&digits));
    if counts.iter().all(|[_, several, _]| *several == 0) {
        return None;
    }
    for (band, [_, two, three]) in counts.iter().enumerate() {
        for (digit, &own) in here[band].iter().enumerate() {
            if let Some(bit) = first(own & two & !three & rows_with_two(own)) {
                return Some((band, bit, digit));
            }
        }
    }
    fewest(here)
}

/// The first cell with as few candidates as can be, but two or more, and its first.
fn fewest(here: &Places) -> Option<(usize, u32, usize)> {
    let counts = here.map(|digits| cells_with_more_than::<10>(&digits));
    let (band, bit) = (2..10).find_map(|count| {
        (0..3).find_map(|band| Some((band, first(counts[band][count - 1] & !counts[band][count])?)))
    })?;
    let digit = here[band].iter().position(|own| own & bit != 0)?;
    Some((band, bit, digit))
}

/// For each number below N, the cells of a band that have more candidates than that.
fn cells_with_more_than<const N: usize>(digits: &[u32; 9]) -> [u32; N] {
    digits.iter().fold([0; N], |mut more, own| {
        for number in (1..N).rev() {
            more[number] |= more[number - 1] & own;
        }
        more[0] |= own;
        more
    })
}

/// The rows in which a digit has two places, whole.
fn rows_with_two(own: u32) -> u32 {
    let beyond_one = less_first(own);
    rows_of(beyond_one) & !rows_of(less_first(beyond_one))
}

/// The places but for the first of each row.
fn less_first(own: u32) -> u32 {
    own & ((own | CARRY) - ROWS)
}

/// The rows that have any of these places, whole.
fn rows_of(own: u32) -> u32 {
    let any = (own + BAND) & CARRY;
    any - (any >> 9)
}

fn first(bits: u32) -> Option<u32> {
    (bits != 0).then_some(bits & bits.wrapping_neg())
}
