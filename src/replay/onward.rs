//! How a walk goes on: the next step, all that follow at once, and the reasons that fit a claim.

use super::{Ground, State};
use crate::board::{CellSet, DigitSet};
use crate::book::Asserted;
use crate::proof;
use crate::reason::{Climb, Focus, Scanner};
use crate::step::{Claim, Deduction, Method};
use crate::study::claims;
use std::ops::ControlFlow;

impl State {
    /// The next step from here, nearest to the one before: as a scanner sees it where the walk is read so, or else with
    /// marks; and its line, with its reason.
    pub fn onward(&self, ground: &Ground, method: Method) -> Option<(Deduction, String)> {
        self.climb_on(&mut Climb::new(ground.reasoner()), ground, method)
    }

    /// The same, on a climb that has come so far.
    fn climb_on(&self, climb: &mut Climb, ground: &Ground, method: Method) -> Option<(Deduction, String)> {
        let focus = self.steps.last().and_then(|step| Focus::of(&step.deduction));
        let step = match method {
            Method::Scanning => ground.scanner(self, self.facts()).next(focus.as_ref())?.step,
            Method::Marks => climb.next(&self.known, focus.as_ref())?,
        };
        let line = self.line(ground, &step);
        Some((step, line))
    }

    /// The steps from here to the end, each as a line; where the ladder does not come so far, those up to there. All are
    /// read in one way: the first by which a reader comes to the end, or else the one by which most is known.
    pub fn to_the_end(&self, ground: &Ground) -> Vec<String> {
        let methods = if ground.scanning { &[Method::Scanning] } else { ground.methods };
        let mut best: Option<(usize, Vec<String>)> = None;
        for &method in methods {
            let mut state = self.clone();
            let mut climb = Climb::new(ground.reasoner());
            let mut lines = Vec::new();
            // Each step tells something new, so they come to an end.
            while let Some((step, line)) = state.climb_on(&mut climb, ground, method) {
                state.take(step, false);
                lines.push(line);
            }
            let open = state.known.open();
            if best.as_ref().is_none_or(|(least, _)| open < *least) {
                best = Some((open, lines));
            }
        }
        best.map(|(_, lines)| lines).unwrap_or_default()
    }

    /// What follows from here at once, each step with its line: first the one that goes on the walk, then the others,
    /// cheapest first. None says what another says. In a walk that is read by scanning there are steps with marks only
    /// where scanning has none.
    pub fn offers(&self, ground: &Ground, most: usize) -> Vec<(Deduction, String)> {
        let mut offers: Vec<(Deduction, String)> = Vec::new();
        for &method in ground.methods {
            let mut offer = |step: Deduction| {
                if offers.len() == most {
                    return ControlFlow::Break(());
                }
                if offers.iter().all(|(known, _)| known.claims != step.claims) {
                    let line = self.line(ground, &step);
                    offers.push((step, line));
                }
                ControlFlow::Continue(())
            };
            let next = self.onward(ground, method).map(|(step, _)| offer(step));
            if next.is_some() {
                let _ = self.each_open(ground, method, offer);
            }
            if ground.scanning && !offers.is_empty() {
                break;
            }
        }
        offers
    }

    /// The digits that these cells share by a step that follows at once, cheapest first.
    pub fn shared(&self, ground: &Ground, cells: CellSet) -> Vec<DigitSet> {
        let mut shared: Vec<DigitSet> = Vec::new();
        for &method in ground.methods {
            let _ = self.each_open(ground, method, |step| -> ControlFlow<()> {
                let about = step.claims.iter().filter(|claim| claim.cells() == cells).map(Claim::digits);
                let as_many = about.filter(|digits| digits.len() == cells.len());
                for digits in as_many {
                    if !shared.contains(&digits) {
                        shared.push(digits);
                    }
                }
                ControlFlow::Continue(())
            });
        }
        shared
    }

    /// Hands on each step that follows at once, cheapest first, until it is enough.
    pub(super) fn each_open<T>(
        &self,
        ground: &Ground,
        method: Method,
        take: impl FnMut(Deduction) -> ControlFlow<T>,
    ) -> ControlFlow<T> {
        match method {
            Method::Scanning => {
                let scanner = ground.scanner(self, self.facts());
                let counts = |step: &Deduction| ground.level_of(step.pattern) <= ground.level;
                scanner.open().map(|scanned| scanned.step).filter(counts).try_for_each(take)
            }
            Method::Marks => {
                let mut climb = Climb::new(ground.reasoner());
                let mut look = climb.look_at(&self.known);
                ground
                    .patterns()
                    .flat_map(|pattern| look.all(pattern))
                    .filter(|step| proof::with_marks(&self.known, step).is_ok())
                    .try_for_each(take)
            }
        }
    }

    /// A step as a line of the walk, with its reason.
    pub(super) fn line(&self, ground: &Ground, step: &Deduction) -> String {
        format!("{}  by {}", step.written(ground.layout()), self.reason(ground, step))
    }

    fn reason(&self, ground: &Ground, step: &Deduction) -> String {
        step.reason(ground.layout(), |number| self.claims(number))
    }
}

impl Ground<'_> {
    /// The reasons by which claims of a line follow at once, cheapest first, as they are written after `by`. Only the first
    /// claim that is new must have it; none, where there is no such claim.
    pub fn reasons(&self, state: &State, says: &[Asserted]) -> Vec<String> {
        let known = &state.known;
        let new = says.iter().map(|asserted| claims(&asserted.says, known)).find(|todo| !todo.is_empty());
        let Some(todo) = new else { return Vec::new() };
        let counts = |step: &Deduction| self.level_of(step.pattern) <= self.level;
        let mut steps: Vec<Deduction> = Vec::new();
        if self.methods.contains(&Method::Scanning) {
            let mut ways = self.scanner(state, state.facts()).ways(&todo);
            ways.sort_by_key(|way| (way.level, way.step.facts_used().len(), way.looks));
            steps.extend(ways.into_iter().map(|way| way.step).filter(counts));
        }
        if self.scanning {
            // Nothing else is known.
        } else if known.strikes_any(&todo) {
            let mut climb = Climb::new(self.reasoner());
            let mut look = climb.look_at(known);
            steps.extend(self.patterns().flat_map(|pattern| look.giving(pattern, &todo)));
        } else {
            steps.extend(Scanner::with_marks(known).instances(&todo).into_iter().filter(counts));
        }
        let mut reasons: Vec<String> = Vec::new();
        for reason in steps.iter().map(|step| state.reason(self, step)) {
            if !reasons.contains(&reason) {
                reasons.push(reason);
            }
        }
        reasons
    }
}
