//! What is remembered beside a sheet, held against the sheet.

use super::{Bridge, Counter, Ground, State, truth};
use crate::book::Known;
use crate::ladder::Ladder;
use crate::step::Position;
use crate::study::{Start, claims};

/// What is wrong with a remembered fact.
#[derive(Clone, PartialEq, Debug)]
pub enum Recollection {
    /// It is false.
    False(Counter),
    /// It is not false, and does not follow from the sheet and the facts before it: what is missing.
    Early(Option<Bridge>),
}

/// What is wrong with the facts that stand beside a sheet from which this is known, each with its place in the list.
pub fn recollect(
    start: &Start,
    ladder: &Ladder,
    marked: &Position,
    facts: &[Known],
) -> Vec<(usize, Recollection)> {
    let ground = Ground::of_sheet(start, ladder);
    let mut state = State::new(marked.clone());
    let mut wrong = Vec::new();
    for (at, fact) in facts.iter().enumerate() {
        let Some(asserted) = &fact.says else { continue };
        if let Some(counter) = truth::counter(&ground, &state, &asserted.says) {
            wrong.push((at, Recollection::False(counter)));
            continue;
        }
        let todo = claims(&asserted.says, &state.known);
        if !state.known.strikes_any(&todo) {
            continue;
        }
        if ground.follows(&state, &todo).is_none() {
            if ground.solution().is_none()
                && let Some(counter) = truth::searched(&ground, &asserted.says)
            {
                wrong.push((at, Recollection::False(counter)));
                continue;
            }
            let bridge = ground.bridge(&state, &todo).map(|steps| {
                let lines = steps.iter().map(|step| step.written(&start.layout)).collect();
                Bridge::new(steps, lines, todo.clone())
            });
            for step in bridge.iter().flat_map(|bridge| &bridge.steps) {
                remember(&mut state.known, &step.claims);
            }
            wrong.push((at, Recollection::Early(bridge)));
        }
        remember(&mut state.known, &todo);
    }
    wrong
}

/// What is remembered is not written yet.
fn remember(known: &mut Position, claims: &[crate::step::Claim]) {
    for (cell, digits) in known.strikes(claims) {
        known.strike(cell, digits);
    }
}
