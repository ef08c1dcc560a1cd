//! The next step: told in words, or taken. With the cursor in a walkthrough it is a line at its end; elsewhere it is made on
//! the solver's sheet.

use super::place::{Block, Place};
use super::state::Snapshot;
use crate::book::{Puzzle, Sheet, Walkthrough, known};
use crate::edit::{Change, add_line, take_step};
use crate::notation::Keyword;
use crate::replay::{self, Ground, Replay, State};
use crate::step::{Deduction, Method, Position};
use crate::study::{Mistaken, Next, Start};
use crate::words::{self, Depth, Voice};
use serde::{Deserialize, Serialize};
use tower_lsp::ls_types;

/// The kind of the action that takes the next step; those that only tell of it are kinds of it.
pub const KIND: &str = "refactor.rewrite.next";

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
    if let Some((walk, state)) = walk_at(snapshot, place, puzzle, &start) {
        let ground = Ground::new(&start, &snapshot.book.ladder, puzzle, &walk);
        let (_, line) = onward(&ground, &walk, &state)?;
        return Ok(vec![add_line(place.section, &walk, &line)]);
    }
    let sheet = sheet_at(place, puzzle);
    let next = next(snapshot, place, puzzle, &start, sheet)?;
    let step = next.step.as_ref().ok_or_else(|| nothing(&next.position, next.method))?;
    Ok(take_step(place.section, puzzle, sheet, &next.position, step))
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
    let voice = Voice::default();
    if let Some((walk, state)) = walk_at(snapshot, place, puzzle, &start) {
        let ground = Ground::new(&start, &snapshot.book.ladder, puzzle, &walk);
        let (step, _) = onward(&ground, &walk, &state)?;
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

/// The walkthrough that a place lies in, and what a reader has at its end.
fn walk_at(
    snapshot: &Snapshot,
    place: &Place,
    puzzle: &Puzzle,
    start: &Start,
) -> Option<(Walkthrough, State)> {
    let (number, _) = place.statement()?;
    let mut walks = Walkthrough::all(place.section, puzzle, &start.layout);
    let walk = walks.find(|walk| walk.statement == number)?;
    let ground = Ground::new(start, &snapshot.book.ladder, puzzle, &walk);
    let replay = Replay::of(&ground, &walk, State::new(start.position()));
    Some((walk, replay.end))
}

/// The step that goes on a walk. One that gives no reason yet is read by scanning as far as that goes.
fn onward(ground: &Ground, walk: &Walkthrough, state: &State) -> Result<(Deduction, String), String> {
    let scanning = replay::is_by_scanning(walk) || !replay::gives_reasons(walk);
    let scanned = if scanning { state.onward(ground, Method::Scanning) } else { None };
    scanned
        .or_else(|| state.onward(ground, Method::Marks))
        .ok_or_else(|| nothing(&state.known, Method::Marks))
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
