//! In English.

use super::{Corners, Further};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::words::english::{English, all_of, named, number};
use crate::words::tongue::Cells;
use crate::words::writing::joined;

impl English<'_> {
    fn one_cell(&self, cell: Cell) -> String {
        self.cells(Cells::Named(CellSet::single(cell)))
    }
}

impl Further for English<'_> {
    fn digits_left(&self, digits: DigitSet, cell: Cell) -> String {
        let (count, digits) = (number(digits.len()), self.all(digits));
        format!("Only {count} digits are left for {}: {digits}.", self.one_cell(cell))
    }

    fn with_it(&self, digit: Digit, cell: Cell, left: Digit) -> String {
        let (digit, left) = (self.signs.of(digit), self.signs.of(left));
        format!("With {digit} there, only {left} is left for {}.", self.one_cell(cell))
    }

    fn or_else(&self, digit: Digit) -> String {
        format!("Otherwise {} is there.", self.signs.of(digit))
    }

    fn both_hold_only(&self, digits: DigitSet) -> String {
        format!("Both can hold only {}.", self.all(digits))
    }

    fn one_sees(&self, house: &HouseName, digit: Digit) -> String {
        let (house, digit) = (self.house(house), self.signs.of(digit));
        format!("Wherever {house} has its {digit}, one of the two cells sees it.")
    }

    fn not_both(&self, digit: Digit, other: Digit) -> String {
        let (digit, other) = (self.signs.of(digit), self.signs.of(other));
        format!("So they cannot both hold {digit}: one of them holds {other}.")
    }

    fn one_holds(&self, digit: Digit, cells: Cells) -> String {
        let (digit, count, last) = (self.signs.of(digit), number(cells.count()), self.named_last(cells));
        match cells.count() {
            1 => format!("So {digit} is in {}.", self.cells(cells)),
            _ => format!("So one of these {count} cells holds {digit}{last}."),
        }
    }

    fn pattern_at(&self, pattern: Pattern, cells: Cells) -> String {
        format!("There is {} in {}.", named(pattern), self.cells(cells))
    }

    fn suppose_none(&self, digit: Digit, cells: Cells) -> String {
        let (digit, last) = (self.signs.of(digit), self.named_last(cells));
        match cells.count() {
            1 => format!("Suppose that {digit} is not in {}.", self.cells(cells)),
            _ => format!("Suppose that {digit} is in none of these cells{last}."),
        }
    }

    fn suppose_it(&self, digit: Digit, cell: Cell) -> String {
        format!("Suppose that {} is in {}.", self.signs.of(digit), self.one_cell(cell))
    }

    fn then_in(&self, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let (house, digit, last) = (self.house(house), self.signs.of(digit), self.named_last(cells));
        match cells.count() {
            1 => format!("Then {house} has its {digit} in {}.", self.cells(cells)),
            _ => format!("Then {house} has its {digit} in one of these cells{last}."),
        }
    }

    fn then_left(&self, digit: Digit, cell: Cell) -> String {
        format!("Then only {} is left for {}.", self.signs.of(digit), self.one_cell(cell))
    }

    fn places_but_for(
        &self,
        digit: Digit,
        lines: &[&HouseName],
        covers: &[&HouseName],
        fins: Cells,
    ) -> String {
        let (digit, covers, cells) = (self.signs.of(digit), self.houses(covers), self.cells(fins));
        let lines = match fins {
            Cells::Named(_) => all_of(lines.len()),
            Cells::These(_) => self.houses(lines),
        };
        format!("But for {cells}, {lines} have room for {digit} only in {covers}.")
    }

    fn else_in(&self, digit: Digit, fins: usize, houses: &[&HouseName], places: &[&HouseName]) -> String {
        let (digit, houses, places) = (self.signs.of(digit), self.houses(houses), self.houses(places));
        format!("Unless {digit} is {}, {houses} have their {digit} in {places}.", there(fins))
    }

    fn no_other_in_sight(&self, digit: Digit, houses: &[&HouseName], cells: Cells) -> String {
        let (digit, houses) = (self.signs.of(digit), self.houses_joined(houses, "or"));
        format!("So no other cell of {houses} that sees {} holds {digit}.", self.cells(cells))
    }

    fn could_hold(&self, digits: DigitSet, count: usize) -> String {
        format!("All {} can hold {}.", number(count), self.all(digits))
    }

    fn could_change_places(&self, digits: DigitSet) -> String {
        let digits = self.all(digits);
        format!(
            "If they held nothing else, {digits} could change places, but the puzzle has only one solution."
        )
    }

    fn one_is_another(&self) -> String {
        "So one of them holds another digit.".to_owned()
    }

    fn another_only_in(&self, digits: DigitSet, cell: Cell) -> String {
        format!("Only {} has room for another: {}.", self.one_cell(cell), self.any(digits))
    }

    fn so_one_of(&self, digits: DigitSet, cell: Cell) -> String {
        format!("So {} holds {}.", self.one_cell(cell), self.any(digits))
    }

    fn so_one_is_there(&self, all: &[(Cell, Digit)]) -> String {
        let each = all
            .iter()
            .map(|&(cell, digit)| format!("{} holds {}", self.one_cell(cell), self.signs.of(digit)));
        format!("So {}.", joined(each, "or"))
    }

    fn others_are(&self, digits: DigitSet, cells: Cells) -> String {
        let (all, cells) = (self.all(digits), self.cells(cells));
        match digits.len() {
            1 => format!("The only other digit there is {all}, in {cells}."),
            _ => format!("The other digits there are {all}, in {cells}."),
        }
    }

    fn so_in_these_and_one(&self, digits: DigitSet, cells: CellSet, house: &HouseName) -> String {
        let (digits, house) = (self.all(digits), self.house(house));
        format!("So {house} has its {digits} in {} and one of those.", self.cells(Cells::Named(cells)))
    }

    fn then_only(&self, digits: DigitSet, count: usize) -> String {
        format!("Then all {} would hold only {}.", number(count), self.all(digits))
    }

    fn likewise_not(&self, digit: Digit, cells: CellSet) -> String {
        let (digit, cells) = (self.signs.of(digit), self.cells(Cells::Named(cells)));
        format!("In the same way {digit} is not in {cells}.")
    }

    fn that_is_rectangle(&self, corners: Corners) -> String {
        match corners {
            Corners::One => "That is a unique rectangle with one corner open.",
            Corners::Side => "That is a unique rectangle with one side open.",
            Corners::Opposite => "That is a unique rectangle with two opposite corners open.",
            Corners::Three => "That is a unique rectangle with three corners open.",
            Corners::All => "That is a unique rectangle with all corners open.",
        }
        .to_owned()
    }

    fn two_each_without(&self, digits: DigitSet, count: usize) -> String {
        let (digits, open) = (self.all(digits), self.open());
        let there = self.cells(Cells::These(count));
        format!(
            "Without {digits} in {there}, each {open} cell has two digits left, and each house two places for each missing digit."
        )
    }

    fn all_could_change(&self) -> String {
        "Then all these digits could change places, but the puzzle has only one solution.".to_owned()
    }
}

/// "there", where so many cells were named.
fn there(count: usize) -> &'static str {
    if count == 1 { "there" } else { "in one of these" }
}
