//! Scanning: nothing is written but digits. A reader crosses lines against a box, counts what a house still misses, and
//! remembers a few facts. Every candidate that a step passes over has a witness: a digit that stands, or a fact.
//!
//! A **plan** is a digit to write with the facts that must first be remembered for it. The plan of the lowest level is
//! taken, then the one with the fewest facts, then the one nearest to the step before; so no fact is stated that
//! nothing needs.

mod idea;
mod placements;
mod remember;
mod third_line;
mod view;
mod ways;

use std::collections::BTreeSet;

use super::nearest::Focus;
use crate::board::{Cell, CellSet, Grid, HouseId, HouseName, Layout};
use crate::step::{Base, By, Claim, Deduction, Position, Seen};

use idea::Idea;
pub use placements::FEW;
use view::View;
pub use ways::{gives, says};

/// The highest level of a step under scanning; what needs more needs marks.
pub const HIGHEST_LEVEL: u8 = 5;
/// From so many facts held at once a step is of the highest level.
pub const MANY_FACTS: usize = 4;
/// The most facts in a row that are tried before a digit is written.
const ROUNDS: usize = 12;

/// A step under scanning, and what it asks of a reader.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Scanned {
    /// The step.
    pub step: Deduction,
    /// What must be looked at and kept in mind for it, 1 to [`HIGHEST_LEVEL`].
    pub level: u8,
    /// How many houses and facts a reader consults for it.
    pub looks: usize,
    /// How many facts are in play: those remembered before it and not yet spent, and its own.
    pub held: usize,
}

/// A reader who scans: the digits that stand, and the facts that are remembered.
#[derive(Clone, Debug)]
pub struct Scanner {
    bands: Vec<Band>,
    view: View,
    /// What the steps so far have claimed: facts have the numbers of their steps.
    told: Vec<Vec<Claim>>,
    plan: Vec<Scanned>,
}

/// Three boxes side by side, and the three lines through them.
#[derive(Clone, Debug)]
struct Band {
    boxes: [HouseId; 3],
    lines: [HouseId; 3],
}

impl Scanner {
    /// A reader who sees this grid and remembers nothing.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn new(layout: &Layout, grid: &Grid) -> Scanner {
        Scanner { bands: bands(layout), view: View::new(layout, grid), told: Vec::new(), plan: Vec::new() }
    }

    /// A reader who sees this grid and remembers some of the steps before, which are numbered from 1.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn remembering(
        layout: &Layout,
        grid: &Grid,
        told: Vec<Vec<Claim>>,
        facts: impl IntoIterator<Item = usize>,
    ) -> Scanner {
        let mut scanner = Scanner::new(layout, grid);
        for step in facts {
            if let Some(claims) = step.checked_sub(1).and_then(|at| told.get(at)) {
                scanner.view.remember(step, claims);
            }
        }
        Scanner { told, ..scanner }
    }

    /// A reader for whom all candidates of this position are on the table.
    pub fn with_marks(position: &Position) -> Scanner {
        Scanner {
            bands: bands(position.layout()),
            view: View { sight: position.clone(), known: position.clone(), facts: Vec::new() },
            told: Vec::new(),
            plan: Vec::new(),
        }
    }

    /// What the reader knows: candidates as far as digits and remembered facts close them.
    pub fn known(&self) -> &Position {
        &self.view.known
    }

    /// The next step, if the checker accepts it; nearest to the focus where there are several of its kind. `None` where
    /// scanning is stuck.
    pub fn next(&mut self, focus: Option<&Focus>) -> Option<Scanned> {
        if self.plan.is_empty() {
            self.plan = (1..=HIGHEST_LEVEL).find_map(|level| self.plan_at(level, None, focus))?;
        }
        let mut scanned = self.plan.remove(0);
        if !self.proves(&scanned.step) {
            return None;
        }
        scanned.held = self.view.facts.len() + usize::from(!scanned.step.places());
        self.note(&scanned.step.claims);
        Some(scanned)
    }

    /// Takes a step that somebody else found, and plans anew after it.
    pub fn take(&mut self, claims: &[Claim]) {
        self.plan.clear();
        self.note(claims);
    }

    fn note(&mut self, claims: &[Claim]) {
        self.told.push(claims.to_vec());
        self.view.take(self.told.len(), claims);
    }

    /// Whether a digit can be written by steps no higher than a level, none of which is seen in this way; where facts
    /// are first to be stated for it, these neither. A third line and the long count of the same line are one step.
    pub fn goes_on_without(&self, seen: Seen, level: u8) -> bool {
        if (1..=level).any(|level| self.plan_at(level, Some(seen), None).is_some()) {
            return true;
        }
        // A plan supposes many facts at once, and then may lean on more of them than it takes: so each is tried alone.
        let facts = within(level, Some(seen), remember::all(&self.view, &self.bands), &self.view);
        let mut facts = facts.filter(|_| self.are_few(1, level));
        facts.any(|fact| {
            let mut view = self.view.clone();
            view.take(self.told.len() + 1, &fact.step.claims);
            within(level, Some(seen), placements::all(&view, &self.bands), &view).next().is_some()
        })
    }

    /// Whether so many facts more may be held at a level.
    fn are_few(&self, more: usize, level: u8) -> bool {
        more == 0 || self.view.facts.len() + more < MANY_FACTS || level == HIGHEST_LEVEL
    }

    /// The best plan with no step above a level and none that is seen in the one way; the step to be taken first comes
    /// first.
    fn plan_at(&self, level: u8, without: Option<Seen>, focus: Option<&Focus>) -> Option<Vec<Scanned>> {
        let mut view = self.view.clone();
        let mut facts: Vec<Scanned> = Vec::new();
        for _ in 0..ROUNDS {
            let open = within(level, without, placements::all(&view, &self.bands), &view);
            let plans = open.map(|placement| self.needed(&facts, placement));
            let few = |plan: &Vec<Scanned>| self.are_few(plan.len() - 1, level);
            if let Some(plan) = plans.filter(few).min_by_key(|plan| rank(plan, &view, focus)) {
                return Some(self.in_order(plan));
            }
            let more: Vec<Scanned> =
                within(level, without, remember::all(&view, &self.bands), &view).collect();
            let before = view.known.clone();
            let known_facts = facts.len();
            for fact in more {
                // What another fact of this round has changed is found again, as it then is, in the next.
                if is_as_before(&fact.step, &before, &view.known) && view.known.strikes_any(&fact.step.claims)
                {
                    view.take(self.told.len() + facts.len() + 1, &fact.step.claims);
                    facts.push(fact);
                }
            }
            if facts.len() == known_facts {
                return None;
            }
        }
        None
    }

    /// A placement with those of the supposed facts that it leans on, in the order in which they were found.
    fn needed(&self, facts: &[Scanned], placement: Scanned) -> Vec<Scanned> {
        let mut needed: BTreeSet<usize> = BTreeSet::new();
        let mut open = vec![&placement.step];
        while let Some(step) = open.pop() {
            for number in step.facts_used().into_iter().filter(|number| *number > self.told.len()) {
                if needed.insert(number) {
                    open.push(&facts[number - self.told.len() - 1].step);
                }
            }
        }
        let mut plan: Vec<Scanned> =
            needed.iter().map(|number| facts[number - self.told.len() - 1].clone()).collect();
        let numbers: Vec<usize> = needed.into_iter().collect();
        plan.push(placement);
        // Facts that nothing needs are left out, so the others move up.
        for scanned in &mut plan {
            for by in scanned.step.witnesses.iter_mut().flat_map(|witness| &mut witness.by) {
                if let By::Step(number) = by
                    && let Some(place) = numbers.iter().position(|supposed| supposed == number)
                {
                    *number = self.told.len() + 1 + place;
                }
            }
        }
        plan
    }

    /// A plan whose steps have the level that comes from how much is held when they are taken.
    fn in_order(&self, mut plan: Vec<Scanned>) -> Vec<Scanned> {
        for (scanned, more) in plan.iter_mut().zip(1..) {
            if !scanned.step.places() && self.view.facts.len() + more >= MANY_FACTS {
                scanned.level = HIGHEST_LEVEL;
            }
        }
        plan
    }
}

/// The ideas with their witnesses, where that takes no more than a level, and is not seen in the one way.
fn within(level: u8, without: Option<Seen>, ideas: Vec<Idea>, view: &View) -> impl Iterator<Item = Scanned> {
    // Facts only raise a level.
    let low = ideas.into_iter().filter(move |idea| idea.level <= level);
    let complete = low.filter_map(|idea| idea.complete(view));
    complete.filter(move |scanned| scanned.level <= level && scanned.step.seen != without)
}

/// Whether all that a step reads and speaks of is still what it was.
fn is_as_before(step: &Deduction, before: &Position, known: &Position) -> bool {
    let same_cell = |cell: Cell| known.candidates(cell) == before.candidates(cell);
    let same_base = |base: &Base| match *base {
        Base::Cell(cell) => same_cell(cell),
        Base::Place(house, digit) => known.places(house, digit) == before.places(house, digit),
    };
    let same_claim = |claim: &Claim| {
        let struck = |cell| before.candidates(cell) - known.candidates(cell);
        claim.cells().iter().all(|cell| (struck(cell) & claim.digits()).is_empty())
    };
    step.bases.iter().all(same_base) && step.claims.iter().all(same_claim)
}

/// What comes first among plans: low levels, few facts, then the thread of the walk.
fn rank(plan: &[Scanned], view: &View, focus: Option<&Focus>) -> impl Ord + use<> {
    let level = plan.iter().map(|scanned| scanned.level).max();
    let first = &plan[0].step;
    let last = &plan[plan.len() - 1];
    let cell: Option<Cell> = last.step.claims.iter().find_map(|claim| claim.cells().iter().next());
    let layout = view.known.layout();
    let thread = focus.zip(cell).map(|(focus, cell)| focus.distance(layout, cell, first.digits()));
    let (other_digit, out_of_sight, apart) = thread.unwrap_or_default();
    let in_line = last.step.houses.first().is_none_or(|&house| !layout.at(house).name.is_block());
    (
        level,
        plan.len(),
        last.step.facts_used().len(),
        other_digit,
        out_of_sight,
        last.looks,
        in_line,
        apart,
        cell,
    )
}

/// The bands and stacks in which three boxes share three lines.
fn bands(layout: &Layout) -> Vec<Band> {
    let mut found = Vec::new();
    if layout.boxes().is_none() {
        return found;
    }
    let directions: [fn(&HouseName) -> bool; 2] =
        [|name| matches!(name, HouseName::Row(_)), |name| matches!(name, HouseName::Column(_))];
    for is_line in directions {
        let lines: Vec<HouseId> = layout.house_ids().filter(|&id| is_line(&layout.at(id).name)).collect();
        for trio in lines.chunks_exact(3) {
            let all = trio.iter().fold(CellSet::EMPTY, |all, &line| all | *layout.at(line).set());
            let boxes: Vec<HouseId> = layout
                .house_ids()
                .filter(|&id| layout.at(id).name.is_block() && layout.at(id).set().is_subset(&all))
                .collect();
            if let (Ok(boxes), Ok(lines)) = (boxes.try_into(), trio.to_vec().try_into()) {
                found.push(Band { boxes, lines });
            }
        }
    }
    found
}
