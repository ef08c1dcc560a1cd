//! A whole walk: step after step, each proved, until the grid is full or nothing more is found.

use super::scanning::{Scanned, Scanner};
use super::{Climb, Focus, Reasoner};
use crate::board::Grid;
use crate::step::{Claim, Deduction, Position};

/// A step of a walk, and what it asks of a reader.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Step {
    /// The step.
    pub deduction: Deduction,
    /// Under scanning, what must be looked at and kept in mind: 1 to
    /// [`scanning::HIGHEST_LEVEL`](super::scanning::HIGHEST_LEVEL).
    pub level: Option<u8>,
    /// How many houses and facts a reader consults.
    pub looks: usize,
    /// How many facts are in play, its own among them.
    pub held: usize,
}

/// The steps from a position as far as they go.
#[derive(Clone, Debug)]
pub struct Walk {
    /// What was known before the first step.
    pub start: Position,
    /// The steps.
    pub steps: Vec<Step>,
    /// What is known after the last step.
    pub end: Position,
}

impl Walk {
    /// A walk with no step yet.
    pub fn new(start: Position) -> Walk {
        Walk { end: start.clone(), steps: Vec::new(), start }
    }

    /// A walk on which every candidate is on the table.
    pub fn with_marks(reasoner: &Reasoner, start: Position) -> Walk {
        let mut walk = Walk::new(start);
        walk.go_on_with_marks(reasoner);
        walk
    }

    /// A walk on which nothing is written but digits, from this grid, as far as scanning goes.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn by_scanning(reasoner: &Reasoner, grid: &Grid) -> Walk {
        let layout = reasoner.layout();
        let mut walk = Walk::new(Position::new(layout, grid));
        let mut scanner = Scanner::new(layout, grid);
        while let Some(scanned) = scanner.next(walk.focus().as_ref()) {
            let Scanned { step: deduction, level, looks, held } = scanned;
            walk.end.apply(&deduction.claims);
            walk.steps.push(Step { deduction, level: Some(level), looks, held });
        }
        walk
    }

    /// The same walk, of a puzzle with just one solution.
    #[must_use]
    pub fn with_one_solution(self) -> Walk {
        let Walk { start, steps, end } = self;
        Walk { start: start.with_one_solution(), steps, end: end.with_one_solution() }
    }

    /// Goes on with every candidate on the table that the steps so far have left.
    pub fn go_on_with_marks(&mut self, reasoner: &Reasoner) {
        let mut climb = Climb::new(reasoner);
        while let Some(deduction) = climb.next(&self.end, self.focus().as_ref()) {
            self.end.apply(&deduction.claims);
            self.steps.push(Step { level: None, looks: deduction.looks(), held: 0, deduction });
        }
    }

    /// Where the reader's eyes are after the last step.
    pub fn focus(&self) -> Option<Focus> {
        self.steps.last().and_then(|step| Focus::of(&step.deduction))
    }

    /// Whether the grid is full at its end.
    pub fn is_finished(&self) -> bool {
        self.end.is_finished()
    }

    /// What is known before each step.
    pub fn positions(&self) -> impl Iterator<Item = (Position, &Step)> {
        self.steps.iter().scan(self.start.clone(), |known, step| {
            let before = known.clone();
            known.apply(&step.deduction.claims);
            Some((before, step))
        })
    }

    /// What step `n` claims, counted from 1; `None` if there is no such step.
    pub fn claims(&self, n: usize) -> Option<&[Claim]> {
        Some(self.steps.get(n.checked_sub(1)?)?.deduction.claims.as_slice())
    }
}
