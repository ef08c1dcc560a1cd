//! A picture in words.

use super::picture::Sight;
use super::thread::{END, START};
use super::{Picture, Stands};
use crate::board::{Cell, CellSet, Digit, DigitSet, House, HouseName};
use crate::words::{Labels, LinkName, Signs};

impl Picture {
    /// The whole picture in words: the grid, a row a line, its regions if it has some, and then a line for each thing that
    /// is drawn in it.
    pub fn said(&self, labels: &Labels) -> Vec<String> {
        let regions = self.houses_said(labels, |name| matches!(name, HouseName::Region(_)));
        [self.rows(labels), regions, self.notes(labels)].concat()
    }

    /// The grid in words, a row a line: `row 4: 2, blank, blank; blank, blank, 6; 8, 1, 9`. Boxes are parted by
    /// semicolons; rows of which nothing is drawn are left out.
    pub fn rows(&self, labels: &Labels) -> Vec<String> {
        let side = self.size().side();
        let across = self.layout.boxes().map_or(side, |shape| shape.columns);
        let shown = |row: &u8| (0..side).any(|col| self.shows(Cell::new(*row, col)));
        let row = |row: u8| {
            let mut text = format!("{}: ", labels.house(&HouseName::Row(row + 1)));
            for col in 0..side {
                if col > 0 {
                    text.push_str(if col % across == 0 { "; " } else { ", " });
                }
                text.push_str(&self.cell_said(Cell::new(row, col), labels));
            }
            text
        };
        (0..side).filter(shown).map(row).collect()
    }

    fn cell_said(&self, cell: Cell, labels: &Labels) -> String {
        if !self.shows(cell) {
            return labels.left_out().to_owned();
        }
        let content = self.content(cell);
        match content.stands {
            Stands::Given(digit) | Stands::Entered(digit) => return self.sign(digit),
            Stands::Known(digit) => return labels.known(&self.sign(digit)),
            Stands::Nothing => {}
        }
        let mut said = Vec::new();
        if !content.closed.is_empty() {
            said.push(labels.one_of(&self.signs(content.closed)));
        }
        if !content.open.is_empty() {
            said.push(labels.perhaps(&self.signs(content.open)));
        }
        if said.is_empty() { labels.blank().to_owned() } else { said.join(" ") }
    }

    /// What is drawn in the grid beside digits, marks, and boxes or regions, a sentence each.
    pub fn notes(&self, labels: &Labels) -> Vec<String> {
        let mut notes = self.houses_said(labels, |name| matches!(name, HouseName::Named(_)));
        if self.layout.diagonals() {
            notes.push(labels.diagonals());
        }
        notes.extend(self.written_in(labels));
        let seen = |cells: CellSet| cells.iter().filter(|&cell| self.shows(cell)).collect::<CellSet>();
        if !self.outlined.is_empty() {
            let houses: Vec<&HouseName> = self.outlined.iter().map(|&id| &self.layout.at(id).name).collect();
            notes.push(labels.outlined(&houses));
        }
        notes.extend(self.thread_said(labels));
        notes.extend(
            self.facts.iter().map(|claim| labels.remembered(&self.layout, claim, Signs(&self.signs))),
        );
        for from in self.holders().into_iter().filter(|&from| self.shows(from)) {
            let Some(digit) = self.content(from).stands.digit() else { continue };
            let cells = seen(self.sights.iter().filter(|sight| sight.from == from).map(|it| it.to).collect());
            if !cells.is_empty() {
                notes.push(labels.closes(&self.sign(digit), from, cells));
            }
        }
        notes.extend(self.barred_said(labels));
        let (shaded, ringed) = (seen(self.shaded), seen(self.ringed));
        if !shaded.is_empty() {
            let (houses, cells) = self.by_houses(shaded);
            notes.push(labels.shaded(&houses, cells));
        }
        if !ringed.is_empty() {
            let (houses, cells) = self.by_houses(ringed);
            notes.push(labels.ringed(&houses, cells));
        }
        notes
    }

    /// The cells of each house of a kind, as far as they are drawn.
    fn houses_said(&self, labels: &Labels, is_meant: impl Fn(&HouseName) -> bool) -> Vec<String> {
        let cells = |house: &House| house.set().iter().filter(|&cell| self.shows(cell)).collect::<CellSet>();
        let houses = self.layout.houses().iter().filter(|house| is_meant(&house.name));
        let drawn = houses.map(|house| (house, cells(house))).filter(|(_, cells)| !cells.is_empty());
        drawn.map(|(house, cells)| labels.house_cells(&house.name, cells)).collect()
    }

    /// Which digits are given and which are written in, by the fewer of them; nothing, where all are alike.
    fn written_in(&self, labels: &Labels) -> Option<String> {
        let given = |cell: &Cell| matches!(self.content(*cell).stands, Stands::Given(_));
        let entered = |cell: &Cell| matches!(self.content(*cell).stands, Stands::Entered(_));
        let given: CellSet = self.shown().filter(given).collect();
        let entered: CellSet = self.shown().filter(entered).collect();
        match (given.len(), entered.len()) {
            (0, _) | (_, 0) => None,
            (many, few) if few <= many => Some(labels.entered(entered)),
            _ => Some(labels.given(given)),
        }
    }

    /// A chain, a sentence a link.
    fn thread_said(&self, labels: &Labels) -> Vec<String> {
        let Some(thread) = self.thread() else { return Vec::new() };
        let from = |from_start: bool, links: &[LinkName]| -> Vec<String> {
            let start = from_start.then(|| START.to_owned());
            start.into_iter().chain(links.iter().map(LinkName::to_string)).collect()
        };
        let leaves = |all: &[(Cell, Digit)]| {
            let digits: DigitSet = all.iter().map(|(_, digit)| *digit).collect();
            (self.signs(digits), all.iter().map(|(cell, _)| *cell).collect::<CellSet>())
        };
        let (digits, cells) = leaves(&thread.supposed);
        let start = labels.link_supposed(START, thread.is_so, &digits, cells);
        let links = thread.links.iter().map(|link| {
            let (digits, cells) = leaves(&link.leaves);
            labels.link(&link.name.to_string(), &from(link.from_start, &link.from), &digits, cells)
        });
        let end = thread.end.iter().map(|end| {
            let cells: CellSet = end.out.iter().map(|(cell, _)| *cell).collect();
            let of =
                |cell| end.out.iter().filter(move |(at, _)| *at == cell).map(|(_, digit)| *digit).collect();
            let out = self.by_digits(cells.iter().map(|cell| (cell, of(cell))));
            labels.link_end(END, &from(end.from_start, &end.from), &out)
        });
        std::iter::once(start).chain(links).chain(end).collect()
    }

    /// Cells as the houses that lie wholly among them, and the cells beside these.
    fn by_houses(&self, cells: CellSet) -> (Vec<&HouseName>, CellSet) {
        let (mut houses, mut rest) = (Vec::new(), cells);
        for house in self.layout.houses() {
            if house.set().is_subset(&cells) && !(rest & *house.set()).is_empty() {
                houses.push(&house.name);
                rest -= *house.set();
            }
        }
        (houses, rest)
    }

    /// What cells are closed to, where no line says so: cells that are closed to the same digits together.
    fn barred_said(&self, labels: &Labels) -> Vec<String> {
        let by_line = |cell: Cell, digit: Digit| {
            let closes =
                |sight: &Sight| sight.to == cell && self.content(sight.from).stands.digit() == Some(digit);
            self.sights.iter().any(|sight| closes(sight) && self.shows(sight.from))
        };
        let closed = self.shown().map(|cell| {
            let digits = self.content(cell).barred.iter();
            (cell, digits.filter(|&digit| !by_line(cell, digit)).collect())
        });
        let groups = self.by_digits(closed);
        groups.iter().map(|(digits, cells)| labels.closed(digits, *cells)).collect()
    }

    /// Cells with the same digits together; none that has no digits.
    fn by_digits(&self, all: impl Iterator<Item = (Cell, DigitSet)>) -> Vec<(Vec<String>, CellSet)> {
        let mut groups: Vec<(DigitSet, CellSet)> = Vec::new();
        for (cell, digits) in all.filter(|(_, digits)| !digits.is_empty()) {
            match groups.iter_mut().find(|(same, _)| *same == digits) {
                Some((_, cells)) => _ = cells.insert(cell),
                None => groups.push((digits, CellSet::single(cell))),
            }
        }
        groups.into_iter().map(|(digits, cells)| (self.signs(digits), cells)).collect()
    }
}
