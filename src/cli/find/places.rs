//! Positions in which something is the only way on.

use super::{Arguments, Ready, Tally};
use crate::cli::project::Projects;
use crate::cli::puzzles::Met;
use crate::cli::terminal::{Closed, Terminal};
use crate::edit::{lesson_lines, walk_lines, walk_to_point};
use crate::step::Position;
use crate::study::{Grader, Lessons, Subject};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A position that teaches something.
pub struct Place {
    pub teaches: &'static str,
    /// How many steps lead to it.
    pub steps: usize,
    /// The step that is taken there, with its reason.
    pub step: String,
    pub known: Position,
    pub point: String,
    /// The walk that leads there, as the puzzle has it.
    pub walk: Vec<String>,
    /// How a lesson starts there; `None` if the puzzle has no id.
    pub lesson: Option<Vec<String>>,
}

/// Those of a puzzle.
struct OfPuzzle {
    in_all: usize,
    /// Those that are nearest to its start: after how many steps they come, and how they are written.
    nearest: Vec<(usize, String)>,
}

/// Finds them, and writes them when all are known, those with the shortest way in first.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more, or the user wants no more.
pub fn find(
    arguments: &Arguments,
    subject: Subject,
    projects: &mut Projects,
    terminal: &mut Terminal,
) -> Result<Tally, Closed> {
    let most = arguments.most();
    let look = |ready: &Ready| {
        let (grader, fitting) = ready.graded()?;
        let lessons = Lessons::of(grader.reasoner(), &ready.start.givens, subject);
        let written = |&at: &usize| {
            let place = Place::of(&lessons, at, subject, &grader, ready.met);
            (at, arguments.format.written(ready, &fitting, Some(place)))
        };
        let nearest = lessons.places.iter().take(most).map(written).collect();
        Some(OfPuzzle { in_all: lessons.places.len(), nearest })
    };
    // By how many steps lead there, then in the order of reading.
    let mut places: BTreeMap<(usize, usize), String> = BTreeMap::new();
    let mut in_all = 0;
    let mut tally = arguments.each(projects, terminal, look, |found, tally, _| {
        tally.fitting += usize::from(found.in_all > 0);
        for ((steps, text), number) in found.nearest.into_iter().zip(in_all..) {
            places.insert((steps, number), text);
            if places.len() > most {
                places.pop_last();
            }
        }
        in_all += found.in_all;
        Ok(())
    })?;
    tally.places = Some(in_all);
    for text in places.values() {
        terminal.print(text)?;
    }
    Ok(tally)
}

impl Place {
    /// The place before step `at` of a walk.
    fn of(lessons: &Lessons, at: usize, subject: Subject, grader: &Grader, met: &Met) -> Place {
        let teaches = subject.name();
        let point = format!("{}-{at}", teaches.replace(' ', "-"));
        let finish = lessons.finish(grader.reasoner(), at);
        let id = met.puzzle.id.as_ref();
        Place {
            teaches,
            steps: at,
            step: walk_lines(&lessons.walk, |_| None).swap_remove(at),
            known: lessons.before(at),
            walk: walk_to_point(&lessons.walk, at, &point, finish.as_deref()),
            lesson: id.map(|id| lesson_lines(teaches, &id.text, &point)),
            point,
        }
    }

    /// What stands below its heading: the walk, and how a lesson starts from there, each ready to be put where it belongs.
    pub fn lines(&self) -> String {
        let mut text = String::new();
        let parts = [("for the puzzle", Some(&self.walk)), ("for a lesson", self.lesson.as_ref())];
        for (whose, lines) in parts {
            let Some(lines) = lines else { continue };
            let _ = writeln!(text, "# {whose}\n{}", lines.join("\n"));
        }
        text
    }
}
