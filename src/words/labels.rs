//! What pictures and pages say beside the sentences of steps.

use super::tell::told;
use super::tongue::{Cells, Tongue};
use super::writing::capital;
use super::{Signs, Voice};
use crate::board::{Cell, CellSet, HouseName, Layout};
use crate::step::Claim;

/// What pictures and pages say, in one voice. Digits are handed in as they are printed.
pub struct Labels<'a> {
    voice: Voice<'a>,
    tongue: Box<dyn Tongue + 'a>,
}

impl<'a> Voice<'a> {
    /// What pictures and pages say in this voice.
    pub fn labels(self) -> Labels<'a> {
        Labels { voice: self, tongue: self.tongue() }
    }
}

impl Labels<'_> {
    /// The name of a house, within a sentence.
    pub fn house(&self, house: &HouseName) -> String {
        self.tongue.house_name(house)
    }

    /// The names of cells, within a sentence.
    pub fn cells(&self, cells: CellSet) -> String {
        self.tongue.cell_names(cells)
    }

    /// A cell with nothing in it.
    pub fn blank(&self) -> &'static str {
        self.tongue.blank()
    }

    /// A cell that the picture leaves out.
    pub fn left_out(&self) -> &'static str {
        self.tongue.left_out()
    }

    /// A cell that is marked with these digits; no comma is in it.
    pub fn one_of(&self, digits: &[String]) -> String {
        self.tongue.one_of(digits)
    }

    /// A cell in which these digits are noted, with no claim about others; no comma is in it.
    pub fn perhaps(&self, digits: &[String]) -> String {
        self.tongue.perhaps(digits)
    }

    /// A cell whose digit is known and not written in; no comma is in it.
    pub fn known(&self, digit: &str) -> String {
        self.tongue.known(digit)
    }

    /// Which cells a house has.
    pub fn house_cells(&self, house: &HouseName, cells: CellSet) -> String {
        self.tongue.house_cells(house, cells)
    }

    /// That the diagonals are houses.
    pub fn diagonals(&self) -> String {
        self.tongue.diagonals().to_owned()
    }

    /// That these digits are given, and the others written in.
    pub fn given(&self, cells: CellSet) -> String {
        self.tongue.given(cells)
    }

    /// That these digits are written in, and the others given.
    pub fn entered(&self, cells: CellSet) -> String {
        self.tongue.entered(cells)
    }

    /// That these houses, and these cells beside them, are shaded.
    pub fn shaded(&self, houses: &[&HouseName], cells: CellSet) -> String {
        self.tongue.shaded(houses, cells)
    }

    /// That these houses, and these cells beside them, have a ring in each cell.
    pub fn ringed(&self, houses: &[&HouseName], cells: CellSet) -> String {
        self.tongue.ringed(houses, cells)
    }

    /// That these houses have a line around them.
    pub fn outlined(&self, houses: &[&HouseName]) -> String {
        self.tongue.outlined(houses)
    }

    /// What a chain supposes, or with `is_so` false supposes to be out: one of these digits in one of these cells.
    pub fn link_supposed(&self, name: &str, is_so: bool, digits: &[String], cells: CellSet) -> String {
        self.tongue.link_supposed(name, is_so, digits, cells)
    }

    /// What a link of a chain leaves, and from which others it follows.
    pub fn link(&self, name: &str, from: &[String], digits: &[String], cells: CellSet) -> String {
        self.tongue.link(name, from, digits, cells)
    }

    /// What is out at the end of a chain: digits, and the cells that they are out of.
    pub fn link_end(&self, name: &str, from: &[String], out: &[(Vec<String>, CellSet)]) -> String {
        self.tongue.link_end(name, from, out)
    }

    /// That the digit in the cell closes these cells to itself.
    pub fn closes(&self, digit: &str, at: Cell, cells: CellSet) -> String {
        self.tongue.closes(digit, at, cells)
    }

    /// That these cells are closed to these digits.
    pub fn closed(&self, digits: &[String], cells: CellSet) -> String {
        self.tongue.closed(digits, cells)
    }

    /// That the reader remembers a claim, with these signs for its digits.
    pub fn remembered(&self, layout: &Layout, claim: &Claim, signs: Signs) -> String {
        let cells = claim.cells();
        let tongue = self.voice.with_signs(signs).tongue();
        tongue.remembered(&told(layout, claim, Cells::Named(cells), CellSet::EMPTY))
    }

    /// The printed number of a puzzle.
    pub fn number(&self, number: u32) -> String {
        self.tongue.number_of(number)
    }

    /// The printed number of a puzzle of another collection, behind that one's title.
    pub fn number_in(&self, number: u32, collection: &str) -> String {
        format!("{collection}, {}", self.number(number))
    }

    /// The heading of an answer.
    pub fn answer(&self) -> &'static str {
        self.tongue.answer()
    }

    /// The heading of a solver's sheet without a title.
    pub fn sheet(&self) -> &'static str {
        self.tongue.sheet()
    }

    /// The heading of what was wrong in print.
    pub fn errata(&self) -> &'static str {
        self.tongue.errata()
    }

    /// The heading of an author's hints.
    pub fn hints(&self) -> &'static str {
        self.tongue.hints()
    }

    /// The heading of a walk.
    pub fn walk(&self) -> &'static str {
        self.tongue.walk()
    }

    /// That the rest comes by patterns of these names; of no names, by what was used so far.
    pub fn finish(&self, names: &[String]) -> String {
        self.tongue.finish(names)
    }

    /// The heading of a step.
    pub fn step(&self, n: usize) -> String {
        self.tongue.step(n)
    }

    /// What begins a sentence: a word with a capital. The name of a cell stays.
    pub fn capital(&self, text: &str) -> String {
        let is_word = text.chars().take_while(|c| !c.is_whitespace()).all(char::is_alphabetic);
        if is_word { capital(text) } else { text.to_owned() }
    }

    /// The parts with commas, and a word before the last.
    pub fn list(&self, parts: &[String]) -> String {
        self.tongue.list(parts)
    }

    /// `CELLS not DIGITS` within running text.
    pub fn reference_not(&self, cells: &str, digits: &str) -> String {
        self.tongue.reference_not(cells, digits)
    }

    /// `DIGITS of HOUSES in PLACE`, or `not in`, within running text.
    pub fn reference_within(&self, digits: &str, houses: &str, place: &str, elsewhere: bool) -> String {
        self.tongue.reference_within(digits, houses, place, elsewhere)
    }

    /// `HOUSES misses DIGITS` within running text.
    pub fn reference_misses(&self, houses: &str, digits: &str) -> String {
        self.tongue.reference_misses(houses, digits)
    }

    /// `CELLS open` within running text.
    pub fn reference_open(&self, cells: &str) -> String {
        self.tongue.reference_open(cells)
    }
}
