//! What a language must be able to say of wings, of chains of one digit, of fins and of uniqueness.

use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::words::tongue::Cells;

/// Which corners of a rectangle could hold a third digit.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::words) enum Corners {
    One,
    /// Two that see each other.
    Side,
    /// Two that do not.
    Opposite,
    Three,
    All,
}

pub(in crate::words) trait Further {
    // Of wings.

    /// These are the digits left for the cell.
    fn digits_left(&self, digits: DigitSet, cell: Cell) -> String;
    /// With the digit in the cell just named, only `left` is left for this one.
    fn with_it(&self, digit: Digit, cell: Cell, left: Digit) -> String;
    /// If none of the digits just named is there, this one is.
    fn or_else(&self, digit: Digit) -> String;
    /// The two cells just named can hold only these digits.
    fn both_hold_only(&self, digits: DigitSet) -> String;
    /// Wherever the house has the digit, one of the two cells just named sees it.
    fn one_sees(&self, house: &HouseName, digit: Digit) -> String;
    /// So the two cells do not both hold the digit; one of them holds the other.
    fn not_both(&self, digit: Digit, other: Digit) -> String;
    /// So one of these cells holds the digit.
    fn one_holds(&self, digit: Digit, cells: Cells) -> String;
    /// This pattern is made of these cells.
    fn pattern_at(&self, pattern: Pattern, cells: Cells) -> String;

    // Of chains.

    /// It is supposed that the digit is in none of these cells.
    fn suppose_none(&self, digit: Digit, cells: Cells) -> String;
    /// It is supposed that the digit is in this cell.
    fn suppose_it(&self, digit: Digit, cell: Cell) -> String;
    /// Then the house has the digit in these cells.
    fn then_in(&self, house: &HouseName, digit: Digit, cells: Cells) -> String;
    /// Then the cell has but this digit left.
    fn then_left(&self, digit: Digit, cell: Cell) -> String;

    // Of fins.

    /// But for these cells each of the lines has places for the digit only in `covers`. Where the cells are named, nothing
    /// was said since the reader was sent to the lines.
    fn places_but_for(
        &self,
        digit: Digit,
        lines: &[&HouseName],
        covers: &[&HouseName],
        fins: Cells,
    ) -> String;
    /// If the cells just named, so many, do not hold the digit, the houses have it in these places.
    fn else_in(&self, digit: Digit, fins: usize, houses: &[&HouseName], places: &[&HouseName]) -> String;
    /// So no other cell of these houses that sees all of these cells holds the digit.
    fn no_other_in_sight(&self, digit: Digit, houses: &[&HouseName], cells: Cells) -> String;

    // Of uniqueness.

    /// All of the cells just named, so many, could hold these two digits.
    fn could_hold(&self, digits: DigitSet, count: usize) -> String;
    /// With no other digit there these two could change places, and there would be a second solution.
    fn could_change_places(&self, digits: DigitSet) -> String;
    /// So one of these cells holds another digit.
    fn one_is_another(&self) -> String;
    /// Only this cell could, and only these digits.
    fn another_only_in(&self, digits: DigitSet, cell: Cell) -> String;
    /// So the cell holds one of these digits.
    fn so_one_of(&self, digits: DigitSet, cell: Cell) -> String;
    /// So one of these digits is in its cell.
    fn so_one_is_there(&self, all: &[(Cell, Digit)]) -> String;
    /// The others are these digits, in these cells.
    fn others_are(&self, digits: DigitSet, cells: Cells) -> String;
    /// So the house has these digits in these cells and in one of those just named.
    fn so_in_these_and_one(&self, digits: DigitSet, cells: CellSet, house: &HouseName) -> String;
    /// Then all of them, so many, would hold only these digits.
    fn then_only(&self, digits: DigitSet, count: usize) -> String;
    /// In the same way these cells do not hold this digit.
    fn likewise_not(&self, digit: Digit, cells: CellSet) -> String;
    /// That is a unique rectangle, with these corners open.
    fn that_is_rectangle(&self, corners: Corners) -> String;
    /// Without these digits in the cells just named, so many, each open cell has two, and each house two places for each
    /// digit that it misses.
    fn two_each_without(&self, digits: DigitSet, count: usize) -> String;
    /// Then all of them could be exchanged, and there would be a second solution.
    fn all_could_change(&self) -> String;
}
