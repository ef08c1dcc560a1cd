//! In German.

use super::{Corners, Further};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::words::german::Case::{Dative, Nominative};
use crate::words::german::{German, named, number};
use crate::words::tongue::Cells;
use crate::words::writing::joined;

impl German<'_> {
    fn in_cell(&self, cell: Cell) -> String {
        format!("in {}", self.cells(Cells::Named(CellSet::single(cell)), Dative))
    }

    fn for_cell(&self, cell: Cell) -> String {
        format!("für {}", self.cells(Cells::Named(CellSet::single(cell)), Nominative))
    }
}

impl Further for German<'_> {
    fn digits_left(&self, digits: DigitSet, cell: Cell) -> String {
        let (cell, count) = (self.for_cell(cell), number(digits.len()));
        format!("Es bleiben {cell} nur {count} Ziffern: {}.", self.all(digits))
    }

    fn with_it(&self, digit: Digit, cell: Cell, left: Digit) -> String {
        format!("Steht dort {}, bleibt {} nur {}.", self.the(digit), self.for_cell(cell), self.the(left))
    }

    fn or_else(&self, digit: Digit) -> String {
        format!("Sonst steht dort {}.", self.the(digit))
    }

    fn both_hold_only(&self, digits: DigitSet) -> String {
        format!("In beide passen nur {}.", self.all(digits))
    }

    fn one_sees(&self, house: &HouseName, digit: Digit) -> String {
        let (house, it) = (self.house(house, Dative), self.pronoun(digit));
        format!("Wo auch immer {} in {house} steht, eine der beiden Zellen sieht {it}.", self.the(digit))
    }

    fn not_both(&self, digit: Digit, other: Digit) -> String {
        let (digit, other) = (self.the(digit), self.the(other));
        format!("Also enthalten nicht beide {digit}: Eine von ihnen enthält {other}.")
    }

    fn one_holds(&self, digit: Digit, cells: Cells) -> String {
        let (digit, count, last) = (self.the(digit), number(cells.count()), self.named_last(cells));
        match cells.count() {
            1 => format!("Also steht {digit} in {}.", self.cells(cells, Dative)),
            _ => format!("Also steht {digit} in einer dieser {count} Zellen{last}."),
        }
    }

    fn pattern_at(&self, pattern: Pattern, cells: Cells) -> String {
        format!("In {} steckt {}.", self.cells(cells, Dative), named(pattern))
    }

    fn suppose_none(&self, digit: Digit, cells: Cells) -> String {
        let (digit, last) = (self.the(digit), self.named_last(cells));
        match cells.count() {
            1 => format!("Angenommen, {digit} steht nicht in {}.", self.cells(cells, Dative)),
            _ => format!("Angenommen, {digit} steht in keiner dieser Zellen{last}."),
        }
    }

    fn suppose_it(&self, digit: Digit, cell: Cell) -> String {
        format!("Angenommen, {} steht {}.", self.the(digit), self.in_cell(cell))
    }

    fn then_in(&self, house: &HouseName, digit: Digit, cells: Cells) -> String {
        let (house, digit, last) = (self.house(house, Dative), self.the(digit), self.named_last(cells));
        match cells.count() {
            1 => format!("Dann liegt {digit} von {house} in {}.", self.cells(cells, Dative)),
            _ => format!("Dann liegt {digit} von {house} in einer dieser Zellen{last}."),
        }
    }

    fn then_left(&self, digit: Digit, cell: Cell) -> String {
        format!("Dann bleibt {} nur {}.", self.for_cell(cell), self.the(digit))
    }

    fn places_but_for(
        &self,
        digit: Digit,
        lines: &[&HouseName],
        covers: &[&HouseName],
        fins: Cells,
    ) -> String {
        let (digit, covers, cells) =
            (self.the(digit), self.houses(covers, Nominative), self.cells(fins, Dative));
        let lines = match fins {
            Cells::Named(_) => in_all_of(lines.len()),
            Cells::These(_) => self.houses(lines, Dative),
        };
        format!("Außer in {cells} passt {digit} in {lines} nur in {covers}.")
    }

    fn else_in(&self, digit: Digit, fins: usize, houses: &[&HouseName], places: &[&HouseName]) -> String {
        let (houses, places) = (self.houses(houses, Dative), self.houses(places, Dative));
        let there = if fins == 1 { "dort" } else { "in einer davon" };
        let (digit, it) = (self.the(digit), self.pronoun(digit));
        format!("Steht {digit} nicht {there}, liegt {it} in {houses} in {places}.")
    }

    fn no_other_in_sight(&self, digit: Digit, houses: &[&HouseName], cells: Cells) -> String {
        let (digit, houses) = (self.the(digit), self.houses_joined(houses, Dative, "oder"));
        let cells = self.cells(cells, Nominative);
        format!("Keine andere Zelle in {houses}, die {cells} sieht, enthält also {digit}.")
    }

    fn could_hold(&self, digits: DigitSet, count: usize) -> String {
        format!("In alle {} passen {}.", number(count), self.all(digits))
    }

    fn could_change_places(&self, digits: DigitSet) -> String {
        let digits = self.all(digits);
        format!(
            "Stünde dort nichts anderes, ließen sich {digits} vertauschen, doch das Rätsel hat nur eine Lösung."
        )
    }

    fn one_is_another(&self) -> String {
        "Also enthält eine der Zellen eine andere Ziffer.".to_owned()
    }

    fn another_only_in(&self, digits: DigitSet, cell: Cell) -> String {
        let cell = self.cells(Cells::Named(CellSet::single(cell)), Nominative);
        format!("Eine andere passt nur in {cell}: {}.", self.the_or_any(digits))
    }

    fn so_one_of(&self, digits: DigitSet, cell: Cell) -> String {
        let cell = self.cells(Cells::Named(CellSet::single(cell)), Nominative);
        format!("Also gehört {} in {cell}.", self.any(digits))
    }

    fn so_one_is_there(&self, all: &[(Cell, Digit)]) -> String {
        let each = all.iter().map(|&(cell, digit)| format!("{} {}", self.the(digit), self.in_cell(cell)));
        format!("Also steht {}.", joined(each, "oder"))
    }

    fn others_are(&self, digits: DigitSet, cells: Cells) -> String {
        let cells = self.cells(cells, Dative);
        match digits.only() {
            Some(digit) => format!("Die einzige andere Ziffer dort ist {}, in {cells}.", self.the(digit)),
            None => format!("Die anderen Ziffern dort sind {}, in {cells}.", self.all(digits)),
        }
    }

    fn so_in_these_and_one(&self, digits: DigitSet, cells: CellSet, house: &HouseName) -> String {
        let (digits, house) = (self.all(digits), self.house(house, Dative));
        let cells = self.cells(Cells::Named(cells), Dative);
        format!("Also liegen {digits} von {house} in {cells} und einer von jenen.")
    }

    fn then_only(&self, digits: DigitSet, count: usize) -> String {
        format!("Dann enthielten alle {} nur {}.", number(count), self.all(digits))
    }

    fn likewise_not(&self, digit: Digit, cells: CellSet) -> String {
        let (digit, cells) = (self.the(digit), self.cells(Cells::Named(cells), Dative));
        format!("Ebenso steht {digit} nicht in {cells}.")
    }

    fn that_is_rectangle(&self, corners: Corners) -> String {
        match corners {
            Corners::One => "Das ist ein eindeutiges Rechteck mit einer offenen Ecke.",
            Corners::Side => "Das ist ein eindeutiges Rechteck mit einer offenen Seite.",
            Corners::Opposite => "Das ist ein eindeutiges Rechteck mit zwei offenen Ecken über Kreuz.",
            Corners::Three => "Das ist ein eindeutiges Rechteck mit drei offenen Ecken.",
            Corners::All => "Das ist ein eindeutiges Rechteck mit lauter offenen Ecken.",
        }
        .to_owned()
    }

    fn two_each_without(&self, digits: DigitSet, count: usize) -> String {
        let (digits, open) = (self.the_or_all(digits), self.open());
        let there = self.cells(Cells::These(count), Dative);
        format!(
            "Ohne {digits} in {there} bleiben jeder {open}en Zelle zwei Ziffern und jedem Haus für jede fehlende Ziffer zwei Plätze."
        )
    }

    fn all_could_change(&self) -> String {
        "Dann ließen sich diese Ziffern alle vertauschen, doch das Rätsel hat nur eine Lösung.".to_owned()
    }
}

/// "beiden", "allen dreien".
fn in_all_of(count: usize) -> String {
    match count {
        2 => "beiden".to_owned(),
        3 => "allen dreien".to_owned(),
        4 => "allen vieren".to_owned(),
        _ => format!("allen {}", number(count)),
    }
}
