//! All that can be seen at once, and the ways to see that something holds which somebody else says.

use super::idea::Idea;
use super::{HIGHEST_LEVEL, Scanner, placements, remember};
use crate::board::{CellSet, DigitSet};
use crate::proof;
use crate::reason::Scanned;
use crate::step::{Claim, Deduction, Position};

impl Scanner {
    /// Every way to see at once that these claims hold, by digits that stand and by remembered facts; also where nothing
    /// is struck by them.
    pub fn ways(&self, claims: &[Claim]) -> Vec<Scanned> {
        let giving = self.ideas_for(claims).filter(|idea| gives(&self.view.known, &idea.claims, claims));
        giving.filter_map(|idea| idea.complete(&self.view)).collect()
    }

    /// The same, where all that is known is on the table as marks: by these alone, each step without witnesses.
    pub fn instances(&self, claims: &[Claim]) -> Vec<Deduction> {
        let giving = self.ideas_for(claims).filter(|idea| gives(&self.view.known, &idea.claims, claims));
        let step = |Idea { pattern, houses, claims, bases, .. }| {
            Deduction::with_marks(pattern, houses, claims, bases)
        };
        giving.map(step).collect()
    }

    /// Every step that can be seen at once and says something new, easiest first; each is proved when it is asked for.
    pub fn open(&self) -> impl Iterator<Item = Scanned> {
        let known = &self.view.known;
        let new_facts = self.facts().filter(|fact| known.strikes_any(&fact.claims));
        let ideas = self.placements().chain(new_facts);
        let complete = ideas.filter_map(|idea| idea.complete(&self.view));
        // Where much is held already, what is easier to see still comes first.
        let mut open: Vec<(u8, Scanned)> = complete.map(|it| (it.level, it.when_held())).collect();
        open.sort_by_key(|(level, it)| {
            (it.level, !it.step.places(), *level, it.step.facts_used().len(), it.looks)
        });
        open.into_iter().map(|(_, it)| it).filter(|it| self.proves(&it.step))
    }

    /// Whether the checker accepts a step here.
    pub(super) fn proves(&self, step: &Deduction) -> bool {
        let known = &self.view.known;
        let fact = |n: usize| self.told.get(n.checked_sub(1)?).map(Vec::as_slice);
        proof::by_scanning(known.layout(), known.grid(), fact, step).is_ok()
    }

    /// Every fact about just these cells that can be stated at once.
    pub fn facts_at(&self, cells: CellSet) -> Vec<Scanned> {
        let about = self.ideas().filter(|idea| {
            let spoken = idea.claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells());
            spoken == cells && !idea.claims.iter().any(Claim::places)
        });
        about.filter_map(|idea| idea.complete(&self.view)).collect()
    }

    fn ideas(&self) -> impl Iterator<Item = Idea> {
        self.placements().chain(self.facts())
    }

    /// Those that may give these claims: no fact writes a digit.
    fn ideas_for(&self, claims: &[Claim]) -> impl Iterator<Item = Idea> {
        let facts = (!claims.iter().any(Claim::places)).then(|| self.facts());
        self.placements().chain(facts.into_iter().flatten())
    }

    fn placements(&self) -> impl Iterator<Item = Idea> + use<> {
        placements::up_to(HIGHEST_LEVEL, &self.view, &self.bands).into_iter()
    }

    fn facts(&self) -> impl Iterator<Item = Idea> + use<> {
        remember::all(HIGHEST_LEVEL, &self.view.known, &self.bands).into_iter()
    }
}

/// Whether a reader who knows the first claims knows the others: the same digits are placed and all that is struck is
/// struck; where nothing is, the same is said.
pub fn gives(known: &Position, claims: &[Claim], others: &[Claim]) -> bool {
    let places = |claim: &Claim, other: &Claim| {
        claim.places() && claim.digits() == other.digits() && other.cells().is_subset(&claim.cells())
    };
    let mut placing = others.iter().filter(|other| other.places());
    if placing.any(|other| !claims.iter().any(|claim| places(claim, other))) {
        return false;
    }
    let wanted = known.strikes(others);
    if wanted.is_empty() {
        return says(known, claims, others);
    }
    let mut struck = vec![DigitSet::EMPTY; known.layout().size().cells()];
    let side = known.layout().size().usize();
    known.each_strike(claims, |cell, digits| {
        struck[usize::from(cell.row()) * side + usize::from(cell.col())] |= digits;
    });
    wanted.iter().all(|(cell, digits)| {
        digits.is_subset(struck[usize::from(cell.row()) * side + usize::from(cell.col())])
    })
}

/// Whether the first claims say all that the others do.
pub fn says(known: &Position, claims: &[Claim], others: &[Claim]) -> bool {
    others.iter().all(|other| claims.iter().any(|claim| covers(known, claim, other)))
}

fn covers(known: &Position, claim: &Claim, other: &Claim) -> bool {
    let more = other.cells().is_subset(&claim.cells()) && claim.digits().is_subset(other.digits());
    let fills = |claim: &Claim| claim.cells().len() == claim.digits().len();
    // As many cells as digits: the digits have no other place in a house of these cells.
    let keeps =
        fills(claim) && other.digits().is_subset(claim.digits()) && claim.cells().is_subset(&other.cells());
    match (claim, other) {
        (Claim::Is { .. }, Claim::Is { .. }) => more,
        (Claim::IsNot { cells, digits }, Claim::IsNot { cells: fewer, digits: less }) => {
            fewer.is_subset(cells) && less.is_subset(*digits)
        }
        (Claim::Is { .. }, Claim::IsNot { .. }) => {
            other.cells().is_subset(&claim.cells()) && (claim.digits() & other.digits()).is_empty()
        }
        (
            Claim::Within { house, digits, cells },
            Claim::Within { house: same, digits: fewer, cells: more },
        ) => {
            (house == same && fewer.is_subset(*digits) && cells.is_subset(more))
                || (keeps && cells.is_subset(known.layout().at(*same).set()))
        }
        (Claim::Is { cells, .. }, Claim::Within { house, .. }) => {
            keeps && cells.is_subset(known.layout().at(*house).set())
        }
        (Claim::Within { .. }, Claim::Is { .. }) => fills(claim) && more,
        (Claim::Within { .. } | Claim::IsNot { .. }, _) => false,
    }
}
