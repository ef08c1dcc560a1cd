//! Hover on a step of a walkthrough: the step in words, how it is seen, what is remembered there, and the grid as the
//! reader has it.

use super::hover::{can_stand, cell_at};
use super::place::Place;
use super::settings::GridAs;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::WalkSays;
use crate::draw::Picture;
use crate::notation::Span;
use crate::step::{Deduction, plainly};
use crate::words::{Depth, candidates_out, markdown, outline};
use std::fmt::Write as _;

/// What there is to say of the step on whose line a place lies.
pub fn on_step(snapshot: &Snapshot, place: &Place) -> Option<(Span, String)> {
    let at = WalkAt::of(snapshot, place)?;
    let line = at.line(place).filter(|line| matches!(line.says, WalkSays::Step(..)))?;
    let (ground, replay) = (at.ground(), at.replay());
    let replayed = replay.lines.iter().find(|replayed| replayed.number == line.number)?;
    let layout = &at.start.layout;
    let all = replay.end.deductions();
    let told = |number: usize| number.checked_sub(1).map_or(&[][..], |at| &all[at].claims);
    let mut parts: Vec<String> = Vec::new();
    let mut known = (*replayed.before).clone();
    for number in replayed.steps.clone() {
        let step = &all[number];
        if !replay.end.steps[number].supposed {
            let words = outline(&at.voice(), Depth::Why, &known, step, &all[..number]);
            let words = markdown(&words, 0);
            let level = match ground.ladder().level(step.pattern.name()) {
                Some(level) => format!(", level {level}"),
                None => String::new(),
            };
            let (reason, pattern) = (step.reason(layout, told), step.pattern.name());
            parts.push(format!("{words}\n\n`by {reason}` ({pattern}{level})"));
        }
        known.apply(&step.claims);
    }
    let facts: Vec<&Deduction> = replay.remembered(replayed).map(|number| &all[number]).collect();
    if !facts.is_empty() {
        let facts: Vec<String> =
            facts.iter().map(|fact| format!("`{}`", plainly(&fact.claims, layout))).collect();
        parts.push(format!("Remembered before it: {}.", facts.join(", ")));
    }
    let picture = Picture::new(layout, &at.start.givens, replayed.before.grid());
    let picture = picture.with_signs(at.puzzle.facts.signs().to_vec());
    parts.push(match snapshot.settings.hover {
        GridAs::Grid => format!("```text\n{}```", picture.drawing()),
        GridAs::Words => format!("- {}\n", picture.said(&at.voice().labels()).join("\n- ")),
    });
    Some((line.span, parts.join("\n\n")))
}

/// What can stand in a cell before the line of a walk in which a place lies, and why each other digit cannot.
pub fn of_cell(snapshot: &Snapshot, place: &Place, span: Span) -> Option<String> {
    let at = WalkAt::of(snapshot, place)?;
    let cell = cell_at(place, span, &at.start.layout)?;
    let known = at.known(place)?;
    let voice = at.voice();
    if let Some(digit) = at.start.givens[cell] {
        return Some(format!("**{cell}** is given as {}.", voice.signs.of(digit)));
    }
    if let Some(digit) = known.grid()[cell] {
        return Some(format!("**{cell}** holds {} here.", voice.signs.of(digit)));
    }
    let ground = at.ground();
    let why_not = |digit| ground.reasoner().why_not(&known, cell, digit);
    let out = candidates_out(&voice, &known, cell, why_not);
    let mut text = format!("**{cell}**: {}.\n\n", can_stand(known.candidates(cell), voice.signs));
    for sentence in out {
        let _ = writeln!(text, "- {sentence}");
    }
    Some(text)
}
