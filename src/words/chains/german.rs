//! Chains in German.

use super::super::Naming;
use super::super::german::{Case, German, named, number};
use super::super::tongue::Cells;
use super::super::writing::{capital, joined};
use super::{Chains, LinkName, Opening};
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

    /// "nicht die 4", "weder 4 noch 6".
    fn none_of(&self, digits: DigitSet) -> String {
        match digits.only() {
            Some(digit) => format!("nicht {}", self.the(digit)),
            None => format!("weder {}", self.signs.each(digits).collect::<Vec<_>>().join(" noch ")),
        }
    }

    fn in_one_of(&self, cells: CellSet) -> String {
        format!("in {}", self.one_of_cells(cells, Case::Dative))
    }
}

/// How a sentence begins that says what follows; its verb comes next.
fn begins(opening: &Opening) -> String {
    let all = |links: &[LinkName]| joined(links.iter().map(LinkName::to_string), "und");
    match opening {
        Opening::Then => "Dann".to_owned(),
        Opening::With(links) => format!("Zusammen mit {}", all(links)),
        Opening::Branch(branch) => format!("In Zweig {branch}"),
        Opening::Off(branch, link) => format!("In Zweig {branch}, der bei {link} beginnt,"),
        Opening::Meet(branch, links) => format!("In Zweig {branch}, wo {} zusammentreffen,", all(links)),
        Opening::End(links) if links.len() == 1 => format!("Mit {}", all(links)),
        Opening::End(links) => format!("Wo {} zusammentreffen,", all(links)),
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

    fn then_out(&self, opening: &Opening, digits: DigitSet, cell: Cell) -> String {
        let opening = begins(opening);
        format!("{opening} steht {} {}.", self.in_one_of(CellSet::single(cell)), self.none_of(digits))
    }

    fn out_in_each(&self, cases: usize, digits: DigitSet, cell: Cell) -> String {
        let each = if cases == 2 { "So oder so" } else { "In jedem Fall" };
        let place = self.in_one_of(CellSet::single(cell));
        format!("{each} steht {place} {}.", self.none_of(digits))
    }

    fn splits_cell(&self, count: usize, cell: Cell, then: bool) -> String {
        let (cell, count) = (self.one_of_cells(CellSet::single(cell), Case::Nominative), number(count));
        if then {
            format!("Dann bleiben für {cell} {count} Ziffern.")
        } else {
            format!("Für {cell} gibt es {count} Ziffern.")
        }
    }

    fn splits_place(&self, count: usize, digit: Digit, house: &HouseName, then: bool) -> String {
        let (digit, count) = (self.the(digit), number(count));
        if then {
            format!("Dann bleiben in {} für {digit} {count} Plätze.", self.house(house, Case::Dative))
        } else {
            format!("In {} gibt es für {digit} {count} Plätze.", self.house(house, Case::Dative))
        }
    }

    fn in_case(&self, number: &str, digit: Digit, cell: Cell) -> String {
        format!(
            "Fall {number}: {} steht {}.",
            capital(&self.in_one_of(CellSet::single(cell))),
            self.the(digit)
        )
    }

    fn all_come_to_nothing(&self, cases: usize) -> String {
        let all = if cases == 2 { "beiden".to_owned() } else { number(cases) };
        format!("Also ist keiner der {all} Fälle möglich.")
    }

    fn many_cases(&self, cases: usize) -> String {
        format!("Das ergibt {cases} Fälle, ineinander geschachtelt, und keiner davon ist möglich.")
    }

    fn then_cell(&self, opening: &Opening, cell: Cell, out: DigitSet, left: DigitSet) -> String {
        let opening = begins(opening);
        let (place, left) = (self.in_one_of(CellSet::single(cell)), self.the_or_any(left));
        if out.is_empty() {
            return format!("{opening} steht {place} {left}.");
        }
        format!("{opening} steht {place} {}, sondern {left}.", self.none_of(out))
    }

    fn then_place(&self, opening: &Opening, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let opening = begins(opening);
        let (house, digit) = (self.house(house, Case::Nominative), self.the(digit));
        match cells {
            Cells::Named(cells) => format!("{opening} hat {house} {digit} {}.", self.in_one_of(cells)),
            Cells::These(_) => format!("{opening} hat {house} {digit} in einer davon."),
        }
    }

    fn then_share(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String {
        let opening = begins(opening);
        format!(
            "{opening} teilen sich {} die Ziffern {}.",
            self.cells(cells, Case::Nominative),
            self.all(digits)
        )
    }

    fn nothing_left_for(&self, opening: &Opening, cell: Cell) -> String {
        let opening = begins(opening);
        let cell = self.one_of_cells(CellSet::single(cell), Case::Nominative);
        format!("{opening} bleibt für {cell} nichts mehr übrig.")
    }

    fn no_place_left(&self, opening: &Opening, digit: Digit, house: &HouseName) -> String {
        let opening = begins(opening);
        format!("{opening} bleibt in {} kein Platz für {}.", self.house(house, Case::Dative), self.the(digit))
    }

    fn too_few_left(&self, opening: &Opening, digits: DigitSet, cells: Cells) -> String {
        let opening = begins(opening);
        let cells = self.cells(cells, Case::Nominative);
        match (digits.is_empty(), digits.only()) {
            (true, _) => format!("{opening} bleibt für {cells} nichts mehr übrig."),
            (_, Some(digit)) => format!("{opening} bliebe für {cells} nur {}.", self.the(digit)),
            _ => format!("{opening} blieben für {cells} nur {}.", self.all(digits)),
        }
    }

    fn no_room(&self, count: usize) -> String {
        format!("Dann lassen die {count} markierten Zellen und Bereiche zusammen keinen Platz dafür.")
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
        "So schließt sich der Kreis: An jeder Fuge stimmt die eine oder die andere Seite.".to_owned()
    }
}
