//! What a language must be able to say of chains.

use super::super::tongue::Cells;
use super::Opening;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;

/// Sentences about chains.
pub(in crate::words) trait Chains {
    /// This pattern is between these cells, where it begins and ends; of one cell, it comes back to it.
    fn chain_at(&self, pattern: Pattern, ends: Cells) -> String;
    /// Suppose that the digit is in none of these cells.
    fn suppose_not(&self, digit: Digit, cells: Cells) -> String;
    /// Suppose that the digit is in this cell.
    fn suppose(&self, digit: Digit, cell: Cell) -> String;
    // The opening says from where something follows.

    /// Then the cell holds none of these digits.
    fn then_out(&self, opening: &Opening, digits: DigitSet, cell: Cell) -> String;
    /// In each of so many cases the cell holds none of these digits.
    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String;
    /// The cell can hold so many digits, or with `then` has so many left then: the cases come next.
    fn splits_cell(&self, count: usize, cell: Cell, then: bool) -> String;
    /// The house has so many places for the digit, or has so many left then: likewise.
    fn splits_place(&self, count: usize, digit: Digit, house: &HouseName, then: bool) -> String;
    /// In the case of this number the digit is in this cell.
    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String;
    /// Each of so many cases comes to nothing.
    fn all_come_to_nothing(&self, cases: usize) -> String;
    /// That makes so many cases, too many to tell, and each comes to nothing.
    fn many_cases(&self, cases: usize) -> String;
    /// Then the cell does not hold these digits, if any are to be named, but one of those.
    fn then_cell(&self, opening: &Opening, cell: Cell, out: DigitSet, left: DigitSet) -> String;
    /// Then the house has the digit in one of these cells.
    fn then_place(&self, opening: &Opening, house: &HouseName, digit: Digit, cells: Cells) -> String;
    /// Then the digits are shared by as many cells.
    fn then_share(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String;
    /// Then the cell has nothing left.
    fn nothing_left_for(&self, opening: &Opening, cell: Cell) -> String;
    /// Then the house has no place left for the digit.
    fn no_place_left(&self, opening: &Opening, digit: Digit, house: &HouseName) -> String;
    /// Then these cells have only these digits left, which are fewer than they are; there may be none.
    fn too_few_left(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String;
    /// So many cells and houses, taken together, leave no room for that.
    fn no_room(&self, count: usize) -> String;
    /// So one digit is in one of its cells, or the other in one of its.
    fn one_of_both(&self, one: (Digit, CellSet), other: (Digit, CellSet)) -> String;
    /// So one end of the chain is true or the other.
    fn one_end(&self) -> String;
    /// The chain ends where it begins: it is a loop, so that at each joint one of both sides is true.
    fn chain_closes(&self) -> String;
}
