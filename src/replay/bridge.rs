//! What is missing before a claim follows.

use super::{Ground, State};
use crate::proof;
use crate::reason::Focus;
use crate::step::{Claim, Deduction, Position};

/// The most steps that are supposed for one claim.
const MOST_STEPS: usize = 200;

impl Ground<'_> {
    /// Steps from the ladder, cheapest first, after which these claims follow, less every one without which they still do:
    /// one pass from the last to the first, so that none is left that could go alone. `None` if the patterns that count do
    /// not come so far.
    pub(super) fn bridge(&self, state: &State, claims: &[Claim]) -> Option<Vec<Deduction>> {
        let mut known = state.known.clone();
        let mut steps: Vec<Deduction> = Vec::new();
        let mut before: Vec<Position> = Vec::new();
        let mut focus: Option<Focus> = None;
        while !self.follows_from(&known, claims) {
            if steps.len() == MOST_STEPS {
                return None;
            }
            let next = self.patterns().find_map(|it| self.reasoner().by(it, &known, focus.as_ref()))?;
            proof::with_marks(&known, &next).ok()?;
            before.push(known.clone());
            known.apply(&next.claims);
            focus = Focus::of(&next);
            steps.push(next);
        }
        for at in (0..steps.len()).rev() {
            if self.leads_to(&before[at], &steps[at + 1..], claims) {
                steps.remove(at);
            }
        }
        Some(steps)
    }

    fn follows_from(&self, known: &Position, claims: &[Claim]) -> bool {
        self.by_marks(known, claims, &|pattern| self.level_of(pattern) <= self.level).is_some()
    }

    /// Whether each of these steps holds in turn, and the claims follow in the end.
    fn leads_to(&self, start: &Position, steps: &[Deduction], claims: &[Claim]) -> bool {
        let mut known = start.clone();
        for step in steps {
            let news = known.strikes_any(&step.claims) || step.places();
            // Its own pattern may be there no more, and a dearer one not count.
            if !news || proof::with_marks(&known, step).is_err() || !self.follows_from(&known, &step.claims) {
                return false;
            }
            known.apply(&step.claims);
        }
        self.follows_from(&known, claims)
    }
}
