//! From what a reader has to what somebody wrote on a sheet.

use super::{Ground, State};
use crate::board::{Cell, CellSet, DigitSet};
use crate::book::{Known, Sheet, Token};
use crate::reason::scanning::says;
use crate::step::{Claim, Deduction, Method};
use crate::study::claims;
use std::ops::ControlFlow;

/// What stands on a sheet, and the facts beside it.
#[derive(Clone, Copy)]
pub struct Wanted<'a> {
    /// The sheet.
    pub sheet: &'a Sheet,
    /// What is remembered with it.
    pub facts: &'a [Known],
}

/// The steps that lead to a sheet.
#[derive(Clone, Debug)]
pub struct Way {
    /// A line of the walk each, without indent.
    pub lines: Vec<String>,
    /// The cells in which the sheet has more than they give.
    pub cells: CellSet,
    /// How many facts beside it they do not give.
    pub facts: usize,
}

impl State {
    /// The steps that lead from here to a sheet: to the digits written in or known, to closed marks that are fewer than
    /// the candidates, and to the facts beside it, in an order in which each follows. A step says nothing that the sheet
    /// does not, and strikes no digit that is marked there. Where a walk may be read in several ways, the one that comes
    /// nearest.
    pub fn toward(&self, ground: &Ground, wanted: Wanted) -> Way {
        let methods = if ground.scanning { &[Method::Scanning] } else { ground.methods };
        let ways = methods.iter().map(|&method| self.clone().lead(ground, method, wanted));
        ways.min_by_key(|way| way.cells.len() + way.facts).unwrap_or_else(|| self.stay(wanted))
    }

    fn lead(mut self, ground: &Ground, method: Method, wanted: Wanted) -> Way {
        let mut lines = Vec::new();
        loop {
            let unstated: Vec<Vec<Claim>> = wanted.unstated(&self).collect();
            let found = self.each_open(ground, method, |step| {
                if wanted.leads(&self, &unstated, &step) {
                    ControlFlow::Break(step)
                } else {
                    ControlFlow::Continue(())
                }
            });
            let Some(step) = found.break_value() else { break };
            lines.push(self.line(ground, &step));
            self.take(step, false);
        }
        Way { lines, ..self.stay(wanted) }
    }

    /// No steps, and all that a sheet has more than is known here.
    fn stay(&self, wanted: Wanted) -> Way {
        let known = &self.known;
        let more = |cell: &Cell| match wanted.sheet.token(*cell) {
            Token::Digit(_) | Token::Known(_) => known.grid().get(*cell).is_none(),
            Token::Closed(marks) => !known.candidates(*cell).is_subset(marks),
            Token::Open(_) | Token::Empty => false,
        };
        let cells = known.grid().empty_cells().filter(more).collect();
        Way { lines: Vec::new(), cells, facts: wanted.unstated(self).count() }
    }
}

impl<'a> Wanted<'a> {
    /// The facts that a reader does not have yet, each by its claims.
    fn unstated(self, state: &State) -> impl Iterator<Item = Vec<Claim>> + use<'a, '_> {
        let asserted = self.facts.iter().filter_map(|fact| fact.says.as_ref());
        let all = asserted.map(|asserted| claims(&asserted.says, &state.known));
        all.filter(|claims| !claims.is_empty() && !state.holds_already(claims, true))
    }

    /// Whether a step comes nearer to the sheet, of whose facts these are unstated, and says and strikes nothing that is
    /// not there.
    fn leads(self, state: &State, unstated: &[Vec<Claim>], step: &Deduction) -> bool {
        let known = &state.known;
        let is_there = |claim: &Claim| {
            unstated.iter().any(|fact| says(known, fact, std::slice::from_ref(claim)))
                || match *claim {
                    Claim::Is { cells, digits } => cells.iter().all(|cell| self.has_only(cell, digits)),
                    Claim::IsNot { cells, digits } => cells.iter().all(|cell| self.lacks(cell, digits)),
                    Claim::Within { digits, cells, .. } if claim.places() => {
                        cells.iter().all(|cell| self.has_only(cell, digits))
                    }
                    Claim::Within { house, digits, cells } => {
                        let elsewhere = *known.layout().at(house).set() - cells;
                        elsewhere.iter().all(|cell| {
                            (known.candidates(cell) & digits).is_empty() || self.lacks(cell, digits)
                        })
                    }
                }
        };
        let strikes = known.strikes(&step.claims);
        let keeps = |&(cell, out): &(Cell, DigitSet)| self.has(cell).is_none_or(|has| (has & out).is_empty());
        let shows = |&(cell, _): &(Cell, DigitSet)| matches!(self.sheet.token(cell), Token::Closed(_));
        let states = || {
            let told = unstated.iter().any(|fact| says(known, &step.claims, fact));
            told || (step.method == Method::Scanning
                && self.is_marked(step)
                && !state.holds_already(&step.claims, true))
        };
        step.claims.iter().all(is_there)
            && strikes.iter().all(keeps)
            && (step.places() || strikes.iter().any(shows) || states())
    }

    /// What a cell holds by the sheet: its digit, or one of its closed marks; `None` where that says nothing.
    fn has(self, cell: Cell) -> Option<DigitSet> {
        match self.sheet.token(cell) {
            Token::Digit(digit) | Token::Known(digit) => Some(DigitSet::single(digit)),
            Token::Closed(marks) => Some(marks),
            Token::Open(_) | Token::Empty => None,
        }
    }

    fn has_only(self, cell: Cell, digits: DigitSet) -> bool {
        self.has(cell).is_some_and(|has| has.is_subset(digits))
    }

    fn lacks(self, cell: Cell, digits: DigitSet) -> bool {
        self.has(cell).is_some_and(|has| (has & digits).is_empty())
    }

    /// Whether all cells of a step have closed marks.
    fn is_marked(self, step: &Deduction) -> bool {
        let marked = |cell| matches!(self.sheet.token(cell), Token::Closed(_));
        step.claims.iter().all(|claim| claim.cells().iter().all(marked))
    }
}
