//! Whether two puzzles are the same in another dress.
//!
//! Two puzzles are **the same** if a [`Transformation`] carries one to the other: rows in another order, columns in
//! another order, perhaps rows for columns, digits under other names, so that each house becomes a house and each given
//! a given. Nothing else counts:
//!
//! - With boxes, the rows of a band may trade places, the bands, the columns of a stack, and the stacks; and rows may
//!   become columns. No other order keeps the boxes whole.
//! - With regions or diagonals, mostly no more than the eight turns and reflections of the square keep the houses, and
//!   of these those that the drawing allows. Where a layout has further ones they count as well: with both diagonals,
//!   rows 1 and 2 and also 8 and 9 may trade places if columns do likewise.
//! - The layouts may differ, as long as one becomes the other: a puzzle with boxes of two rows and three columns can be
//!   the same as one with boxes of three rows and two columns, and one with regions the same as its mirror image.
//!
//! A house is its cells here, whatever its name. Solutions are not looked at, nor whether there are any.

mod glance;
mod incidence;
mod nine;
mod partition;
mod repeats;
mod search;
#[cfg(test)]
mod tests;
mod told;
mod transformation;
mod turns;

use std::fmt;

use crate::board::{BoxShape, Cell, CellSet, Grid, Layout};
pub use glance::may_be_same;
use incidence::{Incidence, houses_beside_lines};
pub use repeats::{Repeat, repeats};
pub use transformation::Transformation;
pub use turns::{Formed, Turn, how};

/// How much searching is allowed: never time, so that the answer is the same on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// How many nodes: each is one line singled out among others that look like it. What follows costs nothing, and
    /// most puzzles take no node at all.
    pub nodes: u64,
}

impl Default for Budget {
    /// Less than a second for a grid of 25 by 25.
    fn default() -> Budget {
        Budget { nodes: 10_000 }
    }
}

/// The budget was spent before the form of a puzzle was known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Undecided;

impl fmt::Display for Undecided {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "so many of its lines look alike that this puzzle was not compared with others within the limit",
        )
    }
}

impl std::error::Error for Undecided {}

/// Equal for two puzzles exactly if they are the same. It is for comparing, sorting and hashing, and says nothing else;
/// another edition may have other forms.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Form(
    /// A picture. The one of a general search begins with the size, 4 or more, that of the usual size 9 with 0 or 1.
    Box<[u8]>,
);

/// A puzzle's form, and what carries the puzzle to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Canonical {
    /// The form.
    pub form: Form,
    dress: Transformation,
}

impl Canonical {
    /// What carries the puzzle of this form to the puzzle of the other; `None` if they are not the same. Where there
    /// are several such transformations, it is one of them.
    pub fn to(&self, other: &Canonical) -> Option<Transformation> {
        (self.form == other.form).then(|| self.dress.then(&other.dress.inverse()))
    }
}

/// The form of a puzzle.
///
/// # Errors
/// If the budget did not suffice.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn canonical(layout: &Layout, givens: &Grid, budget: Budget) -> Result<Canonical, Undecided> {
    assert_eq!(layout.size(), givens.size(), "a grid has the size of its layout");
    let quick = if is_usual_nine(layout) { nine::least_dress(givens) } else { None };
    let (picture, dress) = if let Some(found) = quick {
        found
    } else {
        let found = search::search(&Incidence::new(layout, givens), budget)?;
        (found.picture, found.dress)
    };
    Ok(Canonical { form: Form(picture.into()), dress })
}

/// How many ways there are to carry a puzzle to itself, 1 or more: orders of its lines, each with names for the digits
/// that are given. `u128::MAX` stands for so many or more, which only regions that are rows or columns have.
///
/// # Errors
/// If the budget did not suffice.
///
/// # Panics
/// If the grid is not of the layout's size.
pub fn symmetries(layout: &Layout, givens: &Grid, budget: Budget) -> Result<u128, Undecided> {
    assert_eq!(layout.size(), givens.size(), "a grid has the size of its layout");
    search::search(&Incidence::new(layout, givens), budget).map(|found| found.symmetries)
}

/// Whether a layout has rows, columns and boxes of three by three, however they are drawn, and no other house.
fn is_usual_nine(layout: &Layout) -> bool {
    if layout.size().side() != 9 {
        return false;
    }
    let drawn_so = layout.boxes() == Some(BoxShape { rows: 3, columns: 3 }) && layout.houses().len() == 27;
    drawn_so || {
        let houses = houses_beside_lines(layout);
        let box_of = |cell: Cell| (cell.row() / 3, cell.col() / 3);
        let is_box = |house: &CellSet| house.iter().map(box_of).is_sorted_by(|one, other| one == other);
        houses.len() == 9 && houses.into_iter().all(is_box)
    }
}
