//! How a walk goes on.

use super::{Ground, State};
use crate::reason::Focus;
use crate::step::{Deduction, Method};

impl State {
    /// The next step from here, nearest to the one before: as a scanner sees it where the walk is read so, or else with
    /// marks; and its line, with its reason.
    pub fn onward(&self, ground: &Ground, method: Method) -> Option<(Deduction, String)> {
        let focus = self.steps.last().and_then(|step| Focus::of(&step.deduction));
        let step = match method {
            Method::Scanning => ground.scanner(self, self.facts()).next(focus.as_ref())?.step,
            Method::Marks => ground.reasoner().next(&self.known, focus.as_ref())?,
        };
        let layout = ground.layout();
        let reason = step.reason(layout, |number| self.claims(number));
        let line = format!("{}  by {reason}", step.written(layout));
        Some((step, line))
    }
}
