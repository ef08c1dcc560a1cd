//! A climb: step after step of one puzzle, where what was worked out of one position is kept as far as the next one has
//! it in common. It changes no step, but that the trials of a climb may come to an end: see `off`.

use super::links::Linked;
use super::locked::Confined;
use super::nearest::Focus;
use super::off::Patience;
use super::pairs::Pairs;
use super::parts::Parts;
use super::scanning::gives;
use super::strays::Strays;
use super::{Reasoner, branches, proved};
use crate::ladder::Pattern;
use crate::step::{Claim, Deduction, Position};

/// What several patterns ask of a position, worked out when it is first asked for.
#[derive(Debug)]
pub(super) struct Noted {
    pub(super) confined: Confined,
    pub(super) linked: Linked,
    pub(super) pairs: Pairs,
    pub(super) parts: Parts,
    pub(super) strays: Strays,
    pub(super) patience: Patience,
}

impl Noted {
    fn new(patience: Patience) -> Noted {
        let confined = Confined::default();
        let (linked, pairs) = (Linked::default(), Pairs::default());
        let (parts, strays) = (Parts::default(), Strays::default());
        Noted { confined, linked, pairs, parts, strays, patience }
    }

    /// Another position is looked at.
    fn turn(&mut self) {
        self.linked.turn();
        self.pairs.turn();
        self.parts.turn();
        self.strays.turn();
    }
}

/// Goes up the ladder, step after step.
#[derive(Debug)]
pub struct Climb<'a> {
    reasoner: &'a Reasoner,
    patterns: &'a [Pattern],
    noted: Noted,
}

impl<'a> Climb<'a> {
    /// A climb with the patterns of a reasoner.
    pub fn new(reasoner: &'a Reasoner) -> Climb<'a> {
        Climb::by(reasoner, reasoner.patterns())
    }

    /// A climb with just these patterns, cheapest first.
    pub fn by(reasoner: &'a Reasoner, patterns: &'a [Pattern]) -> Climb<'a> {
        Climb { reasoner, patterns, noted: Noted::new(Patience::new(reasoner.supposable)) }
    }

    /// The same climb, where nothing is supposed beside what is tried: no trial splits a case to see more.
    #[must_use]
    pub fn without_cases(mut self) -> Climb<'a> {
        self.noted.patience.supposable = 0;
        self
    }

    /// The next step, see [`Reasoner::unproved`].
    pub fn unproved(&mut self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        self.find(position.is_finished(), |pattern, reasoner, noted| {
            if pattern.is_single() {
                reasoner.single(pattern, position, focus).map(|single| single.into_step(pattern))
            } else {
                reasoner.nearest(pattern, position, noted, focus)
            }
        })
    }

    /// The next step, if the checker accepts it.
    pub fn next(&mut self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        proved(position, self.unproved(position, focus)?)
    }

    /// Takes the next step, of which nothing is kept but its pattern and the focus that it leaves. Not proved.
    pub fn advance(
        &mut self,
        position: &mut Position,
        focus: Option<&Focus>,
    ) -> Option<(Pattern, Option<Focus>)> {
        self.find(position.is_finished(), |pattern, reasoner, noted| {
            let focus = if pattern.is_single() {
                Some(reasoner.single(pattern, position, focus)?.write(position))
            } else {
                let step = reasoner.nearest(pattern, position, noted, focus)?;
                position.apply(&step.claims);
                Focus::of(&step)
            };
            Some((pattern, focus))
        })
    }

    /// All that can be seen in a position.
    pub fn look_at<'b>(&'b mut self, position: &'b Position) -> Look<'b> {
        self.noted.turn();
        Look { reasoner: self.reasoner, position, noted: &mut self.noted }
    }

    /// What the first pattern that has something finds.
    fn find<T>(
        &mut self,
        is_finished: bool,
        mut find: impl FnMut(Pattern, &Reasoner, &mut Noted) -> Option<T>,
    ) -> Option<T> {
        if is_finished || self.noted.patience.is_over() {
            return None;
        }
        self.noted.turn();
        self.patterns.iter().find_map(|&pattern| find(pattern, self.reasoner, &mut self.noted))
    }
}

/// What can be seen in one position, pattern by pattern.
#[derive(Debug)]
pub struct Look<'a> {
    reasoner: &'a Reasoner,
    position: &'a Position,
    noted: &'a mut Noted,
}

impl Look<'_> {
    /// Every step that a pattern gives, always in the same order; not yet proved.
    pub fn all(&mut self, pattern: Pattern) -> Vec<Deduction> {
        let Look { reasoner, position, noted } = self;
        if pattern.is_single() {
            let mut all = Vec::new();
            reasoner.find_singles(pattern, position, &mut all);
            return all.into_iter().map(|single| single.into_step(pattern)).collect();
        }
        let mut all = Vec::new();
        reasoner.find(pattern, position, noted, &mut all);
        all
    }

    /// The steps that a pattern gives and after which a reader knows these claims, always in the same order; not yet proved.
    /// By a trial just what is claimed is tried, where that is one candidate: another one tells nothing of it.
    pub fn giving(&mut self, pattern: Pattern, claims: &[Claim]) -> Vec<Deduction> {
        let position = self.position;
        let mut steps = match pattern {
            Pattern::Trial => self.trials(claims),
            _ => self.all(pattern),
        };
        steps.retain(|step| gives(position, &step.claims, claims));
        steps
    }

    fn trials(&mut self, claims: &[Claim]) -> Vec<Deduction> {
        let Noted { linked, patience, .. } = &mut *self.noted;
        match self.position.strikes(claims)[..] {
            [(cell, digits)] if !patience.is_over() => {
                let trials = |digit| branches::trials((cell, digit), self.position, linked, patience);
                digits.only().map_or_else(Vec::new, trials)
            }
            _ => Vec::new(),
        }
    }
}
