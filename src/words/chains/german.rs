//! Chains in German.

use super::super::Naming;
use super::super::german::{Case, German, named, number};
use super::super::tongue::Cells;
use super::super::writing::{capital, joined};
use super::Chains;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;

impl German<'_> {
    /// "r1c1 oder r1c2".
    fn one_of_cells(&self, cells: CellSet, case: Case) -> String {
        match self.naming {
            Naming::Words if cells.len() > 1 => {
                format!("einer von {}", self.cells(Cells::Named(cells), Case::Dative))
            }
            _ => {
                let each = cells.iter().map(|cell| self.cells(Cells::Named(CellSet::single(cell)), case));
                joined(each, "oder")
            }
        }
    }

    fn in_one_of(&self, cells: CellSet) -> String {
        format!("in {}", self.one_of_cells(cells, Case::Dative))
    }
}

impl Chains for German<'_> {
    fn chain_at(&self, pattern: Pattern, ends: Cells) -> String {
        let (name, cells) = (named(pattern), self.cells(ends, Case::Dative));
        match (ends.count(), pattern) {
            (1, Pattern::AlmostLockedSets) => format!("Um {cells} liegen {name}."),
            (_, Pattern::AlmostLockedSets) => format!("Zwischen {cells} liegen {name}."),
            (_, Pattern::Trial) => format!("Bei {cells} beginnt {name}."),
            (1, _) => format!("Von {cells} führt {name} dorthin zurück."),
            _ => format!("Zwischen {cells} liegt {name}."),
        }
    }

    fn suppose_not(&self, digit: Digit, cells: Cells) -> String {
        let cells = self.cells(cells, Case::Dative);
        format!("Angenommen, in {cells} steht {} nicht.", self.the(digit))
    }

    fn suppose(&self, digit: Digit, cell: Cell) -> String {
        format!("Angenommen, {} steht {}.", self.in_one_of(CellSet::single(cell)), self.the(digit))
    }

    fn suppose_both(&self, one: (Digit, Cell), other: (Digit, Cell)) -> String {
        let place = |cell| self.in_one_of(CellSet::single(cell));
        let (first, second) = (self.the(one.0), self.the(other.0));
        format!("Angenommen, {} steht {first} und {} {second}.", place(one.1), place(other.1))
    }

    fn then_out(&self, digits: DigitSet, cell: Cell) -> String {
        format!("Dann steht {} nicht {}.", self.in_one_of(CellSet::single(cell)), self.the_or_any(digits))
    }

    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String {
        let each = if cases == 2 { "So oder so" } else { "In jedem Fall" };
        let place = self.in_one_of(CellSet::single(cell));
        format!("{each} steht {place} nicht {}.", self.the_or_any(digits))
    }

    fn try_each_digit(&self, cell: Cell) -> String {
        format!("Probiere jede Ziffer, die {} stehen kann.", self.in_one_of(CellSet::single(cell)))
    }

    fn try_each_place(&self, digit: Digit, house: &HouseName) -> String {
        let house = self.house(house, Case::Nominative);
        format!("Probiere jeden Platz, den {house} für {} hat.", self.the(digit))
    }

    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String {
        format!(
            "Fall {number}: {} steht {}.",
            capital(&self.in_one_of(CellSet::single(cell))),
            self.the(digit)
        )
    }

    fn all_come_to_nothing(&self, cases: usize) -> String {
        format!("Also ist keiner der {} Fälle möglich.", number(cases))
    }

    fn many_cases(&self, cases: usize) -> String {
        format!("Das ergibt {cases} Fälle, ineinander geschachtelt, und keiner davon ist möglich.")
    }

    fn then_cell(&self, cell: Cell, out: DigitSet, left: DigitSet) -> String {
        let (place, left) = (self.in_one_of(CellSet::single(cell)), self.the_or_any(left));
        if out.is_empty() {
            return format!("Dann steht {place} {left}.");
        }
        format!("Dann steht {place} nicht {}, sondern {left}.", self.the_or_any(out))
    }

    fn then_place(&self, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let (house, digit) = (self.house(house, Case::Nominative), self.the(digit));
        match cells {
            Cells::Named(cells) => format!("Dann hat {house} {digit} {}.", self.in_one_of(cells)),
            Cells::These(_) => format!("Dann hat {house} {digit} in einer davon."),
        }
    }

    fn then_share(&self, digits: DigitSet, cells: Cells) -> String {
        format!("Dann teilen sich {} die Ziffern {}.", self.cells(cells, Case::Nominative), self.all(digits))
    }

    fn nothing_left_for(&self, cell: Cell) -> String {
        let cell = self.one_of_cells(CellSet::single(cell), Case::Nominative);
        format!("Dann bleibt für {cell} nichts mehr übrig.")
    }

    fn no_place_left(&self, digit: Digit, house: &HouseName) -> String {
        format!("Dann bleibt in {} kein Platz für {}.", self.house(house, Case::Dative), self.the(digit))
    }

    fn too_few_left(&self, digits: DigitSet, cells: Cells) -> String {
        let cells = self.cells(cells, Case::Nominative);
        match (digits.is_empty(), digits.only()) {
            (true, _) => format!("Dann bleibt für {cells} nichts mehr übrig."),
            (_, Some(digit)) => format!("Dann bliebe für {cells} nur {}.", self.the(digit)),
            _ => format!("Dann blieben für {cells} nur {}.", self.all(digits)),
        }
    }

    fn no_room(&self, count: usize) -> String {
        format!("Dann lassen die {count} markierten Zellen und Bereiche keinen Platz.")
    }

    fn one_of_both(&self, one: (Digit, CellSet), other: (Digit, CellSet)) -> String {
        let digit = self.the(one.0);
        if one.0 == other.0 {
            return format!("Also steht {digit} {}.", self.in_one_of(one.1 | other.1));
        }
        let (second, others) = (self.the(other.0), self.in_one_of(other.1));
        format!("Also steht {digit} {}, oder {second} steht {others}.", self.in_one_of(one.1))
    }

    fn one_end(&self) -> String {
        "Also stimmt die Annahme nicht, oder das Letzte stimmt.".to_owned()
    }

    fn chain_closes(&self) -> String {
        "So kommt es zu seinem Anfang zurück: An jeder Fuge stimmt die eine oder die andere Seite.".to_owned()
    }
}
