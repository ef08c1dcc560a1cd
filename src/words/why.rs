//! The whole reason.

use super::tell::{Teller, by_digits};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, HouseName};
use crate::ladder::Pattern;
use crate::step::Claim;

/// So many digits of a crossing line are still listed.
const MOST_LISTED: usize = 8;

impl Teller<'_> {
    /// Where to look, what is there, what follows.
    pub(super) fn why(&self) -> Vec<String> {
        if self.is_further() {
            return self.why_further();
        }
        let place = match self.house() {
            Some(house) if self.scans() && self.reads_cells() => {
                vec![self.tongue.look_at(&[self.name(house)])]
            }
            _ => self.place(),
        };
        let there = match self.house() {
            _ if self.is_settling() => return [self.settled(), self.follows()].concat(),
            Some(_) if self.is_third_line() => self.third_line(),
            house => match self.step.pattern {
                Pattern::Fish(_) => self.fish(),
                Pattern::NakedSingle => self.counted(house),
                Pattern::NakedSet(_) => house.map_or_else(Vec::new, |house| self.naked_set(house)),
                Pattern::HiddenSet(_) => house.map_or_else(Vec::new, |house| self.hidden_set(house)),
                Pattern::LockedCandidates => house.map_or_else(Vec::new, |house| self.locked(house)),
                Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle => self.closed(|_, _| true),
                _ => Vec::new(),
            },
        };
        [place, there, self.follows()].concat()
    }

    /// Whether the step is about what cells can hold, not about where a digit can go.
    fn reads_cells(&self) -> bool {
        matches!(self.step.pattern, Pattern::NakedSingle | Pattern::NakedSet(_)) && !self.is_settling()
    }

    /// A house by its name, unless nothing was said since the reader was sent there.
    fn named_again(&self, house: HouseId) -> Option<&HouseName> {
        let sent_there = match self.step.pattern {
            Pattern::LastOpenCell => true,
            Pattern::LockedCandidates if !self.scans() => self.step.houses.len() == 1,
            _ => self.step.witnesses.is_empty(),
        };
        (!sent_there).then(|| self.name(house))
    }

    /// What closes the candidates that `tells` asks for: digits first, then facts.
    fn closed(&self, tells: impl Fn(Cell, Digit) -> bool + Copy) -> Vec<String> {
        [self.tell_lines(self.closed_by_digits(tells)), self.tell_facts(tells)].concat()
    }

    /// A remembered fact, and the digits that resolve it.
    fn settled(&self) -> Vec<String> {
        let recalled = self.recalled().fold(DigitSet::EMPTY, |digits, claim| digits | claim.digits());
        let resolves = |_: Cell, digit: Digit| recalled.contains(digit);
        [self.tell_facts(|_, _| true), self.tell_lines(self.closed_by_digits(resolves))].concat()
    }

    /// What a house misses, and what closes those digits to the cells that are read.
    fn counted(&self, house: Option<HouseId>) -> Vec<String> {
        let Some(house) = house.filter(|_| self.scans()) else { return Vec::new() };
        let missing = self.before.missing(house);
        let misses = by_digits(missing, &|digits, also| self.tongue.misses(digits, also));
        [misses, self.closed(|_, digit| missing.contains(digit))].concat()
    }

    fn naked_set(&self, house: HouseId) -> Vec<String> {
        let (digits, cells) = (self.step.digits(), self.own_cells());
        let mut sentences = self.counted(Some(house));
        let is_all = self.scans() && digits == self.before.missing(house);
        let named = self.named_again(house);
        sentences.extend(self.about(cells, |cells| {
            if is_all {
                self.tongue.only_cells(named, digits, cells)
            } else {
                self.tongue.only_digits(named, digits, cells)
            }
        }));
        sentences
    }

    fn hidden_set(&self, house: HouseId) -> Vec<String> {
        let (digits, cells) = (self.step.digits(), self.own_cells());
        if let Some(sentences) = self.told_from_the_line(house, digits, cells) {
            return sentences;
        }
        let mut sentences = self.closed(|_, _| true);
        let named = self.named_again(house);
        sentences.extend(self.about(cells, |cells| self.tongue.only_cells(named, digits, cells)));
        sentences
    }

    /// A set told from the lines that cross its house: which of their digits the house has, which it lacks, and which
    /// cells are left off the lines. `None` where the lines do not all hold all digits of the set.
    fn told_from_the_line(&self, house: HouseId, digits: DigitSet, cells: CellSet) -> Option<Vec<String>> {
        let lines: Vec<HouseId> =
            self.lines(self.closed_by_digits(|_, _| true)).into_iter().map(|(line, _)| line).collect();
        if lines.is_empty() || !self.step.facts_used().is_empty() {
            return None;
        }
        let layout = self.before.layout();
        let all = layout.size().digits();
        let common = lines.iter().fold(all, |common, &line| common - self.before.missing(line));
        let off_lines = lines.iter().fold(*layout.at(house).set(), |off, &line| off - *layout.at(line).set());
        let open: CellSet = off_lines.iter().filter(|&cell| self.before.grid().get(cell).is_none()).collect();
        let missing = self.before.missing(house);
        if common & missing != digits || open != cells {
            return None;
        }
        let has = common - missing;
        let mut sentences = if has.is_empty() || common.len() > MOST_LISTED {
            let mut sentences = self.hold(&lines, digits);
            sentences.push(self.tongue.lacks_all(self.name(house), digits.len()));
            sentences
        } else {
            let mut sentences = self.hold(&lines, common);
            sentences.push(self.tongue.has_and_lacks(self.name(house), has, digits));
            sentences
        };
        let lines = self.names(&lines);
        sentences.extend(self.about(cells, |cells| self.tongue.open_outside(&lines, cells)));
        Some(sentences)
    }

    fn locked(&self, house: HouseId) -> Vec<String> {
        let mut sentences = self.closed(|_, _| true);
        let Some(digit) = self.step.digits().only() else { return sentences };
        let cells = self.before.cells(house, digit);
        let second = self.step.houses.get(1).copied();
        let again = self.named_again(house);
        let layout = self.before.layout();
        sentences.extend(self.about(cells, |named| {
            match second.filter(|&second| cells.is_subset(layout.at(second).set())) {
                Some(second) => self.tongue.places_within(digit, again, self.name(second), named),
                None => self.tongue.only_cells(again, DigitSet::single(digit), named),
            }
        }));
        sentences
    }

    fn fish(&self) -> Vec<String> {
        let Some(digit) = self.step.digits().only() else { return Vec::new() };
        let covers = self.names(&self.lines_claimed());
        vec![self.tongue.places_in_lines(digit, self.lines_read().len(), &covers)]
    }

    /// Two boxes of a band that have the digits in two lines, so that the third line is left to the third box.
    fn third_line(&self) -> Vec<String> {
        let [own, first, second, line, ..] = self.step.houses[..] else { return Vec::new() };
        let layout = self.before.layout();
        let digits = self.step.digits();
        let on_line = *layout.at(line).set();
        let beside = (*layout.at(first).set() | *layout.at(second).set()) & on_line;
        let here = *layout.at(own).set() & on_line;
        let mut sentences = self.closed(|cell, _| beside.contains(cell));
        if beside.iter().all(|cell| self.before.grid().get(cell).is_some()) {
            sentences.push(self.tongue.full_in(self.name(line), &self.names(&[first, second])));
        }
        let (boxes, lines) = (self.names(&[first, second]), self.names(&self.lines_beside(line, first)));
        sentences.push(self.tongue.so_have_in(digits, &boxes, &lines));
        sentences.push(self.tongue.leaves_line(self.name(line), self.name(own), digits));
        sentences.extend(self.closed(|cell, _| here.contains(cell)));
        let cells = self.step.claims.iter().fold(CellSet::EMPTY, |cells, claim| cells | claim.cells());
        if !self.step.places() && cells.len() == digits.len() {
            let own = Some(self.name(own));
            sentences.extend(self.about(cells, |cells| self.tongue.only_cells(own, digits, cells)));
        }
        sentences
    }

    /// The lines through a box that run beside this one.
    fn lines_beside(&self, line: HouseId, house: HouseId) -> Vec<HouseId> {
        let layout = self.before.layout();
        let direction = std::mem::discriminant(self.name(line));
        let through = |&id: &HouseId| !(*layout.at(id).set() & *layout.at(house).set()).is_empty();
        let beside = |id: &HouseId| *id != line && std::mem::discriminant(self.name(*id)) == direction;
        layout.house_ids().filter(beside).filter(through).collect()
    }

    /// What follows.
    fn follows(&self) -> Vec<String> {
        if self.step.places() {
            let placed = self.step.claims.iter().filter_map(Self::placed);
            return placed.flat_map(|(digit, cells)| self.placing(digit, cells)).collect();
        }
        let mut sentences = Vec::new();
        if self.full {
            sentences.push(self.tongue.that_is(self.step.pattern));
        }
        sentences.extend(if self.scans() { self.to_remember() } else { self.consequences() });
        sentences
    }

    /// That a digit is written.
    fn placing(&self, digit: Digit, cells: CellSet) -> Vec<String> {
        let Some(cell) = cells.iter().next().filter(|_| cells.len() == 1) else {
            return self.about(cells, |cells| self.tongue.so_put(digit, cells));
        };
        let house = self.house();
        let named = house.and_then(|house| self.named_again(house));
        let reason = match (self.step.pattern, house) {
            (Pattern::NakedSingle, _) if self.is_settling() => {
                return self.about(cells, |cells| self.tongue.so_put(digit, cells));
            }
            (Pattern::NakedSingle, _) | (_, None) => self.tongue.one_digit(digit, house.map(|_| cell)),
            (Pattern::LastOpenCell, Some(_)) => self.tongue.one_open(named, digit, cell),
            (_, Some(_)) => self.tongue.one_place(named, digit, cell),
        };
        vec![reason, self.tongue.so_put_there(digit, self.step.pattern)]
    }

    /// What is struck, with marks on the table, and why.
    fn consequences(&self) -> Vec<String> {
        match self.step.pattern {
            Pattern::Fish(_) => self.consequences_of_fish(),
            _ => self.step.claims.iter().flat_map(|claim| self.consequences_of(claim)).collect(),
        }
    }

    fn consequences_of(&self, claim: &Claim) -> Vec<String> {
        let strikes = self.before.strikes(std::slice::from_ref(claim));
        if matches!(claim, Claim::IsNot { .. }) {
            return [
                vec![self.tongue.no_cell_in_sight(claim.digits(), self.places_read())],
                self.strike(strikes),
            ]
            .concat();
        }
        let own = self.own_cells();
        let (inside, outside): (Vec<_>, Vec<_>) =
            strikes.into_iter().partition(|(cell, _)| own.contains(*cell));
        let mut sentences = self.strike_inside(inside);
        if !outside.is_empty() {
            let struck = outside.iter().map(|(cell, _)| *cell).collect();
            let houses = self.houses_cleared(claim.cells(), struck);
            sentences.push(if houses.is_empty() {
                self.tongue.no_cell_in_sight(claim.digits(), claim.cells().len())
            } else {
                self.tongue.no_other_cell(&self.names(&houses), claim.digits())
            });
            sentences.extend(self.strike(outside));
        }
        sentences
    }

    /// How many places the one house that is read has for the one digit.
    fn places_read(&self) -> usize {
        let places = self.house().zip(self.step.digits().only());
        places.map_or(0, |(house, digit)| self.before.cells(house, digit).len())
    }

    fn consequences_of_fish(&self) -> Vec<String> {
        let layout = self.before.layout();
        let (covers, lines) = (self.names(&self.lines_claimed()), self.names(&self.lines_read()));
        let mut sentences = vec![self.tongue.so_have_in(self.step.digits(), &covers, &lines)];
        let covered =
            self.lines_claimed().iter().fold(CellSet::EMPTY, |all, &line| all | *layout.at(line).set());
        let (inside, outside): (Vec<_>, Vec<_>) =
            self.before.strikes(&self.step.claims).into_iter().partition(|(cell, _)| covered.contains(*cell));
        sentences.extend(self.strike(inside));
        for claim in &self.step.claims {
            let Claim::Within { house, digits, cells } = *claim else { continue };
            let in_sight = layout.common_peers(cells);
            let seen: Vec<_> = outside.iter().copied().filter(|(cell, _)| in_sight.contains(*cell)).collect();
            if !seen.is_empty() {
                let house = Some(self.name(house));
                sentences.extend(self.about(cells, |cells| self.tongue.only_cells(house, digits, cells)));
                sentences.push(self.tongue.no_cell_in_sight(digits, cells.len()));
                sentences.extend(self.strike(seen));
            }
        }
        sentences
    }
}
