//! What a reader has at some point of a walk.

use crate::board::{DigitSet, HouseId};
use crate::step::{Claim, Deduction, Position};
use std::sync::Arc;

/// What a reader has at some point of a walk.
#[derive(Clone, Debug)]
pub struct State {
    /// What is known, with what had to be supposed.
    pub known: Position,
    /// What is known from what was said alone.
    pub(super) said: Position,
    /// The steps so far, numbered from 1.
    pub steps: Vec<Step>,
    /// What was said that houses miss.
    pub(super) looks: Vec<(HouseId, DigitSet)>,
}

/// A step of a walk.
#[derive(Clone, Debug)]
pub struct Step {
    /// What gives it, with its claims as they were written. Shared, so that a state is cheap to keep.
    pub deduction: Arc<Deduction>,
    /// It was not written: it had to be supposed for what was.
    pub supposed: bool,
}

impl State {
    /// A reader who knows this and was told nothing.
    pub fn new(known: Position) -> State {
        State { said: known.clone(), known, steps: Vec::new(), looks: Vec::new() }
    }

    /// Whether a later state of the same walk has nothing that this one has not.
    pub(super) fn is_as_far_as(&self, later: &State) -> bool {
        (self.steps.len(), self.looks.len()) == (later.steps.len(), later.looks.len())
    }

    /// Takes a step.
    pub(super) fn take(&mut self, deduction: Deduction, supposed: bool) {
        if !supposed {
            self.said.apply(&deduction.claims);
        }
        self.known.apply(&deduction.claims);
        self.steps.push(Step { deduction: Arc::new(deduction), supposed });
    }

    /// Takes a step of which less was said than it now comes to: what was supposed before it settles the rest.
    pub(super) fn take_as_said(&mut self, deduction: Deduction, said: &[Claim]) {
        self.said.apply(said);
        self.known.apply(&deduction.claims);
        self.steps.push(Step { deduction: Arc::new(deduction), supposed: false });
    }

    /// The steps so far, of which `steps[n - 1]` is step `n`.
    pub fn deductions(&self) -> Vec<Deduction> {
        self.steps.iter().map(|step| Deduction::clone(&step.deduction)).collect()
    }

    /// What each step so far claims.
    pub(super) fn told(&self) -> Vec<Vec<Claim>> {
        self.steps.iter().map(|step| step.deduction.claims.to_vec()).collect()
    }

    /// The numbers of the steps that state a fact to be remembered.
    pub fn facts(&self) -> impl Iterator<Item = usize> {
        (1..).zip(&self.steps).filter(|(_, step)| !step.deduction.places()).map(|(number, _)| number)
    }

    /// The claims of a step.
    pub(super) fn claims(&self, number: usize) -> &[Claim] {
        number.checked_sub(1).and_then(|at| self.steps.get(at)).map_or(&[], |step| &step.deduction.claims)
    }
}
