//! Which houses and which remembered facts close what a step passes over.

use super::tell::Teller;
use super::tongue::Told;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::step::{By, Claim, Deduction};

/// A candidate that is closed.
type Candidate = (Cell, Digit);

/// A house, and the digits that it holds and by which it closes candidates.
pub(super) type Line = (HouseId, DigitSet);

impl<'a> Teller<'a> {
    /// The candidates that are closed by a digit in sight, of those that a step passes over and that `tells` asks for.
    pub(super) fn closed_by_digits(&self, tells: impl Fn(Cell, Digit) -> bool) -> Vec<Candidate> {
        let witnesses = self.step.witnesses.iter().filter(|witness| matches!(witness.by[..], [By::Cell(_)]));
        witnesses.map(|witness| (witness.cell, witness.digit)).filter(|&(c, d)| tells(c, d)).collect()
    }

    /// Houses that hold the digits of these candidates and through which each is in sight: as few as one finds by
    /// always taking the one that closes most, those that the step names before others.
    pub(super) fn lines(&self, mut closed: Vec<Candidate>) -> Vec<Line> {
        let layout = self.before.layout();
        let mut lines: Vec<Line> = Vec::new();
        loop {
            let mut counts: Vec<(HouseId, usize)> = Vec::new();
            for &(cell, digit) in &closed {
                for slot in layout.slots(cell) {
                    if !self.before.missing(slot.house).contains(digit) {
                        match counts.iter_mut().find(|(house, _)| *house == slot.house) {
                            Some((_, count)) => *count += 1,
                            None => counts.push((slot.house, 1)),
                        }
                    }
                }
            }
            let named = |house: &HouseId| self.step.houses.contains(house);
            let widest =
                counts.iter().max_by_key(|(house, count)| (named(house), *count, std::cmp::Reverse(*house)));
            let Some(&(house, _)) = widest else { break };
            let closes = |&(cell, digit): &Candidate| {
                layout.at(house).set().contains(cell) && !self.before.missing(house).contains(digit)
            };
            let digits = closed.iter().filter(|at| closes(at)).map(|(_, digit)| *digit).collect();
            closed.retain(|at| !closes(at));
            lines.push((house, digits));
        }
        lines.sort_unstable_by_key(|(house, _)| *house);
        lines
    }

    /// Sentences that say which houses hold the digits that close these candidates.
    pub(super) fn tell_lines(&self, closed: Vec<Candidate>) -> Vec<String> {
        let mut groups: Vec<(DigitSet, Vec<HouseId>)> = Vec::new();
        for (house, digits) in self.lines(closed) {
            match groups.iter_mut().find(|(same, _)| *same == digits) {
                Some((_, houses)) => houses.push(house),
                None => groups.push((digits, vec![house])),
            }
        }
        groups.iter().flat_map(|(digits, houses)| self.hold(houses, *digits)).collect()
    }

    /// Sentences that recall the facts on which a step leans, for the candidates that `tells` asks for.
    pub(super) fn tell_facts(&self, tells: impl Fn(Cell, Digit) -> bool) -> Vec<String> {
        let mut sentences = Vec::new();
        for number in self.step.facts_used() {
            let barred: CellSet = self
                .step
                .witnesses
                .iter()
                .filter(|witness| {
                    witness.by.contains(&By::Step(number)) && tells(witness.cell, witness.digit)
                })
                .map(|witness| witness.cell)
                .collect();
            let Some(fact) = self.fact(number).filter(|_| !barred.is_empty()) else { continue };
            for claim in &fact.claims {
                sentences.extend(
                    self.about(claim.cells(), |cells| {
                        self.tongue.remembered(&self.told(claim, cells, barred))
                    }),
                );
            }
        }
        sentences.extend(self.tell_digits_in_facts(tells));
        sentences
    }

    /// The digits without which a remembered fact would not close its candidate.
    fn tell_digits_in_facts(&self, tells: impl Fn(Cell, Digit) -> bool) -> Vec<String> {
        let together = |by: &[By]| by.len() > 1;
        let witnesses = self.step.witnesses.iter().filter(|witness| together(&witness.by));
        let told = witnesses.filter(|witness| tells(witness.cell, witness.digit));
        let mut cells: Vec<Cell> = told
            .flat_map(|witness| &witness.by)
            .filter_map(|by| match by {
                By::Cell(cell) => Some(*cell),
                By::Step(_) => None,
            })
            .collect();
        cells.sort_unstable();
        cells.dedup();
        let stands = |cell: Cell| {
            let digit = self.before.grid().get(cell)?;
            Some(
                self.tongue
                    .fact(&Told::Stands { digit, cells: super::tongue::Cells::Named(CellSet::single(cell)) }),
            )
        };
        cells.into_iter().filter_map(stands).collect()
    }

    /// The step of this number.
    pub(super) fn fact(&self, number: usize) -> Option<&'a Deduction> {
        self.earlier.get(number.checked_sub(1)?)
    }

    /// The claims of the facts on which the step leans.
    pub(super) fn recalled(&self) -> impl Iterator<Item = &'a Claim> {
        let facts = self.step.facts_used().into_iter().filter_map(|number| self.fact(number));
        facts.flat_map(|fact| &fact.claims)
    }
}
