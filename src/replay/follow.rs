//! Whether a claim follows from what is known: one step of a pattern that counts gives it.

use super::{Ground, State};
use crate::board::DigitSet;
use crate::ladder::Pattern;
use crate::reason::{Climb, Scanner};
use crate::step::{Base, Claim, Deduction, Position};

impl Ground<'_> {
    /// The cheapest step that gives these claims: as a scanner would see it, in a walk that is read so, or else by the
    /// patterns that count.
    pub(super) fn follows(&self, state: &State, claims: &[Claim]) -> Option<Deduction> {
        let seen = self.scanning.then(|| self.seen(state, state.facts(), claims)).flatten();
        seen.or_else(|| self.by_marks(&state.known, claims, &|pattern| self.level_of(pattern) <= self.level))
    }

    /// The easiest way to see these claims by the digits that stand and these facts, each the number of its step.
    pub(super) fn seen(
        &self,
        state: &State,
        facts: impl IntoIterator<Item = usize>,
        claims: &[Claim],
    ) -> Option<Deduction> {
        let ways = self.scanner(state, facts).ways(claims);
        let counts = ways.into_iter().filter(|way| self.level_of(way.step.pattern) <= self.level);
        let easiest = counts.min_by_key(|way| (way.level, way.step.facts_used().len(), way.looks))?;
        Some(Deduction { claims: claims.into(), ..easiest.step })
    }

    /// A reader who has nothing but the digits that stand and these steps.
    pub(super) fn scanner(&self, state: &State, facts: impl IntoIterator<Item = usize>) -> Scanner {
        Scanner::remembering(self.layout(), state.known.grid(), state.told(), facts)
    }

    /// The cheapest step by a pattern that counts, with all candidates on the table.
    pub(super) fn by_marks(
        &self,
        known: &Position,
        claims: &[Claim],
        counts: &dyn Fn(Pattern) -> bool,
    ) -> Option<Deduction> {
        let step = if known.strikes_any(claims) {
            let mut patterns = self.reasoner().patterns().iter().copied().filter(|pattern| counts(*pattern));
            let mut climb = Climb::new(self.reasoner());
            let mut look = climb.look_at(known);
            patterns.find_map(|pattern| look.giving(pattern, claims).into_iter().next())
        } else {
            // Nothing is struck, so no finder offers it: what is claimed can be read off.
            let instances = Scanner::with_marks(known).instances(claims);
            let instance = instances.into_iter().find(|step| counts(step.pattern));
            instance.or_else(|| Some(read_off(claims)))
        }?;
        Some(Deduction { claims: claims.into(), ..step })
    }
}

/// The step that reads claims off the candidates.
pub(super) fn read_off(claims: &[Claim]) -> Deduction {
    let bases = claims.iter().flat_map(|claim| match *claim {
        Claim::Is { cells, .. } | Claim::IsNot { cells, .. } => {
            cells.iter().map(Base::Cell).collect::<Vec<_>>()
        }
        Claim::Within { house, digits, .. } => digits.iter().map(|digit| Base::Place(house, digit)).collect(),
    });
    let digits = claims.iter().fold(DigitSet::EMPTY, |all, claim| all | claim.digits());
    let pattern = match claims.first() {
        Some(Claim::Within { .. }) if digits.len() == 1 => Pattern::LockedCandidates,
        Some(Claim::Within { .. }) => Pattern::HiddenSet(size(digits.len())),
        Some(claim) if claim.cells().len() > 1 => Pattern::NakedSet(size(claim.cells().len())),
        _ => Pattern::NakedSingle,
    };
    Deduction::with_marks(pattern, [], claims.iter().cloned(), bases)
}

fn size(count: usize) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}
