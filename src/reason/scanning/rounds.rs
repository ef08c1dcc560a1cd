//! A plan where there is too much to try: all facts are supposed at once, round after round, until a digit can be
//! written. It may have more facts than it takes, and there may be another where it finds none.

use super::plan::{Plan, Start, seen_at};
use super::{Scanned, placements, remember};
use crate::board::Cell;
use crate::step::{Base, By, Claim, Deduction, Position, Seen};

/// The most rounds.
const ROUNDS: usize = 12;

impl Start<'_> {
    /// A plan with no step above a level and none that is seen in the one way.
    pub(super) fn in_rounds(&self, level: u8, without: Option<Seen>) -> Option<Plan> {
        let mut view = self.view.clone();
        let mut facts: Vec<Scanned> = Vec::new();
        for _ in (0..ROUNDS).take_while(|_| !self.sign.is_set()) {
            let open = seen_at(level, without, placements::up_to(level, &view, self.bands), &view);
            let plans = open.map(|placement| self.as_taken(self.only_needed(&facts, placement)));
            let low = plans.filter(|plan| plan.iter().all(|scanned| scanned.level <= level));
            if let Some(plan) = low.min_by_key(|plan| self.rank(plan)) {
                return Some(plan);
            }
            let before = view.known.clone();
            let count = facts.len();
            let more: Vec<Scanned> =
                seen_at(level, without, remember::news(level, &before, self.bands), &view).collect();
            for fact in more {
                // What another fact of this round has changed is found again, as it then is, in the next.
                if is_as_before(&fact.step, &before, &view.known) && view.known.strikes_any(&fact.step.claims)
                {
                    view.take(self.told + facts.len() + 1, &fact.step.claims);
                    facts.push(fact);
                }
            }
            if facts.len() == count {
                return None;
            }
        }
        None
    }

    /// A placement with those of the supposed facts that it leans on, in the order in which they were found.
    fn only_needed(&self, facts: &[Scanned], placement: Scanned) -> Plan {
        let numbers: Vec<usize> = self.needed(facts, &placement).into_iter().collect();
        let mut plan: Plan = numbers.iter().map(|number| facts[number - self.told - 1].clone()).collect();
        plan.push(placement);
        // Facts that nothing needs are left out, so the others move up.
        for scanned in &mut plan {
            for by in scanned.step.witnesses.iter_mut().flat_map(|witness| &mut witness.by) {
                if let By::Step(number) = by
                    && let Some(place) = numbers.iter().position(|supposed| supposed == number)
                {
                    *number = self.told + 1 + place;
                }
            }
        }
        plan
    }

    /// A plan whose steps have the level that comes from how much is held when they are taken.
    fn as_taken(&self, plan: Plan) -> Plan {
        let mut view = self.view.clone();
        let taken = plan.into_iter().zip(self.told + 1..).map(|(mut scanned, number)| {
            scanned.held = view.held_with(&scanned.step.claims);
            view.take(number, &scanned.step.claims);
            scanned.when_held()
        });
        taken.collect()
    }
}

/// Whether all that a step reads and speaks of is still what it was.
fn is_as_before(step: &Deduction, before: &Position, known: &Position) -> bool {
    let same_cell = |cell: Cell| known.candidates(cell) == before.candidates(cell);
    let same_base = |base: &Base| match *base {
        Base::Cell(cell) => same_cell(cell),
        Base::Place(house, digit) => known.places(house, digit) == before.places(house, digit),
        Base::Swap(ref swap) => swap.cells.iter().all(|&cell| same_cell(cell)),
    };
    let same_claim = |claim: &Claim| {
        let struck = |cell| before.candidates(cell) - known.candidates(cell);
        claim.cells().iter().all(|cell| (struck(cell) & claim.digits()).is_empty())
    };
    step.bases.iter().all(same_base) && step.claims.iter().all(same_claim)
}
