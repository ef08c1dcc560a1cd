//! The next step: told in words, or taken. With the cursor in a walkthrough it is a line at its end; elsewhere it is made on
//! the solver's sheet.

use super::place::{Block, Place};
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::{Puzzle, Sheet, known};
use crate::edit::{Change, add_lines, finish_walk, take_step};
use crate::notation::Keyword;
use crate::replay::{Ground, State};
use crate::step::{Deduction, Method, Position};
use crate::study::{Mistaken, Next, Start};
use crate::words::{self, Depth, Signs, Voice};
use serde::{Deserialize, Serialize};
use tower_lsp::ls_types;

/// The kind of the action that takes the next step; those that only tell of it are kinds of it.
pub const KIND: &str = "refactor.rewrite.next";

/// The kind of the action that writes all steps to the end.
pub const FINISH: &str = "refactor.rewrite.finish";

/// The command that tells of the next step.
pub const TELL: &str = "gridsetter.tellNextStep";

/// What is asked of the next step of a place.
#[derive(Clone, Serialize, Deserialize)]
pub struct Asked {
    /// The text.
    pub uri: ls_types::Uri,
    /// The place.
    pub at: ls_types::Position,
    /// How much is told.
    pub depth: Much,
}

/// How much is told.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Much {
    /// Only where to look.
    Where,
    /// What is there, and what follows.
    What,
}

/// Whether a next step may be asked for at a place.
pub fn is_offered(place: &Place) -> bool {
    let reasonable = |puzzle: &Puzzle| puzzle.judged() || (puzzle.lesson && puzzle.layout.is_some());
    let keyword = place.statement().and_then(|(_, statement)| statement.keyword);
    let on = matches!(
        keyword,
        Some(
            Keyword::Puzzle
                | Keyword::Lesson
                | Keyword::Givens
                | Keyword::Position
                | Keyword::Work
                | Keyword::Known
                | Keyword::Steps
        )
    );
    on && place.puzzle().is_some_and(reasonable)
}

/// What taking the next step changes.
///
/// # Errors
/// In words, why there is none.
pub fn take(snapshot: &Snapshot, place: &Place) -> Result<Vec<Change>, String> {
    let (puzzle, start) = start(place)?;
    if let Some(at) = WalkAt::of(snapshot, place) {
        let (_, line) = onward(&at.ground(), &at.replay().end)?;
        return Ok(vec![add_lines(place.section, &at.walk, &[line])]);
    }
    let sheet = sheet_at(place, puzzle);
    let next = next(snapshot, place, puzzle, &start, sheet)?;
    let step = next.step.as_ref().ok_or_else(|| nothing(&next.position, next.method))?;
    Ok(take_step(place.section, puzzle, sheet, &next.position, step))
}

/// What it changes to write all steps from the end of a walkthrough to that of the puzzle.
///
/// # Errors
/// In words, why there are none.
pub fn finish(snapshot: &Snapshot, place: &Place) -> Result<Vec<Change>, String> {
    let at = WalkAt::of(snapshot, place).ok_or("No walkthrough that could be read stands here.")?;
    let state = at.replay().end;
    let lines = state.to_the_end(&at.ground());
    if lines.is_empty() {
        return Err(nothing(&state.known, Method::Marks));
    }
    Ok(vec![finish_walk(place.section, &at.walk, &lines)])
}

/// The next step in words.
pub fn tell(snapshot: &Snapshot, asked: &Asked) -> String {
    let place = Place::of(snapshot, asked.at);
    let depth = match asked.depth {
        Much::Where => Depth::Where,
        Much::What => Depth::What,
    };
    told(snapshot, &place, depth).unwrap_or_else(|why| why)
}

fn told(snapshot: &Snapshot, place: &Place, depth: Depth) -> Result<String, String> {
    let (puzzle, start) = start(place)?;
    let voice = Voice::default().with_signs(Signs(puzzle.facts.signs()));
    if let Some(at) = WalkAt::of(snapshot, place) {
        let state = at.replay().end;
        let (step, _) = onward(&at.ground(), &state)?;
        return Ok(words::tell(&voice, depth, &state.known, &step, &state.deductions()));
    }
    let next = next(snapshot, place, puzzle, &start, sheet_at(place, puzzle))?;
    let step = next.step.as_ref().ok_or_else(|| nothing(&next.position, next.method))?;
    Ok(words::tell(&voice, depth, &next.position, step, &next.facts))
}

fn start<'a>(place: &Place<'a>) -> Result<(&'a Puzzle, Start), String> {
    let puzzle = place.puzzle().ok_or("no puzzle stands here")?;
    let start = Start::of(puzzle).map_err(|why| format!("No next step: {why}."))?;
    Ok((puzzle, start))
}

/// The step that goes on a walk, with its line.
fn onward(ground: &Ground, state: &State) -> Result<(Deduction, String), String> {
    let next = ground.methods.iter().find_map(|&method| state.onward(ground, method));
    next.ok_or_else(|| nothing(&state.known, Method::Marks))
}

/// The sheet that is meant: the one that a place lies in or below, or else the puzzle's first.
fn sheet_at<'a>(place: &Place<'a>, puzzle: &'a Puzzle) -> Option<&'a Sheet> {
    if let Some(Block::Sheet(sheet)) = place.block() {
        return Some(sheet);
    }
    let (number, statement) = place.statement()?;
    match statement.keyword {
        Some(Keyword::Known) => puzzle.sheets.iter().rfind(|sheet| sheet.statement < number),
        _ => puzzle.sheets.first(),
    }
}

fn next(
    snapshot: &Snapshot,
    place: &Place,
    puzzle: &Puzzle,
    start: &Start,
    sheet: Option<&Sheet>,
) -> Result<Next, String> {
    let facts = known(place.section, puzzle, sheet, &start.layout);
    let next = Next::of(start, &snapshot.book.ladder, sheet, &facts, None);
    next.map_err(|Mistaken { .. }| "No next step: something in the work does not hold.".to_owned())
}

fn nothing(position: &Position, method: Method) -> String {
    if position.is_finished() {
        "No next step: every cell is filled.".to_owned()
    } else {
        words::stuck(&Voice::default(), method)
    }
}
