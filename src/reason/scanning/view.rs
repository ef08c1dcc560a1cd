//! What a reader sees and remembers.

use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, Layout};
use crate::step::{Claim, Position};

/// A remembered fact.
#[derive(Clone, Debug)]
pub(super) struct Fact {
    /// The step that stated it.
    pub(super) step: usize,
    pub(super) claims: Vec<Claim>,
    /// What it closes that no digit closed when it was stated.
    bars: Vec<(Cell, DigitSet)>,
}

impl Fact {
    /// Whether the fact closes a cell to a digit.
    pub(super) fn bars(&self, cell: Cell, digit: Digit) -> bool {
        self.bars.iter().any(|(barred, digits)| *barred == cell && digits.contains(digit))
    }

    /// Whether it is a cell of the fact that is closed, and to a digit that the fact does not speak of.
    pub(super) fn closes_own(&self, (cell, digit): (Cell, Digit)) -> bool {
        self.cells().contains(cell) && !self.digits().contains(digit)
    }

    /// The cells that it speaks of.
    pub(super) fn cells(&self) -> CellSet {
        self.claims.iter().fold(CellSet::EMPTY, |cells, claim| cells | claim.cells())
    }

    /// The digits that it speaks of.
    pub(super) fn digits(&self) -> DigitSet {
        self.claims.iter().fold(DigitSet::EMPTY, |digits, claim| digits | claim.digits())
    }

    /// Whether nothing of it is left to remember: its cells are filled, or its digits stand in its house.
    fn is_spent(&self, known: &Position) -> bool {
        self.claims.iter().all(|claim| claim.is_spent(known))
    }
}

/// The digits that stand, and what is remembered beside them.
#[derive(Clone, Debug)]
pub(super) struct View {
    /// What the digits alone close.
    pub(super) sight: Position,
    /// What digits and facts close.
    pub(super) known: Position,
    /// The facts that are not spent, oldest first.
    pub(super) facts: Vec<Fact>,
}

impl View {
    pub(super) fn new(layout: &Layout, grid: &Grid) -> View {
        let sight = Position::new(layout, grid);
        View { known: sight.clone(), sight, facts: Vec::new() }
    }

    /// How many facts are in play when a step claims this.
    pub(super) fn held_with(&self, claims: &[Claim]) -> usize {
        self.facts.len() + usize::from(!claims.iter().any(Claim::places))
    }

    /// Takes note of a step, which has this number in the walk.
    pub(super) fn take(&mut self, step: usize, claims: &[Claim]) {
        if claims.iter().any(Claim::places) {
            self.sight.apply(claims);
            self.known.apply(claims);
            self.facts.retain(|fact| !fact.is_spent(&self.known));
        } else {
            self.remember(step, claims);
        }
    }

    /// Remembers what a step says, and writes nothing.
    pub(super) fn remember(&mut self, step: usize, claims: &[Claim]) {
        let bars = self.sight.strikes(claims);
        // A fact that says more about the same takes the place of the older one.
        self.facts.retain(|fact| !says_more(claims, &fact.claims));
        self.facts.push(Fact { step, claims: claims.to_vec(), bars });
        for (cell, digits) in self.known.strikes(claims) {
            self.known.strike(cell, digits);
        }
        self.facts.retain(|fact| !fact.is_spent(&self.known));
    }
}

/// Whether the first claims say all that the second do.
fn says_more(new: &[Claim], old: &[Claim]) -> bool {
    let covers = |old: &Claim| new.iter().any(|new| covers(new, old));
    old.iter().all(covers)
}

fn covers(new: &Claim, old: &Claim) -> bool {
    match (new, old) {
        (Claim::Within { house, .. }, Claim::Within { house: same, .. }) => {
            house == same && old.digits().is_subset(new.digits()) && new.cells().is_subset(&old.cells())
        }
        (Claim::Is { .. }, Claim::Is { .. }) => {
            old.cells().is_subset(&new.cells()) && new.digits().is_subset(old.digits())
        }
        _ => false,
    }
}
