//! Hover on a step of a walkthrough: the step in words, how it is seen, what is remembered there, and the grid as the
//! reader has it.

use super::hover::{can_stand, cell_at};
use super::place::Place;
use super::settings::GridAs;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::board::{Cell, Digit, Grid, Layout};
use crate::book::WalkSays;
use crate::format::grid_lines;
use crate::notation::Span;
use crate::step::Deduction;
use crate::words::{Depth, Voice, candidates_out, tell};
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
    let mut known = replayed.before.clone();
    for number in replayed.steps.clone() {
        let step = &all[number];
        if !replay.end.steps[number].supposed {
            let words = tell(&Voice::default(), Depth::Why, &known, step, &all[..number]);
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
        let facts: Vec<String> = facts.iter().map(|fact| format!("`{}`", fact.written(layout))).collect();
        parts.push(format!("Remembered before it: {}.", facts.join(", ")));
    }
    let grid = replayed.before.grid();
    parts.push(match snapshot.settings.hover {
        GridAs::Grid => format!("```text\n{}```", drawn(layout, grid)),
        GridAs::Words => in_words(layout, grid),
    });
    Some((line.span, parts.join("\n\n")))
}

/// What can stand in a cell before the line of a walk in which a place lies, and why each other digit cannot.
pub fn of_cell(snapshot: &Snapshot, place: &Place, span: Span) -> Option<String> {
    let at = WalkAt::of(snapshot, place)?;
    let cell = cell_at(place, span, &at.start.layout)?;
    let known = at.known(place)?;
    if let Some(digit) = at.start.givens[cell] {
        return Some(format!("**{cell}** is given as {digit}."));
    }
    if let Some(digit) = known.grid()[cell] {
        return Some(format!("**{cell}** holds {digit} here."));
    }
    let out = candidates_out(&Voice::default(), &known, cell);
    let mut text = format!("**{cell}**: {}.\n\n", can_stand(known.candidates(cell)));
    for sentence in out {
        let _ = writeln!(text, "- {sentence}");
    }
    Some(text)
}

/// The grid as its notation has it, with an empty line between the rows of boxes.
fn drawn(layout: &Layout, grid: &Grid) -> String {
    let down = layout.boxes().map(|boxes| usize::from(boxes.rows));
    let mut text = String::new();
    for (row, line) in grid_lines(grid, layout.boxes()).iter().enumerate() {
        if row > 0 && down.is_some_and(|down| row % down == 0) {
            text.push('\n');
        }
        text.push_str(line.trim_start());
        text.push('\n');
    }
    text
}

/// The grid as one says it, a row a line; boxes are parted by semicolons.
fn in_words(layout: &Layout, grid: &Grid) -> String {
    let side = layout.size().side();
    let across = layout.boxes().map_or(side, |boxes| boxes.columns);
    let said = |cell: Cell| grid[cell].map_or("blank".to_owned(), |digit: Digit| digit.to_string());
    let row = |row: u8| {
        let cells: Vec<String> = (0..side).map(|col| said(Cell::new(row, col))).collect();
        let boxes: Vec<String> = cells.chunks(usize::from(across)).map(|cells| cells.join(", ")).collect();
        format!("- row {}: {}\n", row + 1, boxes.join("; "))
    };
    (0..side).map(row).collect()
}
