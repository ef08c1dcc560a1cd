//! What pictures and pages say beside the sentences of steps.

use super::Voice;
use super::tell::told;
use super::tongue::{Cells, Tongue};
use super::writing::capital;
use crate::board::{Cell, CellSet, HouseName, Layout};
use crate::step::Claim;

/// What pictures and pages say, in one voice. Digits are handed in as they are printed.
pub struct Labels(Box<dyn Tongue>);

impl Voice {
    /// What pictures and pages say in this voice.
    pub fn labels(self) -> Labels {
        Labels(self.tongue())
    }
}

impl Labels {
    /// The name of a house, within a sentence.
    pub fn house(&self, house: &HouseName) -> String {
        self.0.house_name(house)
    }

    /// The names of cells, within a sentence.
    pub fn cells(&self, cells: CellSet) -> String {
        self.0.cell_names(cells)
    }

    /// A cell with nothing in it.
    pub fn blank(&self) -> &'static str {
        self.0.blank()
    }

    /// A cell that the picture leaves out.
    pub fn left_out(&self) -> &'static str {
        self.0.left_out()
    }

    /// A cell that is marked with these digits; no comma is in it.
    pub fn one_of(&self, digits: &[String]) -> String {
        self.0.one_of(digits)
    }

    /// A cell in which these digits are noted, with no claim about others; no comma is in it.
    pub fn perhaps(&self, digits: &[String]) -> String {
        self.0.perhaps(digits)
    }

    /// A cell whose digit is known and not written in; no comma is in it.
    pub fn known(&self, digit: &str) -> String {
        self.0.known(digit)
    }

    /// That these houses, and these cells beside them, are shaded.
    pub fn shaded(&self, houses: &[&HouseName], cells: CellSet) -> String {
        self.0.shaded(houses, cells)
    }

    /// That these houses, and these cells beside them, have a ring in each cell.
    pub fn ringed(&self, houses: &[&HouseName], cells: CellSet) -> String {
        self.0.ringed(houses, cells)
    }

    /// That these houses have a line around them.
    pub fn outlined(&self, houses: &[&HouseName]) -> String {
        self.0.outlined(houses)
    }

    /// That the digit in the cell closes these cells to itself.
    pub fn closes(&self, digit: &str, at: Cell, cells: CellSet) -> String {
        self.0.closes(digit, at, cells)
    }

    /// That these cells are closed to these digits.
    pub fn closed(&self, digits: &[String], cells: CellSet) -> String {
        self.0.closed(digits, cells)
    }

    /// That the reader remembers a claim.
    pub fn remembered(&self, layout: &Layout, claim: &Claim) -> String {
        let cells = claim.cells();
        self.0.remembered(&told(layout, claim, Cells::Named(cells), CellSet::EMPTY))
    }

    /// The printed number of a puzzle.
    pub fn number(&self, number: u32) -> String {
        self.0.number_of(number)
    }

    /// The heading of an answer.
    pub fn answer(&self) -> &'static str {
        self.0.answer()
    }

    /// The heading of a solver's sheet without a title.
    pub fn sheet(&self) -> &'static str {
        self.0.sheet()
    }

    /// The heading of a walk.
    pub fn walk(&self) -> &'static str {
        self.0.walk()
    }

    /// That the rest comes by patterns of these names; of no names, by what was used so far.
    pub fn finish(&self, names: &[String]) -> String {
        self.0.finish(names)
    }

    /// The heading of a step.
    pub fn step(&self, n: usize) -> String {
        self.0.step(n)
    }

    /// What begins a sentence: a word with a capital. The name of a cell stays.
    pub fn capital(&self, text: &str) -> String {
        let is_word = text.chars().take_while(|c| !c.is_whitespace()).all(char::is_alphabetic);
        if is_word { capital(text) } else { text.to_owned() }
    }

    /// The parts with commas, and a word before the last.
    pub fn list(&self, parts: &[String]) -> String {
        self.0.list(parts)
    }

    /// `CELLS not DIGITS` within running text.
    pub fn reference_not(&self, cells: &str, digits: &str) -> String {
        self.0.reference_not(cells, digits)
    }

    /// `DIGITS of HOUSES in PLACE`, or `not in`, within running text.
    pub fn reference_within(&self, digits: &str, houses: &str, place: &str, elsewhere: bool) -> String {
        self.0.reference_within(digits, houses, place, elsewhere)
    }

    /// `HOUSES misses DIGITS` within running text.
    pub fn reference_misses(&self, houses: &str, digits: &str) -> String {
        self.0.reference_misses(houses, digits)
    }

    /// `CELLS open` within running text.
    pub fn reference_open(&self, cells: &str) -> String {
        self.0.reference_open(cells)
    }
}
