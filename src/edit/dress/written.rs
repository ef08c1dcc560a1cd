//! Claims, reasons and diagrams in another dress: the cells, houses and digits that they name.

use super::Dresser;
use crate::board::{Cell, CellSet, Digit, HouseName};
use crate::book::house_name;
use crate::notation::{
    CellRange, CellRef, Claim, Digits, HouseRef, Named, Place, Reason, Says, ShowPart, Span, StepLine,
    read_cells,
};

impl Dresser<'_> {
    pub fn step(&mut self, step: &StepLine) {
        if let Some(prose) = step.prose() {
            self.braces(prose);
        }
        match step {
            StepLine::Step(claims, reason) => {
                self.claims(claims);
                if let Some(reason) = reason {
                    self.reason(reason);
                }
            }
            StepLine::Ask(_, claims) => self.claims(claims),
            StepLine::Show(show) => show.parts.iter().for_each(|part| match part {
                ShowPart::Only(places) | ShowPart::Shade(places) | ShowPart::Ring(places) => {
                    self.places(places);
                }
                ShowPart::MarksOf(digits) => self.digits(digits),
                ShowPart::MarksAll | ShowPart::MarksNone | ShowPart::MarksKnown => {}
            }),
            StepLine::Say(_) | StepLine::Point(_) | StepLine::Finish(_) | StepLine::Allow(..) => {}
        }
    }

    fn claims(&mut self, claims: &[Claim]) {
        for claim in claims {
            self.claim(claim);
        }
    }

    pub fn claim(&mut self, claim: &Claim) {
        match &claim.says {
            Says::Is(cells, digits) | Says::Not(cells, digits) => {
                self.cells(cells);
                self.digits(digits);
            }
            Says::Within { digits, houses, place, .. } => {
                self.digits(digits);
                self.houses(houses);
                self.places(place);
            }
            Says::Misses(houses, digits) => {
                self.houses(houses);
                self.digits(digits);
            }
            Says::Open(cells) => self.cells(cells),
        }
    }

    fn reason(&mut self, reason: &Reason) {
        let mut houses = Vec::new();
        for named in &reason.names {
            match named {
                Named::House(house) => houses.push(*house),
                Named::Cells(range) => self.cells(&[*range]),
                Named::Digits(digits) => self.digits(digits),
                Named::WithCells(ranges) => self.cells(ranges),
                Named::WithDigit(digits, house) => {
                    self.digits(digits);
                    self.houses(&[*house]);
                }
            }
        }
        self.houses(&houses);
    }

    /// Cells and houses in any order; cells that stand together are written in reading order.
    fn places(&mut self, places: &[Place]) {
        let is_house = |place: &Place| matches!(place, Place::House(_));
        for run in places.chunk_by(|one, next| is_house(one) == is_house(next)) {
            let cells = run.iter().filter_map(|place| match place {
                Place::Cells(range) => Some(*range),
                Place::House(_) => None,
            });
            let houses = run.iter().filter_map(|place| match place {
                Place::House(house) => Some(*house),
                Place::Cells(_) => None,
            });
            self.cells(&cells.collect::<Vec<_>>());
            self.houses(&houses.collect::<Vec<_>>());
        }
    }

    /// Cells that are meant together: those that stood in reading order do so afterwards.
    pub fn cells(&mut self, ranges: &[CellRange]) {
        let (Some(written), true) = (self.written(ranges), self.dress.moves()) else { return };
        let mut new: Vec<(Cell, String)> =
            written.iter().map(|(_, new, text)| (*new, text.clone())).collect();
        if written.is_sorted_by_key(|(old, ..)| *old) {
            new.sort();
        }
        for (range, (_, text)) in ranges.iter().zip(new) {
            self.put(range.span(), text);
        }
    }

    /// Cells each range of which keeps the way that it runs along a line; and where their order means something, the order
    /// of them all.
    pub fn lines_of_cells(&mut self, ranges: &[CellRange], is_ordered: bool) {
        for range in ranges.iter().filter(|_| self.dress.moves()) {
            let line = range.to.and_then(|to| Some((self.one(range.from)?, self.one(to)?)));
            match line {
                Some((from, to)) if from.row() == to.row() || from.col() == to.col() => {
                    self.put(range.span(), format!("{}..{}", self.dress.cell(from), self.dress.cell(to)));
                }
                _ if is_ordered => {
                    if let Some(text) = self.in_order(range) {
                        self.put(range.span(), text);
                    }
                }
                _ => self.cells(&[*range]),
            }
        }
    }

    /// The cells of a range in the order in which they came: one by one, where no range runs so.
    fn in_order(&self, range: &CellRange) -> Option<String> {
        let old = range.cells(&self.section.text, self.side()).ok()?;
        let new: Vec<Cell> = old.iter().map(|cell| self.dress.cell(*cell)).collect();
        let short = match range.to {
            Some(_) => format!("{}..{}", new.first()?, new.last()?),
            None => self.rows_and_columns(range.from, true),
        };
        let ranges = read_cells(&short, Span::new(0, short.len())).unwrap_or_default();
        let says: Vec<Cell> =
            ranges.iter().filter_map(|range| range.cells(&short, self.side()).ok()).flatten().collect();
        let each = || new.iter().map(Cell::to_string).collect::<Vec<_>>().join(" ");
        Some(if says == new { short } else { each() })
    }

    /// Of each range its first cell, and that of what comes of it, with its text; `None` if one has no meaning here.
    fn written(&self, ranges: &[CellRange]) -> Option<Vec<(Cell, Cell, String)>> {
        let write = |range: &CellRange| {
            let old = range.cells(&self.section.text, self.side()).ok()?;
            let first = |cells: &[Cell]| cells.iter().min().copied();
            let new: Vec<Cell> = old.iter().map(|cell| self.dress.cell(*cell)).collect();
            let (from, to) = (first(&new)?, new.iter().max().copied()?);
            let text = match range.to {
                Some(_) => format!("{from}..{to}"),
                None => self.rows_and_columns(range.from, false),
            };
            Some((first(&old)?, from, text))
        };
        ranges.iter().map(write).collect()
    }

    /// A cell, or several of some rows and columns such as `r46c1`: in the order in which they come to stand, or rising
    /// where they rose.
    fn rows_and_columns(&self, cell: CellRef, is_ordered: bool) -> String {
        let (rows, columns) = cell.numbers(&self.section.text, self.side());
        let moved_row = |row: &u8| self.dress.cell(Cell::new(row - 1, 0));
        let moved_column = |column: &u8| self.dress.cell(Cell::new(0, column - 1));
        let written = |cells: Vec<Cell>, part: fn(Cell) -> u8, rose: bool| {
            let mut numbers: Vec<u8> = cells.into_iter().map(|cell| part(cell) + 1).collect();
            if rose && !is_ordered {
                numbers.sort_unstable();
            }
            numbers.iter().map(u8::to_string).collect::<String>()
        };
        let of_rows = |part| written(rows.iter().map(moved_row).collect(), part, rows.is_sorted());
        let of_columns =
            |part| written(columns.iter().map(moved_column).collect(), part, columns.is_sorted());
        if self.dress.how.transposed() {
            format!("r{}c{}", of_columns(Cell::row), of_rows(Cell::col))
        } else {
            format!("r{}c{}", of_rows(Cell::row), of_columns(Cell::col))
        }
    }

    fn one(&self, cell: CellRef) -> Option<Cell> {
        match cell.cells(&self.section.text, self.side()).ok()?[..] {
            [cell] => Some(cell),
            _ => None,
        }
    }

    /// Houses: those that share a word stand in order afterwards, if they did before.
    pub fn houses(&mut self, houses: &[HouseRef]) {
        for group in houses.chunk_by(|one, next| one.word == next.word) {
            let names = group.iter().map(|house| {
                let old = house_name(self.section, house);
                Some((self.house(&old)?, old))
            });
            let (Some(names), true) = (names.collect::<Option<Vec<_>>>(), self.dress.moves()) else {
                continue;
            };
            let mut new: Vec<&HouseName> = names.iter().map(|(new, _)| new).collect();
            if names.is_sorted_by_key(|(_, old)| old) {
                new.sort();
            }
            for (house, name) in group.iter().zip(new) {
                let text = name.to_string();
                if let Some((word, name)) = text.split_once(' ') {
                    self.put(house.word, word.to_owned());
                    self.put(house.name, name.to_owned());
                }
            }
        }
    }

    /// What a house is called when it is moved; `None` if there is no such house. Names that were given stay.
    fn house(&self, name: &HouseName) -> Option<HouseName> {
        if matches!(name, HouseName::Named(_)) {
            return self.dress.to.house(name).map(|house| house.name.clone());
        }
        let moved: CellSet =
            self.dress.from.house(name)?.cells.iter().map(|cell| self.dress.cell(*cell)).collect();
        let alike = |other: &HouseName| match name {
            HouseName::Row(_) | HouseName::Column(_) => {
                matches!(other, HouseName::Row(_) | HouseName::Column(_))
            }
            _ => std::mem::discriminant(name) == std::mem::discriminant(other),
        };
        let mut houses = self.dress.to.houses().iter();
        houses.find(|house| alike(&house.name) && *house.set() == moved).map(|house| house.name.clone())
    }

    /// Digits: those that stood in order do so afterwards.
    pub fn digits(&mut self, digits: &Digits) {
        let order = |symbol: &char| (symbol.is_alphabetic(), *symbol);
        let mut new: Vec<char> = digits.symbols.iter().map(|(symbol, _)| self.symbol(*symbol)).collect();
        if digits.symbols.is_sorted_by_key(|(symbol, _)| order(symbol)) {
            new.sort_by_key(order);
        }
        let spans: Vec<Span> = digits.symbols.iter().map(|(_, span)| *span).collect();
        for (span, symbol) in spans.into_iter().zip(new) {
            self.put(span, symbol.to_string());
        }
    }

    /// What becomes of a digit; anything else stays.
    pub fn symbol(&self, symbol: char) -> char {
        let how = &self.dress.how;
        let digit = Digit::from_symbol(symbol).filter(|digit| how.size().digits().contains(*digit));
        digit
            .map(|digit| (digit, how.digit(digit)))
            .filter(|(old, new)| old != new)
            .map_or(symbol, |(_, new)| new.symbol())
    }

    fn side(&self) -> u8 {
        self.dress.how.size().side()
    }
}
