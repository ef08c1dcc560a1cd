//! Chains in English.

use super::super::Naming;
use super::super::english::{English, named, number};
use super::super::tongue::Cells;
use super::super::writing::{capital, joined};
use super::Chains;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;

impl English<'_> {
    /// "r1c1 or r1c2".
    fn one_of_cells(&self, cells: CellSet) -> String {
        match self.naming {
            Naming::Words if cells.len() > 1 => format!("one of {}", self.cells(Cells::Named(cells))),
            _ => joined(cells.iter().map(|cell| self.cells(Cells::Named(CellSet::single(cell)))), "or"),
        }
    }
}

impl Chains for English<'_> {
    fn chain_at(&self, pattern: Pattern, ends: Cells) -> String {
        let (name, cells) = (capital(&named(pattern)), self.cells(ends));
        match (ends.count(), pattern) {
            (1, Pattern::AlmostLockedSets) => format!("{name} begin and end at {cells}."),
            (_, Pattern::AlmostLockedSets) => format!("{name} join {cells}."),
            (_, Pattern::Trial) => format!("{name} begins at {cells}."),
            (1, _) => format!("{name} begins and ends at {cells}."),
            _ => format!("{name} joins {cells}."),
        }
    }

    fn suppose_not(&self, digit: Digit, cells: Cells) -> String {
        let digit = self.signs.of(digit);
        match cells {
            Cells::Named(cells) if cells.len() == 1 || self.naming != Naming::Words => {
                format!("Suppose {digit} is not in {}.", self.one_of_cells(cells))
            }
            _ => format!("Suppose {digit} is in none of {}.", self.cells(cells)),
        }
    }

    fn suppose(&self, digit: Digit, cell: Cell) -> String {
        format!("Suppose {} is in {}.", self.signs.of(digit), self.one_of_cells(CellSet::single(cell)))
    }

    fn suppose_both(&self, one: (Digit, Cell), other: (Digit, Cell)) -> String {
        let (first, second) = (self.signs.of(one.0), self.signs.of(other.0));
        let cell = |cell| self.one_of_cells(CellSet::single(cell));
        format!("Suppose {first} is in {} and {second} in {}.", cell(one.1), cell(other.1))
    }

    fn then_out(&self, digits: DigitSet, cell: Cell) -> String {
        format!("Then {} is not {}.", self.one_of_cells(CellSet::single(cell)), self.any(digits))
    }

    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String {
        let each = if cases == 2 { "Either way" } else { "In each case" };
        format!("{each} {} is not {}.", self.one_of_cells(CellSet::single(cell)), self.any(digits))
    }

    fn try_each_digit(&self, cell: Cell) -> String {
        format!("Try each digit that {} can hold.", self.one_of_cells(CellSet::single(cell)))
    }

    fn try_each_place(&self, digit: Digit, house: &HouseName) -> String {
        format!("Try each place that {} has for {}.", self.house(house), self.signs.of(digit))
    }

    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String {
        let cell = self.one_of_cells(CellSet::single(cell));
        format!("Case {number}: {} is in {cell}.", self.signs.of(digit))
    }

    fn all_come_to_nothing(&self, cases: usize) -> String {
        format!("So none of the {} cases is possible.", number(cases))
    }

    fn many_cases(&self, cases: usize) -> String {
        format!("That makes {cases} cases, one within the other, and none of them is possible.")
    }

    fn then_cell(&self, cell: Cell, out: DigitSet, left: DigitSet) -> String {
        let (cell, left) = (self.one_of_cells(CellSet::single(cell)), self.any(left));
        if out.is_empty() {
            return format!("Then {cell} is {left}.");
        }
        format!("Then {cell} is not {}, but {left}.", self.any(out))
    }

    fn then_place(&self, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let (house, digit) = (self.house(house), self.signs.of(digit));
        match cells {
            Cells::Named(cells) => format!("Then {house} has its {digit} in {}.", self.one_of_cells(cells)),
            Cells::These(_) => format!("Then {house} has its {digit} in one of {}.", self.cells(cells)),
        }
    }

    fn then_share(&self, digits: DigitSet, cells: Cells) -> String {
        format!("Then {} share {}.", self.cells(cells), self.all(digits))
    }

    fn nothing_left_for(&self, cell: Cell) -> String {
        format!("Then nothing is left for {}.", self.one_of_cells(CellSet::single(cell)))
    }

    fn no_place_left(&self, digit: Digit, house: &HouseName) -> String {
        format!("Then {} has no place left for {}.", self.house(house), self.signs.of(digit))
    }

    fn too_few_left(&self, digits: DigitSet, cells: Cells) -> String {
        if digits.is_empty() {
            return format!("Then nothing is left for {}.", self.cells(cells));
        }
        format!("Then only {} would be left for {}.", self.all(digits), self.cells(cells))
    }

    fn no_room(&self, count: usize) -> String {
        format!("Then the {count} cells and houses that are marked leave no room.")
    }

    fn one_of_both(&self, one: (Digit, CellSet), other: (Digit, CellSet)) -> String {
        let (digit, cells) = (self.signs.of(one.0), self.one_of_cells(one.1));
        if one.0 == other.0 {
            return format!("So {digit} is in {}.", self.one_of_cells(one.1 | other.1));
        }
        let (second, others) = (self.signs.of(other.0), self.one_of_cells(other.1));
        format!("So {digit} is in {cells}, or {second} is in {others}.")
    }

    fn one_end(&self) -> String {
        "So what was supposed is wrong, or what came last is true.".to_owned()
    }

    fn chain_closes(&self) -> String {
        "This comes back to its beginning: at each joint one side or the other is true.".to_owned()
    }
}
