//! Puzzles that meet conditions, and how what is found is written.

use super::places::Place;
use super::{Arguments, Format, Ready, Tally};
use crate::cli::json;
use crate::cli::project::Projects;
use crate::cli::terminal::{Closed, Terminal};
use crate::cli::visible;
use crate::cli::words::counted;
use crate::step::Position;
use crate::study::Fitting;
use serde::Serialize;
use std::fmt::Write as _;

/// What was found, as a line of JSON.
#[derive(Serialize)]
struct FoundLine<'a> {
    file: &'a str,
    line: usize,
    id: Option<&'a str>,
    size: u8,
    clues: usize,
    level: Option<u8>,
    hardest: Option<&'static str>,
    held: Option<usize>,
    symmetries: Option<u128>,
    teaches: Option<&'static str>,
    steps: Option<usize>,
    step: Option<String>,
    position: Option<String>,
    candidates: Option<Vec<String>>,
    point: Option<String>,
    walk: Option<Vec<String>>,
    lesson: Option<Vec<String>>,
}

/// Finds them, and writes each as it comes.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more, or the user wants no more.
pub fn find(
    arguments: &Arguments,
    projects: &mut Projects,
    terminal: &mut Terminal,
) -> Result<Tally, Closed> {
    let look = |ready: &Ready| {
        let (_, fitting) = ready.graded()?;
        Some(arguments.format.written(ready, &fitting, None))
    };
    arguments.each(projects, terminal, look, |text, tally, terminal| {
        tally.fitting += 1;
        if tally.fitting <= arguments.most() { terminal.print(&text) } else { Ok(()) }
    })
}

impl Format {
    pub(super) fn written(self, ready: &Ready, fitting: &Fitting, place: Option<Place>) -> String {
        let met = ready.met;
        match (self, place) {
            (Format::Json, place) => as_json(ready, fitting, place),
            (Format::Human, Some(place)) => {
                let steps = counted(place.steps, "step");
                format!(
                    "{}: after {steps}: {}\n{}\n",
                    met.heading(),
                    place.step,
                    visible::lines(&place.lines())
                )
            }
            (Format::Human, None) => format!("{}: {}\n", met.heading(), as_text(ready, fitting)),
        }
    }
}

fn as_text(ready: &Ready, fitting: &Fitting) -> String {
    let mut text = match (fitting.level, fitting.hardest) {
        (Some(level), Some(hardest)) => format!("level {level}, hardest {hardest}"),
        _ => "no level".to_owned(),
    };
    let _ = write!(text, "; {}", counted(fitting.clues, "given"));
    if let Some(symmetries) = ready.symmetries {
        let _ = write!(text, "; {symmetries} {}", if symmetries == 1 { "symmetry" } else { "symmetries" });
    }
    if let Some(held) = fitting.held {
        let _ = write!(text, "; by scanning with at most {} held", counted(held, "fact"));
    }
    text
}

fn as_json(ready: &Ready, fitting: &Fitting, place: Option<Place>) -> String {
    let (met, layout) = (ready.met, &ready.start.layout);
    let candidates = |known: &Position| {
        let cells = layout.size().all_cells();
        cells.map(|cell| known.candidates(cell).to_string()).collect()
    };
    json::line(&FoundLine {
        file: met.file,
        line: met.line(),
        id: met.puzzle.id.as_ref().map(|id| id.text.as_str()),
        size: layout.size().side(),
        clues: fitting.clues,
        level: fitting.level,
        hardest: fitting.hardest,
        held: fitting.held,
        symmetries: ready.symmetries,
        teaches: place.as_ref().map(|place| place.teaches),
        steps: place.as_ref().map(|place| place.steps),
        step: place.as_ref().map(|place| place.step.clone()),
        position: place.as_ref().map(|place| place.known.grid().to_string()),
        candidates: place.as_ref().map(|place| candidates(&place.known)),
        point: place.as_ref().map(|place| place.point.clone()),
        walk: place.as_ref().map(|place| place.walk.clone()),
        lesson: place.and_then(|place| place.lesson),
    })
}
