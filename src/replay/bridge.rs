//! What is missing before a claim follows.

use super::ground::USUAL_LEVEL;
use super::{Ground, State};
use crate::ladder::Pattern;
use crate::proof;
use crate::reason::{Climb, Focus};
use crate::step::{Claim, Deduction, Position};

/// The most steps that are supposed for one claim.
const MOST_STEPS: usize = 200;

impl Ground<'_> {
    /// Steps from the ladder, cheapest first, after which these claims follow, less every one without which they still do:
    /// one pass from the last to the first, so that none is left that could go alone. Where the patterns that count do not
    /// come so far, dearer ones are tried up to the usual level: a step that names its pattern makes it count. `None` if
    /// these do not either.
    pub(super) fn bridge(&self, state: &State, claims: &[Claim]) -> Option<Vec<Deduction>> {
        let higher = || self.level.max(USUAL_LEVEL);
        self.bridge_by(self.level, state, claims).or_else(|| self.bridge_by(higher(), state, claims))
    }

    /// The step that gives these claims at once by a pattern that would count if a reason named it, or where none did.
    pub(super) fn unnamed_step(&self, state: &State, claims: &[Claim]) -> Option<Deduction> {
        self.by_marks(&state.known, claims, &|pattern| self.level_of(pattern) <= self.level.max(USUAL_LEVEL))
    }

    fn bridge_by(&self, level: u8, state: &State, claims: &[Claim]) -> Option<Vec<Deduction>> {
        let mut known = state.known.clone();
        let mut steps: Vec<Deduction> = Vec::new();
        let mut before: Vec<Position> = Vec::new();
        let mut focus: Option<Focus> = None;
        let patterns = self.reasoner().patterns().iter().copied();
        let patterns: Vec<Pattern> = patterns.filter(|it| self.level_of(*it) <= level).collect();
        let mut climb = Climb::by(self.reasoner(), &patterns);
        while !self.follows_from(&known, claims) {
            if steps.len() == MOST_STEPS {
                return None;
            }
            let next = climb.unproved(&known, focus.as_ref())?;
            proof::with_marks(&known, &next).ok()?;
            before.push(known.clone());
            known.apply(&next.claims);
            focus = Focus::of(&next);
            steps.push(next);
        }
        for at in (0..steps.len()).rev() {
            if self.leads_to(level, &before[at], &steps[at + 1..], claims) {
                steps.remove(at);
            }
        }
        Some(steps)
    }

    fn follows_from(&self, known: &Position, claims: &[Claim]) -> bool {
        self.follows_up_to(self.level, known, claims)
    }

    fn follows_up_to(&self, level: u8, known: &Position, claims: &[Claim]) -> bool {
        self.by_marks(known, claims, &|pattern| self.level_of(pattern) <= level).is_some()
    }

    /// Whether each of these steps holds in turn, and the claims follow in the end.
    fn leads_to(&self, level: u8, start: &Position, steps: &[Deduction], claims: &[Claim]) -> bool {
        let mut known = start.clone();
        for step in steps {
            let news = known.strikes_any(&step.claims) || step.places();
            // Its own pattern may be there no more, and a dearer one not count.
            if !news
                || proof::with_marks(&known, step).is_err()
                || !self.follows_up_to(level, &known, &step.claims)
            {
                return false;
            }
            known.apply(&step.claims);
        }
        self.follows_from(&known, claims)
    }
}
