//! What a language must be able to say: a method for each kind of sentence, with its parts by name.

use super::chains::Chains;
use super::further::Further;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::step::Method;

/// Cells in a sentence: by name, or as so many that were named just before.
#[derive(Clone, Copy)]
pub(super) enum Cells {
    Named(CellSet),
    These(usize),
}

impl Cells {
    pub(super) fn count(self) -> usize {
        match self {
            Cells::Named(cells) => cells.len(),
            Cells::These(count) => count,
        }
    }
}

/// Something that is so: a claim as it is told.
#[derive(Clone)]
pub(super) enum Told<'a> {
    /// As many digits as cells: each of the cells holds one of them.
    Share { digits: DigitSet, cells: Cells },
    /// Each of the cells holds one of the digits.
    Each { digits: DigitSet, cells: Cells },
    /// Each of the houses has each of the digits in one of the places.
    In { digits: DigitSet, houses: Vec<&'a HouseName>, places: Vec<&'a HouseName> },
    /// The house has each of the digits in one of the cells.
    InCells { digits: DigitSet, house: &'a HouseName, cells: Cells },
    /// None of the cells holds any of the digits.
    Not { digits: DigitSet, cells: Cells },
    /// The digit stands there.
    Stands { digit: Digit, cells: Cells },
}

/// A language. `None` for a house is the one just spoken of; `also` goes on with a list that was too long.
pub(super) trait Tongue: Chains + Further {
    // Where to look.

    /// Look at these houses.
    fn look_at(&self, houses: &[&HouseName]) -> String;
    /// Look for the places of these digits in this house.
    fn look_for(&self, digits: DigitSet, house: &HouseName) -> String;
    /// Look at these cells.
    fn look_at_cells(&self, cells: CellSet, also: bool) -> String;
    /// Look at the cells that these two houses share.
    fn look_at_meeting(&self, first: &HouseName, second: &HouseName) -> String;
    /// Look at what the house misses.
    fn look_at_missing(&self, house: &HouseName) -> String;
    /// Look at what is remembered about these cells.
    fn look_at_remembered(&self, cells: Cells) -> String;

    // What is there.

    /// These houses have this pattern.
    fn pattern_in(&self, pattern: Pattern, houses: &[&HouseName]) -> String;
    /// Locked candidates keep the digits of the house in the place.
    fn locked_in(&self, digits: DigitSet, house: &HouseName, place: &HouseName) -> String;
    /// What was just told is this pattern.
    fn that_is(&self, pattern: Pattern) -> String;
    /// The house misses one digit and has one open cell.
    fn one_open(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String;
    /// The house has one place for the digit.
    fn one_place(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String;
    /// One digit is left for the cell, `None` for that just named.
    fn one_digit(&self, digit: Digit, cell: Option<Cell>) -> String;
    /// Each of these houses holds each of these digits.
    fn hold(&self, houses: &[&HouseName], digits: DigitSet, also: bool) -> String;
    /// Of the digits just named the house has some and lacks some.
    fn has_and_lacks(&self, house: &HouseName, has: DigitSet, lacks: DigitSet) -> String;
    /// The house lacks all of the digits just named, so many.
    fn lacks_all(&self, house: &HouseName, count: usize) -> String;
    /// Of the cells of the house just named only these are open outside these lines.
    fn open_outside(&self, lines: &[&HouseName], cells: Cells) -> String;
    /// The house just named misses these digits.
    fn misses(&self, digits: DigitSet, also: bool) -> String;
    /// These cells of the house can hold only these digits.
    fn only_digits(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String;
    /// The house has only these cells left for these digits.
    fn only_cells(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String;
    /// All places of the digit in the first house lie in the second.
    fn places_within(
        &self,
        digit: Digit,
        first: Option<&HouseName>,
        second: &HouseName,
        cells: Cells,
    ) -> String;
    /// Each of the lines just named, so many, has places for the digit only in these lines.
    fn places_in_lines(&self, digit: Digit, count: usize, lines: &[&HouseName]) -> String;
    /// The line has no open cell in these houses.
    fn full_in(&self, line: &HouseName, houses: &[&HouseName]) -> String;

    // What follows.

    /// Write the digit: by this pattern in this house, all in one sentence.
    fn put(&self, digit: Digit, cells: Cells, pattern: Pattern, house: Option<&HouseName>) -> String;
    /// So write the digit into the cell just named.
    fn so_put_there(&self, digit: Digit, pattern: Pattern) -> String;
    /// So write the digit into these cells.
    fn so_put(&self, digit: Digit, cells: Cells) -> String;
    /// This is so.
    fn fact(&self, told: &Told) -> String;
    /// So each of these houses has each of these digits in one of the places.
    fn so_have_in(&self, digits: DigitSet, houses: &[&HouseName], places: &[&HouseName]) -> String;
    /// The reader is to remember this.
    fn remember(&self, told: &Told) -> String;
    /// The reader is to remember what was just said.
    fn remember_this(&self) -> String;
    /// The reader remembers this.
    fn remembered(&self, told: &Told) -> String;
    /// That leaves the line to the house, for these digits.
    fn leaves_line(&self, line: &HouseName, house: &HouseName, digits: DigitSet) -> String;
    /// So no cell of these houses but those just named holds any of these digits.
    fn no_other_cell(&self, houses: &[&HouseName], digits: DigitSet) -> String;
    /// So no cell that sees all of the cells just named, so many, holds any of these digits.
    fn no_cell_in_sight(&self, digits: DigitSet, count: usize) -> String;
    /// Nothing else is left in the cells just named: every other candidate goes out of these.
    fn nothing_else(&self, cells: Cells) -> String;
    /// Strike these digits from these cells.
    fn strike(&self, digits: DigitSet, cells: Cells, also: bool) -> String;

    // Of one cell, and of none.

    /// The digit is out of a cell.
    fn out(&self, digit: Digit) -> String;
    /// The digit is out of a cell, because the house has it in this other cell.
    fn out_by_digit(&self, digit: Digit, house: &HouseName, at: Cell) -> String;
    /// The digit is out of a cell, by an earlier step or by the marks.
    fn out_earlier(&self, digit: Digit) -> String;
    /// There is no next step.
    fn stuck(&self, method: Method) -> String;

    // Of a picture. Digits are as they are printed.

    /// The name of a house.
    fn house_name(&self, house: &HouseName) -> String;
    /// The names of cells.
    fn cell_names(&self, cells: CellSet) -> String;
    /// A cell with nothing in it.
    fn blank(&self) -> &'static str;
    /// A cell that the picture leaves out.
    fn left_out(&self) -> &'static str;
    /// A cell that is marked with these digits: it holds one of them.
    fn one_of(&self, digits: &[String]) -> String;
    /// A cell in which these digits are noted, with no claim about others.
    fn perhaps(&self, digits: &[String]) -> String;
    /// A cell whose digit is known and not written in.
    fn known(&self, digit: &str) -> String;
    /// The house has these cells.
    fn house_cells(&self, house: &HouseName, cells: CellSet) -> String;
    /// The diagonals are houses.
    fn diagonals(&self) -> &'static str;
    /// The digits of these cells are given, and the others are written in.
    fn given(&self, cells: CellSet) -> String;
    /// The digits of these cells are written in, and the others are given.
    fn entered(&self, cells: CellSet) -> String;
    /// These houses, and these cells beside them, are shaded.
    fn shaded(&self, houses: &[&HouseName], cells: CellSet) -> String;
    /// These houses, and these cells beside them, have a ring in each cell.
    fn ringed(&self, houses: &[&HouseName], cells: CellSet) -> String;
    /// These houses have a line around them.
    fn outlined(&self, houses: &[&HouseName]) -> String;
    /// A chain supposes this, or that it is out; digits are parts of a list.
    fn link_supposed(&self, name: &str, is_so: bool, digits: &[String], cells: CellSet) -> String;
    /// By the links of these names this one leaves these digits in these cells: one of them in one, or all in all.
    fn link(&self, name: &str, from: &[String], digits: &[String], cells: CellSet) -> String;
    /// At the end, by the links of these names, these digits are out of these cells.
    fn link_end(&self, name: &str, from: &[String], out: &[(Vec<String>, CellSet)]) -> String;
    /// The digit that stands in the cell closes these cells to itself.
    fn closes(&self, digit: &str, at: Cell, cells: CellSet) -> String;
    /// These cells are closed to these digits.
    fn closed(&self, digits: &[String], cells: CellSet) -> String;

    // Of a page.

    /// The printed number of a puzzle.
    fn number_of(&self, number: u32) -> String;
    /// The heading of an answer.
    fn answer(&self) -> &'static str;
    /// The heading of a solver's sheet without a title.
    fn sheet(&self) -> &'static str;
    /// The heading of what was wrong in print.
    fn errata(&self) -> &'static str;

    /// The heading of an author's hints.
    fn hints(&self) -> &'static str;
    /// The heading of a walk.
    fn walk(&self) -> &'static str;
    /// That the rest comes by patterns of these names, or, where none is named, by no others than before.
    fn finish(&self, names: &[String]) -> String;
    /// The heading of a step.
    fn step(&self, n: usize) -> String;
    /// The parts with commas, and a word before the last.
    fn list(&self, parts: &[String]) -> String;
    /// The cells named hold none of these digits: a reference in running text.
    fn reference_not(&self, cells: &str, digits: &str) -> String;
    /// The houses named have these digits in the place named, or elsewhere: likewise.
    fn reference_within(&self, digits: &str, houses: &str, place: &str, elsewhere: bool) -> String;
    /// The houses named miss these digits: likewise.
    fn reference_misses(&self, houses: &str, digits: &str) -> String;
    /// The cells named are open: likewise.
    fn reference_open(&self, cells: &str) -> String;
}
