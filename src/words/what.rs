//! What is there and what follows, in brief.

use super::fit::in_parts;
use super::tell::Teller;
use super::tongue::{Cells, Told};
use crate::board::{Cell, CellSet, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim};

impl Teller<'_> {
    /// What is there and what follows.
    pub(super) fn what(&self) -> Vec<String> {
        let tongue = self.tongue;
        if self.step.places() {
            let house = self.house().map(|house| self.name(house));
            let placed = self.step.claims.iter().filter_map(Self::placed);
            let put = |(digit, cells)| {
                self.about(cells, |cells| tongue.put(digit, cells, self.step.pattern, house))
            };
            return placed.flat_map(put).collect();
        }
        if self.is_further() {
            return self.what_further();
        }
        if let Some(locked) = self.locked_in_a_place().filter(|_| self.full) {
            let after = if self.scans() { vec![tongue.remember_this()] } else { self.strikes() };
            return [vec![locked], after].concat();
        }
        let mut sentences = Vec::new();
        if self.full {
            let houses = match (self.step.pattern, self.house()) {
                (Pattern::Fish(_), _) => self.lines_read(),
                (_, house) => house.into_iter().collect(),
            };
            sentences.push(tongue.pattern_in(self.step.pattern, &self.names(&houses)));
        }
        if self.scans() {
            sentences.extend(self.to_remember());
        } else {
            sentences.extend(self.facts());
            sentences.extend(self.strikes());
        }
        sentences
    }

    /// That locked candidates keep a digit of one house in another, if that is what the step says.
    fn locked_in_a_place(&self) -> Option<String> {
        let claim = self.step.claims.first().filter(|_| self.step.pattern == Pattern::LockedCandidates)?;
        match self.told_here(claim, Cells::Named(claim.cells())) {
            Told::In { digits, houses, places } => Some(self.tongue.locked_in(digits, houses[0], places[0])),
            _ => None,
        }
    }

    /// What the reader is to remember.
    pub(super) fn to_remember(&self) -> Vec<String> {
        let each = |claim: &Claim| {
            self.about(claim.cells(), |cells| self.tongue.remember(&self.told_here(claim, cells)))
        };
        self.step.claims.iter().flat_map(each).collect()
    }

    /// What is so, beside what is struck.
    fn facts(&self) -> Vec<String> {
        if matches!(self.step.pattern, Pattern::Fish(_)) {
            let (houses, places) = (self.names(&self.lines_claimed()), self.names(&self.lines_read()));
            return vec![self.tongue.fact(&Told::In { digits: self.step.digits(), houses, places })];
        }
        let each = |claim: &Claim| match claim {
            Claim::IsNot { .. } => self.only_places(),
            _ => self.about(claim.cells(), |cells| self.tongue.fact(&self.told_here(claim, cells))),
        };
        self.step.claims.iter().flat_map(each).collect()
    }

    /// The places that the houses which are read have for their digits.
    fn only_places(&self) -> Vec<String> {
        let places = self.step.bases.iter().filter_map(|base| match *base {
            Base::Place(house, digit) => Some((house, digit)),
            Base::Cell(_) | Base::Swap(_) => None,
        });
        let each = |(house, digit)| {
            self.about(self.before.cells(house, digit), |cells| {
                self.tongue.only_cells(Some(self.name(house)), DigitSet::single(digit), cells)
            })
        };
        places.flat_map(each).collect()
    }

    /// A claim of this step; a place is the house that the step names, if it names one.
    fn told_here(&self, claim: &Claim, cells: Cells) -> Told<'_> {
        let layout = self.before.layout();
        let seen =
            self.step.houses.iter().skip(1).filter(|&&house| claim.cells().is_subset(layout.at(house).set()));
        self.told(claim, cells, seen.fold(CellSet::EMPTY, |cells, &house| cells | *layout.at(house).set()))
    }

    /// What is struck: from a set's own cells, then from others.
    fn strikes(&self) -> Vec<String> {
        let own = self.own_cells();
        let strikes = self.before.strikes(&self.step.claims).into_iter();
        let (inside, outside): (Vec<_>, Vec<_>) = strikes.partition(|(cell, _)| own.contains(*cell));
        [self.strike_inside(inside), self.strike(outside)].concat()
    }

    /// That all candidates but those of a set go out of its cells.
    pub(super) fn strike_inside(&self, strikes: Vec<(Cell, DigitSet)>) -> Vec<String> {
        let cells: CellSet = strikes.into_iter().map(|(cell, _)| cell).collect();
        if cells.is_empty() { Vec::new() } else { self.about(cells, |cells| self.tongue.nothing_else(cells)) }
    }

    /// What is struck, cells that lose the same digits together.
    pub(super) fn strike(&self, strikes: Vec<(Cell, DigitSet)>) -> Vec<String> {
        let mut groups: Vec<(DigitSet, Vec<Cell>)> = Vec::new();
        for (cell, digits) in strikes {
            match groups.iter_mut().find(|(same, _)| *same == digits) {
                Some((_, cells)) => cells.push(cell),
                None => groups.push((digits, vec![cell])),
            }
        }
        let each = |(digits, cells): &(DigitSet, Vec<Cell>)| {
            in_parts(cells, &|part: &[Cell], also| {
                self.tongue.strike(*digits, Cells::Named(part.iter().copied().collect()), also)
            })
        };
        groups.iter().flat_map(each).collect()
    }

    /// The cells of a set, which hold nothing but its digits.
    pub(super) fn own_cells(&self) -> CellSet {
        let is_set = matches!(self.step.pattern, Pattern::HiddenSet(_) | Pattern::NakedSet(_));
        let own = self.step.claims.iter().filter(|_| is_set);
        own.fold(CellSet::EMPTY, |cells, claim| cells | claim.cells())
    }

    /// The houses, of those that have all of these cells, in which all of `struck` lie; none if some lie outside.
    pub(super) fn houses_cleared(&self, cells: CellSet, struck: CellSet) -> Vec<HouseId> {
        let layout = self.before.layout();
        let hit = |house: &HouseId| !(*layout.at(*house).set() & struck).is_empty();
        let houses: Vec<HouseId> = self.houses_of_all(cells).into_iter().filter(hit).collect();
        let all = houses.iter().fold(CellSet::EMPTY, |all, &house| all | *layout.at(house).set());
        if struck.is_subset(&all) { houses } else { Vec::new() }
    }
}
