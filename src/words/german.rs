//! German.

use super::tongue::{Cells, Told, Tongue};
use super::writing::{Group, braced, by_letter, capital, groups, joined, letter};
use super::{Naming, Register, Signs};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::step::Method;

pub(super) struct German<'a> {
    pub(super) register: Register,
    pub(super) naming: Naming,
    pub(super) signs: Signs<'a>,
}

/// In which form a noun stands. Cells and houses are alike in the nominative and the accusative.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Case {
    Nominative,
    Genitive,
    Dative,
}

use Case::{Dative, Genitive, Nominative};

impl German<'_> {
    /// "4, 6 und 9".
    pub(super) fn all(&self, digits: DigitSet) -> String {
        joined(self.signs.each(digits), "und")
    }

    /// "4, 6 oder 9".
    pub(super) fn any(&self, digits: DigitSet) -> String {
        joined(self.signs.each(digits), "oder")
    }

    /// The digit with its article, nominative or accusative: numbers are feminine, letters neuter. What a picture is of
    /// stands alone.
    pub(super) fn the(&self, digit: Digit) -> String {
        let sign = self.signs.of(digit);
        match (sign.chars().count(), is_word(&sign)) {
            (1, true) => format!("das {sign}"),
            (_, true) => sign,
            (_, false) => format!("die {sign}"),
        }
    }

    pub(super) fn pronoun(&self, digit: Digit) -> &'static str {
        if is_word(&self.signs.of(digit)) { "es" } else { "sie" }
    }

    pub(super) fn the_or_all(&self, digits: DigitSet) -> String {
        digits.only().map_or_else(|| self.all(digits), |digit| self.the(digit))
    }

    pub(super) fn the_or_any(&self, digits: DigitSet) -> String {
        digits.only().map_or_else(|| self.any(digits), |digit| self.the(digit))
    }

    /// "offen", or a plain word for it: the stem, before its ending.
    pub(super) fn open(&self) -> &'static str {
        match self.register {
            Register::Full => "offen",
            Register::Plain => "frei",
        }
    }

    pub(super) fn house(&self, house: &HouseName, case: Case) -> String {
        self.houses(&[house], case)
    }

    /// "den Zeilen 1 und 2 und Spalte 9".
    pub(super) fn houses(&self, houses: &[&HouseName], case: Case) -> String {
        self.houses_joined(houses, case, "und")
    }

    pub(super) fn houses_joined(&self, houses: &[&HouseName], case: Case, word: &str) -> String {
        let group = |group: &[&HouseName]| {
            let kind = kind(group[0], group.len(), case);
            format!("{kind} {}", joined(group.iter().map(|house| self.number(house)), word))
        };
        let same = |a: &&HouseName, b: &&HouseName| kind(a, 1, Nominative) == kind(b, 1, Nominative);
        joined(houses.chunk_by(same).map(group), word)
    }

    /// The number or the name of a house.
    fn number(&self, house: &HouseName) -> String {
        match house {
            HouseName::Row(number) if self.naming == Naming::Letters => letter(number - 1).to_string(),
            HouseName::Row(number)
            | HouseName::Column(number)
            | HouseName::Box(number)
            | HouseName::Diagonal(number) => number.to_string(),
            HouseName::Region(letter) => letter.to_string(),
            HouseName::Named(name) => name.to_string(),
        }
    }

    /// "In Zeile 4", or "Dort", at the beginning of a sentence.
    fn within(&self, house: Option<&HouseName>) -> String {
        house.map_or("Dort".to_owned(), |house| format!("In {}", self.house(house, Dative)))
    }

    /// Cells by their names alone.
    fn names(&self, cells: CellSet) -> String {
        self.names_joined(cells, "und")
    }

    /// The same with this word before the last, where each cell has a name of its own.
    fn names_joined(&self, cells: CellSet, word: &str) -> String {
        match self.naming {
            Naming::Short => joined(cells.iter().map(|cell| cell.to_string()), word),
            Naming::Letters => joined(cells.iter().map(by_letter), word),
            Naming::Words => in_words(cells),
            Naming::Braces => braced(cells),
        }
    }

    /// Houses, and cells beside them, by their names alone.
    fn places(&self, houses: &[&HouseName], cells: CellSet) -> String {
        let parts = [self.houses(houses, Nominative), self.names(cells)];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
    }

    fn name(&self, cell: Cell) -> String {
        self.names(CellSet::single(cell))
    }

    /// The cells, within a sentence.
    pub(super) fn cells(&self, cells: Cells, case: Case) -> String {
        let one = cells.count() == 1;
        match cells {
            Cells::Named(cells) if self.naming != Naming::Words => self.names(cells),
            Cells::Named(cells) => {
                let the = match (one, case) {
                    (true, Nominative) => "die Zelle",
                    (true, _) => "der Zelle",
                    (false, Nominative) => "die Zellen",
                    (false, Genitive) => "der Zellen",
                    (false, Dative) => "den Zellen",
                };
                format!("{the} in {}", self.names(cells))
            }
            Cells::These(count) => match (one, case) {
                (true, Nominative) => "diese Zelle".to_owned(),
                (true, _) => "dieser Zelle".to_owned(),
                (false, Nominative) => format!("diese {} Zellen", number(count)),
                (false, Genitive) => format!("dieser {} Zellen", number(count)),
                (false, Dative) => format!("diesen {} Zellen", number(count)),
            },
        }
    }

    /// The names of cells that the sentence has counted, behind a colon; nothing if they were named before.
    pub(super) fn named_last(&self, cells: Cells) -> String {
        match cells {
            Cells::Named(cells) => format!(": {}", self.names(cells)),
            Cells::These(_) => String::new(),
        }
    }

    /// What is so, as a main clause with a capital.
    fn clause(&self, told: &Told) -> String {
        match told {
            Told::Share { digits, cells } => {
                format!("Die Ziffern {} teilen sich {}", self.all(*digits), self.cells(*cells, Nominative))
            }
            Told::Each { digits, cells } => {
                format!("In jede dieser Zellen gehört {}{}", self.any(*digits), self.named_last(*cells))
            }
            Told::In { digits, houses, places } => {
                let (houses, places) = (self.houses(houses, Dative), self.houses(places, Dative));
                match digits.only() {
                    Some(digit) => format!("In {houses} liegt {} in {places}", self.the(digit)),
                    None => format!("In {houses} liegen {} in {places}", self.all(*digits)),
                }
            }
            Told::InCells { digits, house, cells } => {
                let (house, last) = (self.house(house, Dative), self.named_last(*cells));
                match digits.only() {
                    Some(digit) => {
                        format!("In {house} liegt {} in einer dieser Zellen{last}", self.the(digit))
                    }
                    None => format!("In {house} liegen {} in diesen Zellen{last}", self.all(*digits)),
                }
            }
            Told::Not { digits, cells } => {
                let cells = self.cells(*cells, Nominative);
                match digits.only() {
                    Some(digit) => format!("In {cells} passt {} nicht", self.the(digit)),
                    None => format!("In {cells} passen {} nicht", self.all(*digits)),
                }
            }
            Told::Stands { digit, cells } => {
                format!("In {} steht {}", self.cells(*cells, Dative), self.the(*digit))
            }
        }
    }
}

impl Tongue for German<'_> {
    fn look_at(&self, houses: &[&HouseName]) -> String {
        format!("Sieh dir {} an.", self.houses(houses, Nominative))
    }

    fn look_for(&self, digits: DigitSet, house: &HouseName) -> String {
        let house = self.house(house, Dative);
        match digits.only() {
            Some(digit) => format!("Suche in {house} den Platz für {}.", self.the(digit)),
            None => format!("Suche in {house} die Plätze für {}.", self.all(digits)),
        }
    }

    fn look_at_cells(&self, cells: CellSet, also: bool) -> String {
        let cells = self.cells(Cells::Named(cells), Nominative);
        if also { format!("Sieh dir auch {cells} an.") } else { format!("Sieh dir {cells} an.") }
    }

    fn look_at_meeting(&self, first: &HouseName, second: &HouseName) -> String {
        let (first, second) = (self.house(first, Nominative), self.house(second, Nominative));
        format!("Sieh dir an, wo sich {first} und {second} kreuzen.")
    }

    fn look_at_missing(&self, house: &HouseName) -> String {
        format!("Sieh nach, was in {} noch fehlt.", self.house(house, Dative))
    }

    fn look_at_remembered(&self, cells: Cells) -> String {
        format!("Denk daran, was du dir zu {} gemerkt hast.", self.cells(cells, Dative))
    }

    fn pattern_in(&self, pattern: Pattern, houses: &[&HouseName]) -> String {
        let houses = self.houses(houses, Dative);
        match pattern {
            Pattern::LockedCandidates => format!("In {houses} stecken {}.", named(pattern)),
            _ => format!("In {houses} steckt {}.", named(pattern)),
        }
    }

    fn locked_in(&self, digits: DigitSet, house: &HouseName, place: &HouseName) -> String {
        let (digits, house, place) =
            (self.the_or_all(digits), self.house(house, Dative), self.house(place, Dative));
        format!("Gebundene Kandidaten halten {digits} von {house} in {place}.")
    }

    fn that_is(&self, pattern: Pattern) -> String {
        match pattern {
            Pattern::LockedCandidates | Pattern::AlmostLockedSets => format!("Das sind {}.", named(pattern)),
            _ => format!("Das ist {}.", named(pattern)),
        }
    }

    fn one_open(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String {
        let (within, open) = (self.within(house), self.open());
        format!(
            "{within} fehlt nur noch {}, und nur eine Zelle ist {open}: {}.",
            self.the(digit),
            self.name(cell)
        )
    }

    fn one_place(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String {
        format!("{} bleibt für {} nur ein Platz: {}.", self.within(house), self.the(digit), self.name(cell))
    }

    fn one_digit(&self, digit: Digit, cell: Option<Cell>) -> String {
        match cell.map(|cell| self.cells(Cells::Named(CellSet::single(cell)), Nominative)) {
            Some(cell) => format!("Für {cell} bleibt nur eine Ziffer: {}.", self.the(digit)),
            None => format!("Dort bleibt nur eine Ziffer: {}.", self.the(digit)),
        }
    }

    fn hold(&self, houses: &[&HouseName], digits: DigitSet, also: bool) -> String {
        let (count, houses) = (houses.len(), capital(&self.houses(houses, Nominative)));
        let named = self.the_or_all(digits);
        match (count, digits.len(), also) {
            (1, _, false) => format!("{houses} enthält {named}."),
            (1, _, true) => format!("{houses} enthält auch {named}."),
            (_, 1, false) => format!("{houses} enthalten {named}."),
            (_, _, false) => format!("{houses} enthalten jeweils {named}."),
            (_, _, true) => format!("{houses} enthalten auch {named}."),
        }
    }

    fn has_and_lacks(&self, house: &HouseName, has: DigitSet, lacks: DigitSet) -> String {
        let house = self.house(house, Nominative);
        format!("Davon hat {house} schon {}, aber noch nicht {}.", self.the_or_all(has), self.all(lacks))
    }

    fn lacks_all(&self, house: &HouseName, count: usize) -> String {
        format!("In {} fehlen {}.", self.house(house, Dative), all_of(count))
    }

    fn open_outside(&self, lines: &[&HouseName], cells: Cells) -> String {
        let (lines, open, last) = (self.houses(lines, Genitive), self.open(), self.named_last(cells));
        let number = number(cells.count());
        match cells {
            Cells::Named(_) => format!("Dort sind außerhalb {lines} {number} Zellen {open}{last}."),
            Cells::These(_) => format!("Dort sind außerhalb {lines} keine anderen Zellen {open}."),
        }
    }

    fn misses(&self, digits: DigitSet, also: bool) -> String {
        match (digits.only(), also) {
            (Some(digit), false) => format!("Dort fehlt {}.", self.the(digit)),
            (Some(digit), true) => format!("Dort fehlt auch {}.", self.the(digit)),
            (None, false) => format!("Dort fehlen {}.", self.all(digits)),
            (None, true) => format!("Dort fehlen auch {}.", self.all(digits)),
        }
    }

    fn only_digits(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String {
        let (within, these, last) = (self.within(house), these(cells), self.named_last(cells));
        format!("{within} passen in {these} nur {}{last}.", self.all(digits))
    }

    fn only_cells(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String {
        let (within, these, last) = (self.within(house), these(cells), self.named_last(cells));
        format!("{within} bleiben für {} nur {these}{last}.", self.the_or_all(digits))
    }

    fn places_within(
        &self,
        digit: Digit,
        first: Option<&HouseName>,
        second: &HouseName,
        cells: Cells,
    ) -> String {
        let (within, digit) = (self.within(first), self.the(digit));
        match cells {
            Cells::Named(cells) => {
                let second = self.house(second, Nominative);
                format!("{within} passt {digit} nur in {second}: {}.", self.names(cells))
            }
            Cells::These(_) => {
                let (second, cells) = (self.house(second, Dative), self.cells(cells, Nominative));
                format!("{within} passt {digit} nur in {cells} von {second}.")
            }
        }
    }

    fn places_in_lines(&self, digit: Digit, count: usize, lines: &[&HouseName]) -> String {
        let (lines, digit) = (self.houses(lines, Nominative), self.the(digit));
        match count {
            2 => format!("In beiden passt {digit} nur in {lines}."),
            _ => format!("In allen {} passt {digit} nur in {lines}.", number(count)),
        }
    }

    fn full_in(&self, line: &HouseName, houses: &[&HouseName]) -> String {
        let (line, houses) = (capital(&self.house(line, Nominative)), self.houses(houses, Dative));
        format!("{line} hat in {houses} keine {}e Zelle.", self.open())
    }

    fn put(&self, digit: Digit, cells: Cells, pattern: Pattern, house: Option<&HouseName>) -> String {
        let digit = capital(self.the(digit).as_str());
        let cells = self.cells(cells, Nominative);
        match (pattern, self.register, house.map(|house| self.house(house, Dative))) {
            (Pattern::LastOpenCell, _, Some(house)) => {
                format!("{digit} gehört in {cells}, die letzte {}e Zelle von {house}.", self.open())
            }
            (Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle, Register::Full, Some(house)) => {
                format!("{digit} gehört in {cells}: ein versteckter Einer in {house}.")
            }
            (Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle, Register::Plain, Some(house)) => {
                format!("{digit} gehört in {cells}: In {house} gibt es keinen anderen Platz dafür.")
            }
            (Pattern::NakedSingle, Register::Full, _) => {
                format!("{digit} gehört in {cells}: ein nackter Einer.")
            }
            (Pattern::NakedSingle, Register::Plain, _) => {
                format!("{digit} gehört in {cells}: Dort passt keine andere Ziffer hinein.")
            }
            _ => format!("{digit} gehört in {cells}."),
        }
    }

    fn so_put_there(&self, digit: Digit, pattern: Pattern) -> String {
        match (self.register, pattern) {
            (Register::Full, Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle | Pattern::NakedSingle) => {
                format!("Das ist {}: {} gehört dorthin.", named(pattern), capital(&self.the(digit)))
            }
            _ => format!("Also gehört {} dorthin.", self.the(digit)),
        }
    }

    fn so_put(&self, digit: Digit, cells: Cells) -> String {
        format!("Also gehört {} in {}.", self.the(digit), self.cells(cells, Nominative))
    }

    fn fact(&self, told: &Told) -> String {
        format!("{}.", self.clause(told))
    }

    fn so_have_in(&self, digits: DigitSet, houses: &[&HouseName], places: &[&HouseName]) -> String {
        let (houses, places) = (self.houses(houses, Dative), self.houses(places, Dative));
        match digits.only() {
            Some(digit) => format!("In {houses} liegt {} also in {places}.", self.the(digit)),
            None => format!("In {houses} liegen {} also in {places}.", self.all(digits)),
        }
    }

    fn remember(&self, told: &Told) -> String {
        format!("Merke dir: {}.", self.clause(told))
    }

    fn remember_this(&self) -> String {
        "Merke dir das.".to_owned()
    }

    fn remembered(&self, told: &Told) -> String {
        format!("Du hast dir gemerkt: {}.", self.clause(told))
    }

    fn leaves_line(&self, line: &HouseName, house: &HouseName, digits: DigitSet) -> String {
        let (line, house) = (self.house(line, Nominative), self.house(house, Dative));
        format!("Damit bleibt {line} für {} von {house}.", self.the_or_all(digits))
    }

    fn no_other_cell(&self, houses: &[&HouseName], digits: DigitSet) -> String {
        let houses = self.houses_joined(houses, Dative, "oder");
        format!("Keine andere Zelle von {houses} enthält also {}.", self.the_or_any(digits))
    }

    fn no_cell_in_sight(&self, digits: DigitSet, count: usize) -> String {
        format!("Keine Zelle, die {} sieht, enthält also {}.", all_of(count), self.the_or_any(digits))
    }

    fn nothing_else(&self, cells: Cells) -> String {
        let cells = self.cells(cells, Dative);
        match self.register {
            Register::Full => {
                format!("Sonst passt dort nichts hinein: Streiche alle anderen Kandidaten aus {cells}.")
            }
            Register::Plain => {
                format!("Sonst passt dort nichts hinein: Streiche alle anderen Ziffern aus {cells}.")
            }
        }
    }

    fn strike(&self, digits: DigitSet, cells: Cells, also: bool) -> String {
        let (digits, cells) = (self.the_or_all(digits), self.cells(cells, Dative));
        if also {
            format!("Streiche {digits} auch aus {cells}.")
        } else {
            format!("Streiche {digits} aus {cells}.")
        }
    }

    fn out(&self, digit: Digit) -> String {
        format!("Hier steht {} nicht.", self.the(digit))
    }

    fn out_by_digit(&self, digit: Digit, house: &HouseName, at: Cell) -> String {
        let (house, at) =
            (self.house(house, Nominative), self.cells(Cells::Named(CellSet::single(at)), Dative));
        format!(
            "Hier steht {} nicht: {} hat {} in {at}.",
            self.the(digit),
            capital(&house),
            self.pronoun(digit)
        )
    }

    fn out_earlier(&self, digit: Digit) -> String {
        let (digit, it) = (self.the(digit), self.pronoun(digit));
        format!("Hier steht {digit} nicht: Die Notizen oder ein früherer Schritt schließen {it} aus.")
    }

    fn stuck(&self, method: Method) -> String {
        match (method, self.register) {
            (Method::Marks, _) => "Kein Muster der Leiter findet sich, das von hier aus weiterführt.",
            (Method::Scanning, Register::Full) => "Ohne Notizen geht es von hier aus nicht weiter.",
            (Method::Scanning, Register::Plain) => {
                "Mit Hinsehen allein geht es nicht weiter: Schreib die möglichen Ziffern in die Zellen."
            }
        }
        .to_owned()
    }

    fn house_name(&self, house: &HouseName) -> String {
        self.house(house, Nominative)
    }

    fn cell_names(&self, cells: CellSet) -> String {
        self.names(cells)
    }

    fn blank(&self) -> &'static str {
        "leer"
    }

    fn left_out(&self) -> &'static str {
        "nicht gezeigt"
    }

    fn one_of(&self, digits: &[String]) -> String {
        format!("notiert {}", digits.join(" oder "))
    }

    fn perhaps(&self, digits: &[String]) -> String {
        format!("vielleicht {}", digits.join(" oder "))
    }

    fn known(&self, digit: &str) -> String {
        format!("{digit} bekannt")
    }

    fn house_cells(&self, house: &HouseName, cells: CellSet) -> String {
        format!("{}: {}.", capital(&self.house(house, Nominative)), self.names(cells))
    }

    fn diagonals(&self) -> &'static str {
        "Auch auf jeder der beiden Diagonalen steht jede Ziffer einmal."
    }

    fn given(&self, cells: CellSet) -> String {
        format!("Vorgegeben: {}.", self.names(cells))
    }

    fn entered(&self, cells: CellSet) -> String {
        format!("Eingetragen: {}.", self.names(cells))
    }

    fn shaded(&self, houses: &[&HouseName], cells: CellSet) -> String {
        format!("Getönt: {}.", self.places(houses, cells))
    }

    fn ringed(&self, houses: &[&HouseName], cells: CellSet) -> String {
        format!("Eingekreist: {}.", self.places(houses, cells))
    }

    fn outlined(&self, houses: &[&HouseName]) -> String {
        format!("Umrandet: {}.", self.houses(houses, Nominative))
    }

    fn link_supposed(&self, name: &str, is_so: bool, digits: &[String], cells: CellSet) -> String {
        let not = if is_so { "" } else { "nicht " };
        format!(
            "Glied {name}, angenommen: {not}{} in {}.",
            joined(digits.iter().cloned(), "und"),
            self.names(cells)
        )
    }

    fn link(&self, name: &str, from: &[String], digits: &[String], cells: CellSet) -> String {
        let from = joined(from.iter().cloned(), "und");
        let word = if digits.len() == cells.len() { "und" } else { "oder" };
        let (digits, cells) = (joined(digits.iter().cloned(), word), self.names_joined(cells, word));
        format!("Glied {name}, aus {from}: {digits} in {cells}.")
    }

    fn link_end(&self, name: &str, from: &[String], out: &[(Vec<String>, CellSet)]) -> String {
        let from = joined(from.iter().cloned(), "und");
        let part = |(digits, cells): &(Vec<String>, CellSet)| {
            format!("keine {} in {}", joined(digits.iter().cloned(), "oder"), self.names(*cells))
        };
        format!("Ende {name}, aus {from}: {}.", out.iter().map(part).collect::<Vec<_>>().join("; "))
    }

    fn closes(&self, digit: &str, at: Cell, cells: CellSet) -> String {
        format!("Die {digit} in {} sperrt {}.", self.name(at), self.names(cells))
    }

    fn closed(&self, digits: &[String], cells: CellSet) -> String {
        format!("Keine {} in {}.", joined(digits.iter().cloned(), "oder"), self.names(cells))
    }

    fn number_of(&self, number: u32) -> String {
        format!("Nr. {number}")
    }

    fn answer(&self) -> &'static str {
        "Lösung"
    }

    fn sheet(&self) -> &'static str {
        "Zwischenstand"
    }

    fn errata(&self) -> &'static str {
        "Errata"
    }

    fn hints(&self) -> &'static str {
        "Hinweise"
    }

    fn walk(&self) -> &'static str {
        "Lösungsweg"
    }

    fn finish(&self, names: &[String]) -> String {
        if names.is_empty() {
            return "Von hier an braucht es nichts anderes als bisher.".to_owned();
        }
        format!("Von hier an genügt dies: {}.", self.list(names))
    }

    fn step(&self, n: usize) -> String {
        format!("Schritt {n}")
    }

    fn list(&self, parts: &[String]) -> String {
        joined(parts.iter().cloned(), "und")
    }

    fn reference_not(&self, cells: &str, digits: &str) -> String {
        format!("{cells} nicht {digits}")
    }

    fn reference_within(&self, digits: &str, houses: &str, place: &str, elsewhere: bool) -> String {
        let not = if elsewhere { "nicht " } else { "" };
        format!("{digits} von {houses} {not}in {place}")
    }

    fn reference_misses(&self, houses: &str, digits: &str) -> String {
        format!("{houses} ohne {digits}")
    }

    fn reference_open(&self, cells: &str) -> String {
        format!("{cells} offen")
    }
}

/// What so many houses of this kind are called, several with their article.
fn kind(house: &HouseName, count: usize, case: Case) -> &'static str {
    let forms = match house {
        HouseName::Row(_) => ["Zeile", "der Zeile", "die Zeilen", "den Zeilen", "der Zeilen"],
        HouseName::Column(_) => ["Spalte", "der Spalte", "die Spalten", "den Spalten", "der Spalten"],
        HouseName::Box(_) => ["Block", "des Blocks", "die Blöcke", "den Blöcken", "der Blöcke"],
        HouseName::Region(_) => ["Region", "der Region", "die Regionen", "den Regionen", "der Regionen"],
        HouseName::Diagonal(_) => {
            ["Diagonale", "der Diagonale", "die Diagonalen", "den Diagonalen", "der Diagonalen"]
        }
        HouseName::Named(_) => ["Haus", "des Hauses", "die Häuser", "den Häusern", "der Häuser"],
    };
    match (count, case) {
        (1, Genitive) => forms[1],
        (1, _) => forms[0],
        (_, Nominative) => forms[2],
        (_, Dative) => forms[3],
        (_, Genitive) => forms[4],
    }
}

/// "Zeile 4, Spalten 1 und 3, und Zeile 5, Spalte 2".
fn in_words(cells: CellSet) -> String {
    let list = |numbers: &[u8]| joined(numbers.iter().map(u8::to_string), "und");
    let group = |group: &Group| match group {
        Group::InRow { row, columns } if columns.len() == 1 => {
            format!("Zeile {row}, Spalte {}", list(columns))
        }
        Group::InRow { row, columns } => format!("Zeile {row}, Spalten {}", list(columns)),
        Group::InColumn { column, rows } => format!("Spalte {column}, Zeilen {}", list(rows)),
    };
    let mut groups: Vec<String> = groups(cells).iter().map(group).collect();
    match groups.pop() {
        Some(last) if groups.is_empty() => last,
        Some(last) if groups.len() == 1 => format!("{}, und {last}", groups[0]),
        Some(last) => format!("{}; {last}", groups.join("; ")),
        None => String::new(),
    }
}

/// "zwei Zellen", or "diese zwei Zellen" if they were named before.
fn these(cells: Cells) -> String {
    let count = number(cells.count());
    match cells {
        Cells::Named(_) => format!("{count} Zellen"),
        Cells::These(_) => format!("diese {count} Zellen"),
    }
}

/// "beide", "alle drei".
pub(super) fn all_of(count: usize) -> String {
    if count == 2 { "beide".to_owned() } else { format!("alle {}", number(count)) }
}

/// A number in words, up to twelve.
pub(super) fn number(count: usize) -> String {
    let words = [
        "null", "eine", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf",
        "zwölf",
    ];
    words.get(count).map_or_else(|| count.to_string(), |&word| word.to_owned())
}

/// The pattern, with its article where it has one.
pub(super) fn named(pattern: Pattern) -> String {
    let set_of = |size: u8| number(usize::from(size));
    match pattern {
        Pattern::LastOpenCell => "die letzte offene Zelle".to_owned(),
        Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle => "ein versteckter Einer".to_owned(),
        Pattern::NakedSingle => "ein nackter Einer".to_owned(),
        Pattern::LockedCandidates => "gebundene Kandidaten".to_owned(),
        Pattern::HiddenSet(2) => "ein verstecktes Paar".to_owned(),
        Pattern::HiddenSet(3) => "ein versteckter Dreier".to_owned(),
        Pattern::HiddenSet(4) => "ein versteckter Vierer".to_owned(),
        Pattern::HiddenSet(size) => format!("eine versteckte Gruppe aus {} Ziffern", set_of(size)),
        Pattern::NakedSet(2) => "ein nacktes Paar".to_owned(),
        Pattern::NakedSet(3) => "ein nackter Dreier".to_owned(),
        Pattern::NakedSet(4) => "ein nackter Vierer".to_owned(),
        Pattern::NakedSet(size) => format!("eine nackte Gruppe aus {} Zellen", set_of(size)),
        Pattern::Fish(2) => "ein X-Wing".to_owned(),
        Pattern::Fish(3) => "ein Swordfish".to_owned(),
        Pattern::Fish(_) => "ein Jellyfish".to_owned(),
        Pattern::SingleDigitChain => "eine Kette mit einer Ziffer".to_owned(),
        Pattern::FinnedFish => "ein Fisch mit Flossen".to_owned(),
        Pattern::XyWing => "ein XY-Wing".to_owned(),
        Pattern::XyzWing => "ein XYZ-Wing".to_owned(),
        Pattern::WWing => "ein W-Wing".to_owned(),
        Pattern::UniqueRectangle => "ein eindeutiges Rechteck".to_owned(),
        Pattern::UniqueLoop => "eine eindeutige Schleife".to_owned(),
        Pattern::LastBivalueTrap => "die Falle der letzten Zweierzellen".to_owned(),
        Pattern::XyChain => "eine XY-Kette".to_owned(),
        Pattern::AlternatingChain => "eine Wechselkette".to_owned(),
        Pattern::GroupedChain => "eine gruppierte Kette".to_owned(),
        Pattern::AlmostLockedSets => "fast gebundene Gruppen".to_owned(),
        Pattern::BranchingChain => "eine verzweigte Kette".to_owned(),
        Pattern::Trial => "ein Versuch".to_owned(),
    }
}

/// Whether a sign is made of letters.
fn is_word(sign: &str) -> bool {
    sign.chars().all(char::is_alphabetic)
}
