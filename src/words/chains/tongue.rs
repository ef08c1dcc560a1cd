//! What a language must be able to say of chains.

use super::super::tongue::Cells;
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
    /// Suppose that two digits are each in its cell.
    fn suppose_both(&self, one: (Digit, Cell), other: (Digit, Cell)) -> String;
    /// Then the cell holds none of these digits.
    fn then_out(&self, digits: DigitSet, cell: Cell) -> String;
    /// In each of so many cases the cell holds none of these digits.
    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String;
    /// Try each digit that the cell can hold.
    fn try_each_digit(&self, cell: Cell) -> String;
    /// Try each place that the house has for the digit.
    fn try_each_place(&self, digit: Digit, house: &HouseName) -> String;
    /// In the case of this number the digit is in this cell.
    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String;
    /// Each of so many cases comes to nothing.
    fn all_come_to_nothing(&self, cases: usize) -> String;
    /// That makes so many cases, too many to tell, and each comes to nothing.
    fn many_cases(&self, cases: usize) -> String;
    /// Then the cell does not hold these digits, if any are to be named, but one of those.
    fn then_cell(&self, cell: Cell, out: DigitSet, left: DigitSet) -> String;
    /// Then the house has the digit in one of these cells.
    fn then_place(&self, house: &HouseName, digit: Digit, cells: Cells) -> String;
    /// Then the digits are shared by as many cells.
    fn then_share(&self, digits: DigitSet, cells: Cells) -> String;
    /// Then the cell has nothing left.
    fn nothing_left_for(&self, cell: Cell) -> String;
    /// Then the house has no place left for the digit.
    fn no_place_left(&self, digit: Digit, house: &HouseName) -> String;
    /// Then these cells have only these digits left, which are fewer than they are; there may be none.
    fn too_few_left(&self, digits: DigitSet, cells: Cells) -> String;
    /// So many cells and houses, taken together, leave no room for that.
    fn no_room(&self, count: usize) -> String;
    /// So one digit is in one of its cells, or the other in one of its.
    fn one_of_both(&self, one: (Digit, CellSet), other: (Digit, CellSet)) -> String;
    /// So one end of the chain is true or the other.
    fn one_end(&self) -> String;
    /// The chain ends where it begins: it is a loop, so that at each joint one of both sides is true.
    fn chain_closes(&self) -> String;
}
