//! Wings, chains of one digit, fish with fins, and uniqueness.

mod english;
mod german;
mod tongue;
mod unique;

use super::fit::{fits, in_parts};
use super::tell::Teller;
use super::tongue::Cells;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim};
pub(super) use tongue::{Corners, Further};

impl Teller<'_> {
    /// Whether the step is told here.
    pub(super) fn is_further(&self) -> bool {
        self.is_unique()
            || matches!(
                self.step.pattern,
                Pattern::SingleDigitChain
                    | Pattern::FinnedFish
                    | Pattern::XyWing
                    | Pattern::XyzWing
                    | Pattern::WWing
            )
    }

    /// Where to look.
    pub(super) fn place_further(&self) -> Vec<String> {
        match self.step.pattern {
            Pattern::SingleDigitChain => self.look_at_houses(&self.step.houses),
            Pattern::FinnedFish => self.look_at_houses(&self.lines_read()),
            Pattern::LastBivalueTrap => self.look_at_each(self.further_cells()),
            _ => self.look_at_each(self.cells_read()),
        }
    }

    fn look_at_houses(&self, houses: &[HouseId]) -> Vec<String> {
        let mut houses = houses.to_vec();
        houses.sort_unstable();
        in_parts(&houses, &|part: &[HouseId], _| self.tongue.look_at(&self.names(part)))
    }

    fn look_at_each(&self, cells: CellSet) -> Vec<String> {
        let cells: Vec<Cell> = cells.iter().collect();
        in_parts(&cells, &|part: &[Cell], also| {
            self.tongue.look_at_cells(part.iter().copied().collect(), also)
        })
    }

    /// The cells of the pattern: those of a wing, those of a swap.
    fn cells_read(&self) -> CellSet {
        let mut cells = CellSet::EMPTY;
        for base in &self.step.bases {
            match base {
                Base::Cell(cell) if !self.is_unique() => _ = cells.insert(*cell),
                Base::Swap(swap) => cells |= swap.cells.iter().copied().collect(),
                Base::Cell(_) | Base::Place(..) => {}
            }
        }
        cells
    }

    /// What is there and what follows, in brief.
    pub(super) fn what_further(&self) -> Vec<String> {
        let there = match self.step.pattern {
            _ if !self.full => Vec::new(),
            Pattern::SingleDigitChain | Pattern::FinnedFish => {
                let mut houses = self.lines_read();
                houses.sort_unstable();
                let sentence = self.tongue.pattern_in(self.step.pattern, &self.names(&houses));
                if fits(&sentence) {
                    vec![sentence]
                } else {
                    [self.place_further(), vec![self.tongue.that_is(self.step.pattern)]].concat()
                }
            }
            Pattern::LastBivalueTrap => vec![self.tongue.that_is(self.step.pattern)],
            _ => self.about(self.cells_read(), |cells| self.tongue.pattern_at(self.step.pattern, cells)),
        };
        [there, self.strike(self.before.strikes(&self.step.claims))].concat()
    }

    /// The whole reason.
    pub(super) fn why_further(&self) -> Vec<String> {
        let reason = match self.step.pattern {
            Pattern::XyWing | Pattern::XyzWing => self.wing(),
            Pattern::WWing => self.w_wing(),
            Pattern::SingleDigitChain => self.chain_of_one_digit(),
            Pattern::FinnedFish => self.finned(),
            _ => self.unique(),
        };
        [self.place_further(), reason].concat()
    }

    fn name_pattern(&self) -> Vec<String> {
        if self.full { vec![self.tongue.that_is(self.step.pattern)] } else { Vec::new() }
    }

    fn strikes_in_sight(&self, count: usize) -> Vec<String> {
        let sentence = self.tongue.no_cell_in_sight(self.step.digits(), count);
        [vec![sentence], self.strike(self.before.strikes(&self.step.claims))].concat()
    }

    /// A pivot and two wings: one of the ends holds the digit, whatever the pivot holds.
    fn wing(&self) -> Vec<String> {
        let [Base::Cell(pivot), Base::Cell(one), Base::Cell(other)] = self.step.bases[..] else {
            return Vec::new();
        };
        let Some(end) = self.step.digits().only() else { return Vec::new() };
        let candidates = self.before.candidates(pivot);
        let mut sentences = vec![self.tongue.digits_left(candidates, pivot)];
        let mut ends: CellSet = [one, other].into_iter().collect();
        for wing in [one, other] {
            let leads = self.before.candidates(wing) - DigitSet::single(end);
            sentences.extend(leads.only().map(|digit| self.tongue.with_it(digit, wing, end)));
        }
        if candidates.contains(end) {
            ends.insert(pivot);
            sentences.push(self.tongue.or_else(end));
        }
        sentences.extend(self.about(ends, |cells| self.tongue.one_holds(end, cells)));
        [sentences, self.name_pattern(), self.strikes_in_sight(ends.len())].concat()
    }

    /// Two cells with the same two digits, one of which a house does not let both hold.
    fn w_wing(&self) -> Vec<String> {
        let [Base::Cell(one), Base::Place(house, tie), Base::Cell(_)] = self.step.bases[..] else {
            return Vec::new();
        };
        let Some(end) = self.step.digits().only() else { return Vec::new() };
        let sentences = vec![
            self.tongue.both_hold_only(self.before.candidates(one)),
            self.tongue.one_sees(self.name(house), tie),
            self.tongue.not_both(tie, end),
        ];
        [sentences, self.name_pattern(), self.strikes_in_sight(2)].concat()
    }

    /// From where the digit is not, link by link, to where it is then.
    fn chain_of_one_digit(&self) -> Vec<String> {
        let Some(digit) = self.step.digits().only() else { return Vec::new() };
        let layout = self.before.layout();
        let struck = self.step.claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells());
        // Where the digit is not, at first: where all cells that are struck would see it.
        let mut seeing = struck;
        let mut ends = CellSet::EMPTY;
        let mut sentences = Vec::new();
        for (number, house) in self.lines_read().into_iter().enumerate() {
            let places = self.before.cells(house, digit);
            let out: CellSet = places.iter().filter(|&place| seeing.is_subset(layout.peers(place))).collect();
            let rest = places - out;
            if number == 0 {
                ends = out;
                sentences.extend(self.about(out, |cells| self.tongue.suppose_none(digit, cells)));
            }
            sentences.extend(self.about(rest, |cells| self.tongue.then_in(self.name(house), digit, cells)));
            seeing = rest;
        }
        ends |= seeing;
        sentences.extend(self.about(ends, |cells| self.tongue.one_holds(digit, cells)));
        [sentences, self.name_pattern(), self.strikes_in_sight(ends.len())].concat()
    }

    /// A fish but for its fins.
    fn finned(&self) -> Vec<String> {
        let Some(digit) = self.step.digits().only() else { return Vec::new() };
        let layout = self.before.layout();
        let lines = self.lines_read();
        let covers = &self.step.houses[lines.len()..];
        let places = |houses: &[HouseId]| -> CellSet {
            houses.iter().fold(CellSet::EMPTY, |all, &house| all | self.before.cells(house, digit))
        };
        let covered = covers.iter().fold(CellSet::EMPTY, |all, &cover| all | *layout.at(cover).set());
        let fins = places(&lines) - covered;
        let (covers, lines) = (self.names(covers), self.names(&lines));
        let mut sentences = self.about(fins, |fins| self.tongue.places_but_for(digit, &lines, &covers, fins));
        sentences.push(self.tongue.else_in(digit, fins.len(), &covers, &lines));
        sentences.extend(self.name_pattern());
        let none = |cells| self.tongue.no_other_in_sight(digit, &covers, cells);
        let named = none(Cells::Named(fins));
        sentences.push(if fits(&named) { named } else { none(Cells::These(fins.len())) });
        [sentences, self.strike(self.before.strikes(&self.step.claims))].concat()
    }

    /// The one digit and the one cell that a step places.
    fn places_one(&self) -> Option<(Digit, Cell)> {
        let place = |claim: &Claim| {
            let (digit, cells) = Self::placed(claim)?;
            Some((digit, cells.iter().next()?))
        };
        self.step.claims.iter().find_map(place)
    }
}
