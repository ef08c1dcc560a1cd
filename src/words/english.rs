//! English.

use super::tongue::{Cells, Told, Tongue};
use super::writing::{Group, braced, by_letter, capital, groups, joined, letter};
use super::{Naming, Register, Signs};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseName};
use crate::ladder::Pattern;
use crate::step::Method;

pub(super) struct English<'a> {
    pub(super) register: Register,
    pub(super) naming: Naming,
    pub(super) signs: Signs<'a>,
}

impl English<'_> {
    /// One of two wordings: in the terms of the trade, or plain.
    fn either<'w>(&self, full: &'w str, plain: &'w str) -> &'w str {
        match self.register {
            Register::Full => full,
            Register::Plain => plain,
        }
    }

    /// "4, 6 and 9".
    pub(super) fn all(&self, digits: DigitSet) -> String {
        joined(self.signs.each(digits), "and")
    }

    /// "4, 6 or 9".
    pub(super) fn any(&self, digits: DigitSet) -> String {
        joined(self.signs.each(digits), "or")
    }

    /// "open", or a plain word for it.
    pub(super) fn open(&self) -> &'static str {
        self.either("open", "empty")
    }

    pub(super) fn house(&self, house: &HouseName) -> String {
        self.houses(&[house])
    }

    /// "rows 1 and 2 and column 9".
    pub(super) fn houses(&self, houses: &[&HouseName]) -> String {
        self.houses_joined(houses, "and")
    }

    pub(super) fn houses_joined(&self, houses: &[&HouseName], word: &str) -> String {
        let group = |group: &[&HouseName]| {
            let kind = kind(group[0], group.len());
            format!("{kind} {}", joined(group.iter().map(|house| self.number(house)), word))
        };
        joined(houses.chunk_by(|a, b| kind(a, 1) == kind(b, 1)).map(group), word)
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

    /// The house, or "it", at the beginning of a sentence.
    fn subject(&self, house: Option<&HouseName>) -> String {
        house.map_or("It".to_owned(), |house| capital(&self.house(house)))
    }

    /// Cells by their names alone.
    fn names(&self, cells: CellSet) -> String {
        self.names_joined(cells, "and")
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
        let parts = [self.houses(houses), self.names(cells)];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
    }

    fn name(&self, cell: Cell) -> String {
        self.names(CellSet::single(cell))
    }

    /// The cells, within a sentence.
    pub(super) fn cells(&self, cells: Cells) -> String {
        match cells {
            Cells::Named(cells) if self.naming != Naming::Words => self.names(cells),
            Cells::Named(cells) if cells.len() == 1 => format!("the cell in {}", self.names(cells)),
            Cells::Named(cells) => format!("the cells in {}", self.names(cells)),
            Cells::These(1) => "this cell".to_owned(),
            Cells::These(count) => format!("these {} cells", number(count)),
        }
    }

    /// The names of cells that the sentence has counted, behind a colon; nothing if they were named before.
    pub(super) fn named_last(&self, cells: Cells) -> String {
        match cells {
            Cells::Named(cells) => format!(": {}", self.names(cells)),
            Cells::These(_) => String::new(),
        }
    }

    /// What is so, as a clause.
    fn clause(&self, told: &Told) -> String {
        match told {
            Told::Share { digits, cells } => format!("{} share {}", self.all(*digits), self.cells(*cells)),
            Told::Each { digits, cells } => {
                format!("each of these cells holds {}{}", self.any(*digits), self.named_last(*cells))
            }
            Told::In { digits, houses, places } if houses.len() == 1 => {
                let digits = self.all(*digits);
                format!("{} has its {digits} in {}", self.houses(houses), self.houses(places))
            }
            Told::In { digits, houses, places } => {
                let digits = self.all(*digits);
                format!("{} have their {digits} in {}", self.houses(houses), self.houses(places))
            }
            Told::InCells { digits, house, cells } => {
                let (house, digits, last) = (self.house(house), self.all(*digits), self.named_last(*cells));
                format!("{house} has its {digits} within these cells{last}")
            }
            Told::Not { digits, cells } => {
                format!("there is no {} in {}", self.any(*digits), self.cells(*cells))
            }
            Told::Stands { digit, cells } => {
                format!("the digit {} is in {}", self.signs.of(*digit), self.cells(*cells))
            }
        }
    }
}

impl Tongue for English<'_> {
    fn look_at(&self, houses: &[&HouseName]) -> String {
        format!("Look at {}.", self.houses(houses))
    }

    fn look_for(&self, digits: DigitSet, house: &HouseName) -> String {
        format!("Look for {} in {}.", self.all(digits), self.house(house))
    }

    fn look_at_cells(&self, cells: CellSet, also: bool) -> String {
        let cells = self.cells(Cells::Named(cells));
        if also { format!("Look also at {cells}.") } else { format!("Look at {cells}.") }
    }

    fn look_at_meeting(&self, first: &HouseName, second: &HouseName) -> String {
        format!("Look where {} and {} meet.", self.house(first), self.house(second))
    }

    fn look_at_missing(&self, house: &HouseName) -> String {
        match self.register {
            Register::Full => format!("Look at what {} is missing.", self.house(house)),
            Register::Plain => format!("Look at what {} still needs.", self.house(house)),
        }
    }

    fn look_at_remembered(&self, cells: Cells) -> String {
        format!("Think of what you remember about {}.", self.cells(cells))
    }

    fn pattern_in(&self, pattern: Pattern, houses: &[&HouseName]) -> String {
        let (houses, pattern, has) = (capital(&self.houses(houses)), named(pattern), has(houses.len()));
        format!("{houses} {has} {pattern}.")
    }

    fn locked_in(&self, digits: DigitSet, house: &HouseName, place: &HouseName) -> String {
        let (digits, house, place) = (self.all(digits), self.house(house), self.house(place));
        format!("Locked candidates tie the {digits} of {house} to {place}.")
    }

    fn that_is(&self, pattern: Pattern) -> String {
        match pattern {
            Pattern::LockedCandidates | Pattern::AlmostLockedSets => format!("These are {}.", named(pattern)),
            _ => format!("That is {}.", named(pattern)),
        }
    }

    fn one_open(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String {
        let digit = self.signs.of(digit);
        let (house, cell) = (self.subject(house), self.name(cell));
        match self.register {
            Register::Full => format!("{house} is missing only {digit}, and has one open cell: {cell}."),
            Register::Plain => format!("{house} needs only {digit}, and has one empty cell: {cell}."),
        }
    }

    fn one_place(&self, house: Option<&HouseName>, digit: Digit, cell: Cell) -> String {
        let digit = self.signs.of(digit);
        format!("{} has one place left for {digit}: {}.", self.subject(house), self.name(cell))
    }

    fn one_digit(&self, digit: Digit, cell: Option<Cell>) -> String {
        let digit = self.signs.of(digit);
        match cell.map(|cell| self.cells(Cells::Named(CellSet::single(cell)))) {
            Some(cell) => format!("Only one digit is left for {cell}: {digit}."),
            None => format!("Only one digit is left there: {digit}."),
        }
    }

    fn hold(&self, houses: &[&HouseName], digits: DigitSet, also: bool) -> String {
        let (count, houses) = (houses.len(), capital(&self.houses(houses)));
        let digits_named = self.all(digits);
        match (count, digits.len(), also) {
            (1, _, false) => format!("{houses} holds {digits_named}."),
            (1, _, true) => format!("{houses} also holds {digits_named}."),
            (_, 1, false) => format!("{houses} hold {digits_named}."),
            (_, _, true) => format!("{houses} also hold {digits_named}."),
            (2, _, false) => format!("{houses} both hold {digits_named}."),
            (_, _, false) => format!("{houses} each hold {digits_named}."),
        }
    }

    fn has_and_lacks(&self, house: &HouseName, has: DigitSet, lacks: DigitSet) -> String {
        let (house, has, lacks) = (self.house(house), self.all(has), self.all(lacks));
        match self.register {
            Register::Full => format!("Of these, {house} has {has} but lacks {lacks}."),
            Register::Plain => format!("Of these, {house} has {has} but still needs {lacks}."),
        }
    }

    fn lacks_all(&self, house: &HouseName, count: usize) -> String {
        let house = capital(&self.house(house));
        format!("{house} {} {}.", self.either("lacks", "still needs"), all_of(count))
    }

    fn open_outside(&self, lines: &[&HouseName], cells: Cells) -> String {
        let (lines, open, last) = (self.houses(lines), self.open(), self.named_last(cells));
        let number = number(cells.count());
        match cells {
            Cells::Named(_) => format!("It has {number} {open} cells outside {lines}{last}."),
            Cells::These(_) => format!("It has no other {open} cells outside {lines}."),
        }
    }

    fn misses(&self, digits: DigitSet, also: bool) -> String {
        let digits = self.all(digits);
        match (self.register, also) {
            (Register::Full, false) => format!("It is missing {digits}."),
            (Register::Full, true) => format!("It is also missing {digits}."),
            (Register::Plain, false) => format!("It still needs {digits}."),
            (Register::Plain, true) => format!("It also needs {digits}."),
        }
    }

    fn only_digits(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String {
        let (digits, number, last) = (self.all(digits), number(cells.count()), self.named_last(cells));
        match (house.map(|house| self.house(house)), cells) {
            (_, Cells::These(_)) => format!("These {number} cells can hold only {digits}."),
            (Some(house), _) => format!("In {house}, {number} cells can hold only {digits}{last}."),
            (None, _) => format!("{} of its cells can hold only {digits}{last}.", capital(&number)),
        }
    }

    fn only_cells(&self, house: Option<&HouseName>, digits: DigitSet, cells: Cells) -> String {
        let (house, digits, last) = (self.subject(house), self.all(digits), self.named_last(cells));
        match (cells, number(cells.count())) {
            (Cells::Named(_), number) => format!("{house} has only {number} cells left for {digits}{last}."),
            (Cells::These(_), number) => format!("{house} has only these {number} cells left for {digits}."),
        }
    }

    fn places_within(
        &self,
        digit: Digit,
        first: Option<&HouseName>,
        second: &HouseName,
        cells: Cells,
    ) -> String {
        let digit = self.signs.of(digit);
        let (first, second) = (self.subject(first), self.house(second));
        match cells {
            Cells::Named(cells) => {
                format!("{first} has room for {digit} only in {second}: {}.", self.names(cells))
            }
            Cells::These(_) => {
                format!("{first} has room for {digit} only in {} of {second}.", self.cells(cells))
            }
        }
    }

    fn places_in_lines(&self, digit: Digit, count: usize, lines: &[&HouseName]) -> String {
        let digit = self.signs.of(digit);
        let (lines, all) = (self.houses(lines), capital(&all_of(count)));
        format!("{all} have room for {digit} only in {lines}.")
    }

    fn full_in(&self, line: &HouseName, houses: &[&HouseName]) -> String {
        let line = capital(&self.house(line));
        format!("{line} has no {} cell in {}.", self.open(), self.houses(houses))
    }

    fn put(&self, digit: Digit, cells: Cells, pattern: Pattern, house: Option<&HouseName>) -> String {
        let digit = self.signs.of(digit);
        let cells = match cells {
            Cells::Named(set) if set.len() == 1 => self.names(set),
            _ => self.cells(cells),
        };
        match (pattern, self.register, house.map(|house| self.house(house))) {
            (Pattern::LastOpenCell, _, Some(house)) => {
                format!("Put {digit} in {cells}, the last {} cell of {house}.", self.open())
            }
            (Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle, Register::Full, Some(house)) => {
                format!("Put {digit} in {cells}, a hidden single of {house}.")
            }
            (Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle, Register::Plain, Some(house)) => {
                format!("Put {digit} in {cells}: {house} has no other place for it.")
            }
            (Pattern::NakedSingle, Register::Full, _) => format!("Put {digit} in {cells}, a naked single."),
            (Pattern::NakedSingle, Register::Plain, _) => {
                format!("Put {digit} in {cells}: no other digit fits there.")
            }
            _ => format!("Put {digit} in {cells}."),
        }
    }

    fn so_put_there(&self, digit: Digit, pattern: Pattern) -> String {
        let digit = self.signs.of(digit);
        match (self.register, pattern) {
            (Register::Full, Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle | Pattern::NakedSingle) => {
                format!("That is {}: put {digit} there.", named(pattern))
            }
            _ => format!("So put {digit} there."),
        }
    }

    fn so_put(&self, digit: Digit, cells: Cells) -> String {
        let digit = self.signs.of(digit);
        format!("So put {digit} in {}.", self.cells(cells))
    }

    fn fact(&self, told: &Told) -> String {
        match told {
            Told::Share { digits, cells } => {
                format!("The digits {} share {}.", self.all(*digits), self.cells(*cells))
            }
            _ => format!("{}.", capital(&self.clause(told))),
        }
    }

    fn so_have_in(&self, digits: DigitSet, houses: &[&HouseName], places: &[&HouseName]) -> String {
        let (houses, digits, places) = (self.houses(houses), self.all(digits), self.houses(places));
        format!("So {houses} have their {digits} in {places}.")
    }

    fn remember(&self, told: &Told) -> String {
        format!("Remember: {}.", self.clause(told))
    }

    fn remember_this(&self) -> String {
        "Remember this.".to_owned()
    }

    fn remembered(&self, told: &Told) -> String {
        format!("You remember that {}.", self.clause(told))
    }

    fn leaves_line(&self, line: &HouseName, house: &HouseName, digits: DigitSet) -> String {
        format!("That leaves {} for the {} of {}.", self.house(line), self.all(digits), self.house(house))
    }

    fn no_other_cell(&self, houses: &[&HouseName], digits: DigitSet) -> String {
        format!("So no other cell of {} holds {}.", self.houses_joined(houses, "or"), self.any(digits))
    }

    fn no_cell_in_sight(&self, digits: DigitSet, count: usize) -> String {
        format!("So no cell that sees {} of them holds {}.", all_of(count), self.any(digits))
    }

    fn nothing_else(&self, cells: Cells) -> String {
        let cells = self.cells(cells);
        match self.register {
            Register::Full => {
                format!("So nothing else fits there: strike every other candidate from {cells}.")
            }
            Register::Plain => format!("So nothing else fits there: cross out every other digit in {cells}."),
        }
    }

    fn strike(&self, digits: DigitSet, cells: Cells, also: bool) -> String {
        let (digits, cells) = (self.all(digits), self.cells(cells));
        match (self.register, also) {
            (Register::Full, false) => format!("Strike {digits} from {cells}."),
            (Register::Full, true) => format!("Also strike {digits} from {cells}."),
            (Register::Plain, false) => format!("Cross out {digits} in {cells}."),
            (Register::Plain, true) => format!("Also cross out {digits} in {cells}."),
        }
    }

    fn out(&self, digit: Digit) -> String {
        format!("No {} here.", self.signs.of(digit))
    }

    fn out_by_digit(&self, digit: Digit, house: &HouseName, at: Cell) -> String {
        let digit = self.signs.of(digit);
        format!("No {digit} here: {} has it in {}.", self.house(house), self.name(at))
    }

    fn out_earlier(&self, digit: Digit) -> String {
        let digit = self.signs.of(digit);
        format!("No {digit} here: the marks or an earlier step rule it out.")
    }

    fn stuck(&self, method: Method) -> String {
        match (method, self.register) {
            (Method::Marks, _) => "No pattern on the ladder is found to lead on from here.",
            (Method::Scanning, Register::Full) => "Scanning leads no further from here without marks.",
            (Method::Scanning, Register::Plain) => {
                "Looking alone leads no further from here: write the possible digits into the cells."
            }
        }
        .to_owned()
    }

    fn house_name(&self, house: &HouseName) -> String {
        self.house(house)
    }

    fn cell_names(&self, cells: CellSet) -> String {
        self.names(cells)
    }

    fn blank(&self) -> &'static str {
        "blank"
    }

    fn left_out(&self) -> &'static str {
        "not shown"
    }

    fn one_of(&self, digits: &[String]) -> String {
        format!("marked {}", digits.join(" or "))
    }

    fn perhaps(&self, digits: &[String]) -> String {
        format!("perhaps {}", digits.join(" or "))
    }

    fn known(&self, digit: &str) -> String {
        format!("{digit} known")
    }

    fn house_cells(&self, house: &HouseName, cells: CellSet) -> String {
        format!("{}: {}.", capital(&self.house(house)), self.names(cells))
    }

    fn diagonals(&self) -> &'static str {
        "Each of the two diagonals holds every digit once, too."
    }

    fn given(&self, cells: CellSet) -> String {
        format!("Given: {}.", self.names(cells))
    }

    fn entered(&self, cells: CellSet) -> String {
        format!("Written in: {}.", self.names(cells))
    }

    fn shaded(&self, houses: &[&HouseName], cells: CellSet) -> String {
        format!("Shaded: {}.", self.places(houses, cells))
    }

    fn ringed(&self, houses: &[&HouseName], cells: CellSet) -> String {
        format!("Ringed: {}.", self.places(houses, cells))
    }

    fn outlined(&self, houses: &[&HouseName]) -> String {
        format!("Outlined: {}.", self.houses(houses))
    }

    fn link_supposed(&self, name: &str, is_so: bool, digits: &[String], cells: CellSet) -> String {
        let supposed = if is_so { "supposed" } else { "supposed out" };
        format!(
            "Link {name}, {supposed}: {} in {}.",
            joined(digits.iter().cloned(), "and"),
            self.names(cells)
        )
    }

    fn link(&self, name: &str, from: &[String], digits: &[String], cells: CellSet) -> String {
        let from = joined(from.iter().cloned(), "and");
        let word = if digits.len() == cells.len() { "and" } else { "or" };
        let (digits, cells) = (joined(digits.iter().cloned(), word), self.names_joined(cells, word));
        format!("Link {name}, from {from}: {digits} in {cells}.")
    }

    fn link_end(&self, name: &str, from: &[String], out: &[(Vec<String>, CellSet)]) -> String {
        let from = joined(from.iter().cloned(), "and");
        let part = |(digits, cells): &(Vec<String>, CellSet)| {
            format!("no {} in {}", joined(digits.iter().cloned(), "or"), self.names(*cells))
        };
        format!("End {name}, from {from}: {}.", out.iter().map(part).collect::<Vec<_>>().join("; "))
    }

    fn closes(&self, digit: &str, at: Cell, cells: CellSet) -> String {
        format!("The {digit} in {} closes {}.", self.name(at), self.names(cells))
    }

    fn closed(&self, digits: &[String], cells: CellSet) -> String {
        format!("No {} in {}.", joined(digits.iter().cloned(), "or"), self.names(cells))
    }

    fn number_of(&self, number: u32) -> String {
        format!("No. {number}")
    }

    fn answer(&self) -> &'static str {
        "Answer"
    }

    fn sheet(&self) -> &'static str {
        "Work so far"
    }

    fn errata(&self) -> &'static str {
        "Errata"
    }

    fn hints(&self) -> &'static str {
        "Hints"
    }

    fn walk(&self) -> &'static str {
        "Walkthrough"
    }

    fn finish(&self, names: &[String]) -> String {
        if names.is_empty() {
            return "From here on nothing else is needed than so far.".to_owned();
        }
        format!("From here on this is enough: {}.", self.list(names))
    }

    fn step(&self, n: usize) -> String {
        format!("Step {n}")
    }

    fn list(&self, parts: &[String]) -> String {
        joined(parts.iter().cloned(), "and")
    }

    fn reference_not(&self, cells: &str, digits: &str) -> String {
        format!("{cells} not {digits}")
    }

    fn reference_within(&self, digits: &str, houses: &str, place: &str, elsewhere: bool) -> String {
        let not = if elsewhere { "not " } else { "" };
        format!("{digits} of {houses} {not}in {place}")
    }

    fn reference_misses(&self, houses: &str, digits: &str) -> String {
        format!("{houses} misses {digits}")
    }

    fn reference_open(&self, cells: &str) -> String {
        format!("{cells} open")
    }
}

/// What so many houses of this kind are called.
fn kind(house: &HouseName, count: usize) -> &'static str {
    let (one, many) = match house {
        HouseName::Row(_) => ("row", "rows"),
        HouseName::Column(_) => ("column", "columns"),
        HouseName::Box(_) => ("box", "boxes"),
        HouseName::Region(_) => ("region", "regions"),
        HouseName::Diagonal(_) => ("diagonal", "diagonals"),
        HouseName::Named(_) => ("house", "houses"),
    };
    if count == 1 { one } else { many }
}

/// "row 4, columns 1 and 3, and row 5, column 2".
fn in_words(cells: CellSet) -> String {
    let list = |numbers: &[u8]| joined(numbers.iter().map(u8::to_string), "and");
    let group = |group: &Group| match group {
        Group::InRow { row, columns } if columns.len() == 1 => format!("row {row}, column {}", list(columns)),
        Group::InRow { row, columns } => format!("row {row}, columns {}", list(columns)),
        Group::InColumn { column, rows } => format!("column {column}, rows {}", list(rows)),
    };
    let mut groups: Vec<String> = groups(cells).iter().map(group).collect();
    match groups.pop() {
        Some(last) if groups.is_empty() => last,
        Some(last) if groups.len() == 1 => format!("{}, and {last}", groups[0]),
        Some(last) => format!("{}; and {last}", groups.join("; ")),
        None => String::new(),
    }
}

/// "both", "all three".
pub(super) fn all_of(count: usize) -> String {
    if count == 2 { "both".to_owned() } else { format!("all {}", number(count)) }
}

/// A number in words, up to twelve.
pub(super) fn number(count: usize) -> String {
    let words = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    words.get(count).map_or_else(|| count.to_string(), |&word| word.to_owned())
}

fn has(count: usize) -> &'static str {
    if count == 1 { "has" } else { "have" }
}

/// The pattern, with its article.
pub(super) fn named(pattern: Pattern) -> String {
    let set_of = |size: u8| number(usize::from(size));
    match pattern {
        Pattern::LastOpenCell => "the last open cell".to_owned(),
        Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle => "a hidden single".to_owned(),
        Pattern::LockedCandidates => "locked candidates".to_owned(),
        Pattern::HiddenSet(size @ 5..) => format!("a hidden set of {} digits", set_of(size)),
        Pattern::NakedSet(size @ 5..) => format!("a naked set of {} cells", set_of(size)),
        Pattern::Fish(2) => "an x-wing".to_owned(),
        Pattern::XyWing | Pattern::XyzWing => format!("an {}", pattern.name()),
        Pattern::LastBivalueTrap => "the last-bivalue trap".to_owned(),
        Pattern::XyChain => "an xy-chain".to_owned(),
        Pattern::AlternatingChain => "an alternating chain".to_owned(),
        Pattern::AlmostLockedSets => "almost locked sets".to_owned(),
        _ => format!("a {}", pattern.name()),
    }
}
