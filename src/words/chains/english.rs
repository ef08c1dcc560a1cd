//! Chains in English.

use super::super::Naming;
use super::super::english::{English, named, number};
use super::super::tongue::Cells;
use super::super::writing::{capital, joined};
use super::{Chains, LinkName, Opening};
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

/// How a sentence begins that says what follows.
fn begins(opening: &Opening) -> String {
    let all = |links: &[LinkName]| joined(links.iter().map(LinkName::to_string), "and");
    match opening {
        Opening::Then => "Then".to_owned(),
        Opening::With(links) => format!("Together with {},", all(links)),
        Opening::Branch(branch) => format!("In branch {branch},"),
        Opening::Off(branch, link) => format!("In branch {branch}, which begins at {link},"),
        Opening::Meet(branch, links) => format!("In branch {branch}, where {} meet,", all(links)),
        Opening::End(links) if links.len() == 1 => format!("With {},", all(links)),
        Opening::End(links) => format!("Where {} meet,", all(links)),
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

    fn then_out(&self, opening: &Opening, digits: DigitSet, cell: Cell) -> String {
        let opening = begins(opening);
        format!("{opening} {} is not {}.", self.one_of_cells(CellSet::single(cell)), self.any(digits))
    }

    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String {
        let each = if cases == 2 { "Either way" } else { "In each case" };
        format!("{each} {} is not {}.", self.one_of_cells(CellSet::single(cell)), self.any(digits))
    }

    fn splits_cell(&self, count: usize, cell: Cell, then: bool) -> String {
        let (cell, count) = (self.one_of_cells(CellSet::single(cell)), number(count));
        if then {
            format!("Then {count} digits are left for {cell}.")
        } else {
            format!("{} can hold {count} digits.", capital(&cell))
        }
    }

    fn splits_place(&self, count: usize, digit: Digit, house: &HouseName, then: bool) -> String {
        let (house, digit, count) = (self.house(house), self.signs.of(digit), number(count));
        if then {
            format!("Then {house} has {count} places left for {digit}.")
        } else {
            format!("{} has {count} places for {digit}.", capital(&house))
        }
    }

    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String {
        let cell = self.one_of_cells(CellSet::single(cell));
        format!("Case {number}: {} is in {cell}.", self.signs.of(digit))
    }

    fn all_come_to_nothing(&self, cases: usize) -> String {
        let none = if cases == 2 { "neither" } else { "none" };
        format!("So {none} of the {} cases is possible.", number(cases))
    }

    fn many_cases(&self, cases: usize) -> String {
        format!("That makes {cases} cases, one within the other, and none of them is possible.")
    }

    fn then_cell(&self, opening: &Opening, cell: Cell, out: DigitSet, left: DigitSet) -> String {
        let opening = begins(opening);
        let (cell, left) = (self.one_of_cells(CellSet::single(cell)), self.any(left));
        if out.is_empty() {
            return format!("{opening} {cell} is {left}.");
        }
        format!("{opening} {cell} is not {}, but {left}.", self.any(out))
    }

    fn then_place(&self, opening: &Opening, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let opening = begins(opening);
        let (house, digit) = (self.house(house), self.signs.of(digit));
        match cells {
            Cells::Named(cells) => {
                format!("{opening} {house} has its {digit} in {}.", self.one_of_cells(cells))
            }
            Cells::These(_) => format!("{opening} {house} has its {digit} in one of {}.", self.cells(cells)),
        }
    }

    fn then_share(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String {
        let opening = begins(opening);
        format!("{opening} {} share {}.", self.cells(cells), self.all(digits))
    }

    fn nothing_left_for(&self, opening: &Opening, cell: Cell) -> String {
        let opening = begins(opening);
        format!("{opening} nothing is left for {}.", self.one_of_cells(CellSet::single(cell)))
    }

    fn no_place_left(&self, opening: &Opening, digit: Digit, house: &HouseName) -> String {
        let opening = begins(opening);
        format!("{opening} {} has no place left for {}.", self.house(house), self.signs.of(digit))
    }

    fn too_few_left(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String {
        let opening = begins(opening);
        if digits.is_empty() {
            return format!("{opening} nothing is left for {}.", self.cells(cells));
        }
        format!("{opening} only {} would be left for {}.", self.all(digits), self.cells(cells))
    }

    fn no_room(&self, count: usize) -> String {
        format!("Then the {count} cells and houses that are marked, taken together, leave no room for it.")
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
        "This comes full circle: at each joint one side or the other is true.".to_owned()
    }
}
