//! The easiest plan: the lowest level that any plan has, then the fewest facts, then the one that keeps to the thread of
//! the walk.
//!
//! At each level, and for none, one, two and more facts in turn, every set of facts is tried that can be stated one after
//! another, each as it is seen when those before it are remembered, and at the level that it has then. A plan is a digit
//! that leans on all of them, by itself or through another. Below the level of a step that leans on two facts the facts
//! of a plan are a chain, each made from the one before: so nothing else is tried there. Where even a reader who keeps
//! all facts in mind at no cost writes no digit, nothing is tried at all (`reach`). Past [`STATES`] sets at one level a
//! plan is found round by round (`rounds`): it is sound, and perhaps not the easiest.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::idea::Idea;
use super::reach::Reach;
use super::view::View;
use super::{Band, HIGHEST_LEVEL, Scanned, TWO_FACTS_LEVEL, placements, remember};
use crate::board::Cell;
use crate::reason::nearest::Focus;
use crate::reason::off::Sign;
use crate::step::{Claim, Seen};

/// How many sets of facts are tried for a plan at one level.
const STATES: usize = 2000;

/// The steps of a plan: facts, and the digit that needs them.
pub(super) type Plan = Vec<Scanned>;

/// Where a reader stands who looks for a plan.
#[derive(Clone, Copy)]
pub(super) struct Start<'a> {
    /// What is seen and remembered.
    pub(super) view: &'a View,
    pub(super) bands: &'a [Band],
    /// How many steps have been taken: the first of the plan has the number after it.
    pub(super) told: usize,
    pub(super) focus: Option<&'a Focus>,
    /// That nobody waits any more: then a plan may be missed, or not be the easiest.
    pub(super) sign: &'a Sign,
}

/// What a reader knows who has stated some facts.
struct State<'a> {
    view: Cow<'a, View>,
    /// In the order in which they were stated.
    facts: Vec<Scanned>,
    /// Which they are: places in [`Names`], rising.
    names: Vec<usize>,
}

/// Every fact that was met, by what it says.
type Names = Vec<Vec<Claim>>;

impl<'a> Start<'a> {
    /// The easiest plan.
    pub(super) fn easiest(&self) -> Option<Plan> {
        let mut reach = Reach::new(self.view, self.bands);
        (1..=HIGHEST_LEVEL).find_map(|level| self.at(level, None, &mut reach))
    }

    /// A plan with no step above a level and none that is seen in the one way, of the fewest facts.
    pub(super) fn within(&self, level: u8, without: Option<Seen>) -> Option<Plan> {
        self.at(level, without, &mut Reach::new(self.view, self.bands))
    }

    fn at(&self, level: u8, without: Option<Seen>, reach: &mut Reach) -> Option<Plan> {
        let begin = State { view: Cow::Borrowed(self.view), facts: Vec::new(), names: Vec::new() };
        let mut layer = vec![begin];
        let mut names = Names::new();
        let mut left = STATES;
        loop {
            if let Some(plan) = self.best(&layer, level, without) {
                return Some(plan);
            }
            if left == 0 {
                return self.in_rounds(level, without);
            }
            if names.is_empty() && !reach.writes_at(level, without) {
                return None;
            }
            layer = self.after_one_more(&layer, level, without, &mut names, left);
            left -= layer.len();
            if layer.is_empty() {
                return None;
            }
        }
    }

    /// The best plan that needs just the facts of one of these states.
    fn best(&self, layer: &[State], level: u8, without: Option<Seen>) -> Option<Plan> {
        let wanted = layer.iter().take_while(|_| !self.sign.is_set());
        let plans = wanted.flat_map(|state| {
            let ideas = placements::up_to(level, &state.view, self.bands);
            let open = within(level, without, ideas, &state.view);
            let whole =
                open.filter(|placement| self.needed(&state.facts, placement).len() == state.facts.len());
            whole.map(|placement| [&state.facts[..], &[placement]].concat())
        });
        plans.min_by_key(|plan| self.rank(plan))
    }

    /// These states with one more fact each, in every way, up to so many; each set of facts once.
    fn after_one_more(
        &self,
        layer: &[State],
        level: u8,
        without: Option<Seen>,
        names: &mut Names,
        most: usize,
    ) -> Vec<State<'a>> {
        let mut met: BTreeSet<Vec<usize>> = BTreeSet::new();
        let mut after = Vec::new();
        for state in layer.iter().take_while(|_| !self.sign.is_set()) {
            let ideas = remember::news(level, &state.view.known, self.bands);
            for fact in within(level, without, ideas, &state.view) {
                if level < TWO_FACTS_LEVEL && !self.follows_on(&state.facts, &fact) {
                    continue;
                }
                let mut with: Vec<usize> = state.names.clone();
                with.push(name(&fact.step.claims, names));
                with.sort_unstable();
                if met.insert(with.clone()) {
                    let mut view = View::clone(&state.view);
                    view.take(self.told + state.facts.len() + 1, &fact.step.claims);
                    let facts = [&state.facts[..], &[fact]].concat();
                    after.push(State { view: Cow::Owned(view), facts, names: with });
                    if after.len() == most {
                        return after;
                    }
                }
            }
        }
        after
    }

    /// Whether a fact leans on the last one: where no step leans on two, each does, or something is not needed.
    fn follows_on(&self, facts: &[Scanned], fact: &Scanned) -> bool {
        facts.is_empty() || fact.step.facts_used().contains(&(self.told + facts.len()))
    }

    /// Which of the supposed facts a placement leans on, by their numbers in the walk.
    pub(super) fn needed(&self, facts: &[Scanned], placement: &Scanned) -> BTreeSet<usize> {
        let mut needed: BTreeSet<usize> = BTreeSet::new();
        let mut open = vec![&placement.step];
        while let Some(step) = open.pop() {
            for number in step.facts_used().into_iter().filter(|number| *number > self.told) {
                if needed.insert(number) {
                    open.push(&facts[number - self.told - 1].step);
                }
            }
        }
        needed
    }

    /// What comes first among plans: low levels, few facts, then the thread of the walk.
    pub(super) fn rank(&self, plan: &[Scanned]) -> impl Ord + use<> {
        let level = plan.iter().map(|scanned| scanned.level).max();
        let first = &plan[0].step;
        let last = &plan[plan.len() - 1];
        let cell: Option<Cell> = last.step.claims.iter().find_map(|claim| claim.cells().iter().next());
        let layout = self.view.known.layout();
        let thread = self
            .focus
            .zip(cell)
            .map(|(focus, cell)| focus.distance(layout.peers(focus.cell), cell, first.digits()));
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
}

/// The place of a fact among those that were met.
fn name(claims: &[Claim], names: &mut Names) -> usize {
    names.iter().position(|met| met == claims).unwrap_or_else(|| {
        names.push(claims.to_vec());
        names.len() - 1
    })
}

/// The ideas with their witnesses, where that takes no more than a level, and is not seen in the one way.
fn within(level: u8, without: Option<Seen>, ideas: Vec<Idea>, view: &View) -> impl Iterator<Item = Scanned> {
    let held = seen_at(level, without, ideas, view).map(Scanned::when_held);
    held.filter(move |scanned| scanned.level <= level)
}

/// The same, however much is held. Facts only raise a level.
pub(super) fn seen_at(
    level: u8,
    without: Option<Seen>,
    ideas: Vec<Idea>,
    view: &View,
) -> impl Iterator<Item = Scanned> {
    let complete = ideas.into_iter().filter_map(|idea| idea.complete(view));
    complete.filter(move |scanned| scanned.level <= level && scanned.step.seen != without)
}
