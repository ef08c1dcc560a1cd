//! Where a puzzle can teach something: the positions of its walk in which one pattern, or one way of seeing, is the only
//! way on.
//!
//! With marks on the table a pattern is the only way on where it gives a step, and no pattern does that stands before it
//! on the ladder.
//!
//! Under scanning a way on is a digit to write, with the facts to be stated first: facts lie about everywhere, and most of
//! them lead nowhere. A way of seeing is the only way on where it gives the next step, and no digit can be written, by
//! steps no higher than those that it leads to, without any step seen so. A third line is not told apart from the long
//! count of its line: it is the same step.

use super::grade::members;
use crate::board::Grid;
use crate::ladder::{Pattern, PatternName};
use crate::reason::{Climb, Reasoner, Scanner, Walk};
use crate::step::{Position, Seen};

/// What can be taught.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Subject {
    /// The patterns of this name: a pattern, or a group of them.
    Pattern(&'static str),
    /// A way of seeing.
    Seen(Seen),
}

impl Subject {
    /// What a name stands for.
    pub fn of(name: &'static PatternName) -> Subject {
        let seen = Seen::ALL.into_iter().find(|seen| seen.name() == name.name);
        seen.map_or(Subject::Pattern(name.name), Subject::Seen)
    }

    /// Its name in [`NAMES`](crate::ladder::NAMES).
    pub fn name(self) -> &'static str {
        match self {
            Subject::Pattern(name) => name,
            Subject::Seen(seen) => seen.name(),
        }
    }
}

/// The walk of a puzzle, and where on it something can be taught.
#[derive(Clone, Debug)]
pub struct Lessons {
    /// The walk: with marks for a pattern, by scanning for a way of seeing.
    pub walk: Walk,
    /// The steps before which it is the only way on, as places in the walk, rising.
    pub places: Vec<usize>,
}

impl Lessons {
    /// Where a puzzle, which has one solution, teaches something.
    pub fn of(reasoner: &Reasoner, givens: &Grid, subject: Subject) -> Lessons {
        match subject {
            Subject::Pattern(name) => Lessons::by_pattern(reasoner, givens, name),
            Subject::Seen(seen) => Lessons::by_seeing(reasoner, givens, seen),
        }
    }

    /// What is known before a step, which stands at this place in the walk.
    pub fn before(&self, place: usize) -> Position {
        let mut known = self.walk.start.clone();
        for step in self.walk.steps.iter().take(place) {
            known.apply(&step.deduction.claims);
        }
        known
    }

    /// The names of the patterns that finish from the position before a step, as the ladder takes them; `None` if it
    /// does not finish.
    pub fn finish(&self, reasoner: &Reasoner, place: usize) -> Option<Vec<&'static str>> {
        let rest = Walk::with_marks(reasoner, self.before(place));
        let is_used = |pattern: &&Pattern| rest.steps.iter().any(|step| step.deduction.pattern == **pattern);
        let mut names: Vec<&str> =
            reasoner.patterns().iter().filter(is_used).map(|pattern| pattern.name()).collect();
        names.dedup();
        rest.is_finished().then_some(names)
    }

    fn by_pattern(reasoner: &Reasoner, givens: &Grid, name: &str) -> Lessons {
        let start = Position::new(reasoner.layout(), givens).with_one_solution();
        let walk = Walk::with_marks(reasoner, start);
        let names = members(name);
        let is_meant = |pattern: Pattern| names.contains(&pattern.name());
        let mut climb = Climb::new(reasoner);
        let mut only = |before: &Position, own: Pattern| {
            let mut look = climb.look_at(before);
            let cheaper = reasoner.patterns().iter().take_while(|pattern| **pattern != own);
            let mut others = cheaper.filter(|pattern| !is_meant(**pattern));
            is_meant(own) && others.all(|&pattern| look.all(pattern).is_empty())
        };
        let steps = walk.positions().enumerate();
        let places = steps.filter(|(_, (before, step))| only(before, step.deduction.pattern));
        let places = places.map(|(at, _)| at).collect();
        Lessons { walk, places }
    }

    fn by_seeing(reasoner: &Reasoner, givens: &Grid, seen: Seen) -> Lessons {
        let walk = Walk::by_scanning(reasoner, givens);
        let mut scanner = Scanner::new(reasoner.layout(), givens);
        let mut places = Vec::new();
        for (at, step) in walk.steps.iter().enumerate() {
            let plan = walk.steps[at..].split_inclusive(|step| step.deduction.places()).next();
            let level = plan.and_then(|steps| steps.iter().filter_map(|step| step.level).max());
            if step.deduction.seen == Some(seen)
                && level.is_some_and(|level| !scanner.goes_on_without(seen, level))
            {
                places.push(at);
            }
            scanner.take(&step.deduction.claims);
        }
        Lessons { walk, places }
    }
}
