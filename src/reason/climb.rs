//! A climb: step after step of one puzzle, where what was worked out of one position is kept as far as the next one has
//! it in common. It changes no step.

use super::links::Linked;
use super::nearest::Focus;
use super::parts::Parts;
use super::strays::Strays;
use super::{Reasoner, proved};
use crate::ladder::Pattern;
use crate::step::{Deduction, Position};

/// What several patterns ask of a position, worked out when it is first asked for.
#[derive(Debug, Default)]
pub(super) struct Noted {
    pub(super) linked: Linked,
    pub(super) parts: Parts,
    pub(super) strays: Strays,
}

impl Noted {
    /// Another position is looked at.
    fn turn(&mut self) {
        self.linked = Linked::default();
        self.parts.turn();
        self.strays.turn();
    }
}

/// Goes up the ladder, step after step.
#[derive(Debug)]
pub struct Climb<'a> {
    reasoner: &'a Reasoner,
    noted: Noted,
}

impl<'a> Climb<'a> {
    /// A climb with the patterns of a reasoner.
    pub fn new(reasoner: &'a Reasoner) -> Climb<'a> {
        Climb { reasoner, noted: Noted::default() }
    }

    /// The next step, see [`Reasoner::unproved`].
    pub fn unproved(&mut self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        self.unproved_by(self.reasoner.patterns(), position, focus)
    }

    /// The same by these patterns, cheapest first.
    pub fn unproved_by(
        &mut self,
        patterns: &[Pattern],
        position: &Position,
        focus: Option<&Focus>,
    ) -> Option<Deduction> {
        if position.is_finished() {
            return None;
        }
        self.noted.turn();
        let Climb { reasoner, noted } = self;
        patterns.iter().find_map(|&pattern| reasoner.nearest(pattern, position, noted, focus))
    }

    /// The next step, if the checker accepts it.
    pub fn next(&mut self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        proved(position, self.unproved(position, focus)?)
    }
}
