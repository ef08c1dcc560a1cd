//! `gridsetter find`: puzzles that meet conditions, and positions that teach something.

use super::find_same::{Known, Own};
use super::json;
use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::visible;
use super::words::{counted, proposal};
use crate::board::Layout;
use crate::edit::{lesson_lines, walk_lines, walk_to_point};
use crate::files::canonical;
use crate::ladder::{NameKind, PatternName, named, nearest};
use crate::sameness::Undecided;
use crate::step::Position;
use crate::study::{Conditions, Fitting, Grader, Lessons, Start, Subject};
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::ops::RangeInclusive;
use std::path::PathBuf;

const EXAMPLES: &str = "\
Examples:
  gridsetter find --level 2-3 --clues 22-26 books/        by level and number of givens
  gridsetter find --needs 'hidden pair' --held 2 books/   a pair is needed, and marks are not
  gridsetter find --teaches 'third line' books/           positions in which it is the only way on
  gridsetter find --repeated books/                       puzzles that stand there twice
  gridsetter find --same-as new.gset books/               whether those of a file stand there already

With --teaches the positions come with the shortest way in first, and with the lines that take a
lesson from there: a walk with its `point` for the puzzle, and `from` for the lesson. A pattern is
the only way on where it gives a step with all marks on the table, and none before it on the ladder
does. A way of seeing is, where it gives the next step by scanning, and without it no digit can be
written by steps of the same level or a lower one.

Two puzzles are the same where one becomes the other by turns and reflections, by another order of
lines that leaves the houses whole, and by other names for the digits.

Exit code: 0 something is found, 1 nothing is, 2 something could not be read.";

/// Find puzzles that meet conditions, and positions that teach a pattern
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES, override_usage = "gridsetter find [OPTIONS] <CONDITIONS> <PATHS>...")]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// Give no more than this
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    limit: Option<u32>,
    /// How what is found is written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    #[command(flatten)]
    asked: Asked,
}

/// What is asked of a puzzle.
#[derive(Args, Debug)]
#[group(required = true, multiple = true)]
#[command(
    next_help_heading = "Conditions, one or more; only puzzles with exactly one solution are looked at"
)]
struct Asked {
    /// Its level is this, or in this range
    #[arg(long, value_name = "N[-M]", value_parser = range::<u8>)]
    level: Option<RangeInclusive<u8>>,
    /// It has so many givens
    #[arg(long, value_name = "N[-M]", value_parser = range::<usize>)]
    clues: Option<RangeInclusive<usize>>,
    /// It does not finish without this pattern, unless by something dearer (may be repeated)
    #[arg(long, value_name = "NAME", value_delimiter = ',', value_parser = pattern)]
    needs: Vec<&'static str>,
    /// It finishes without this pattern, and by nothing dearer (may be repeated)
    #[arg(long, value_name = "NAME", value_delimiter = ',', value_parser = pattern)]
    avoids: Vec<&'static str>,
    /// It is finished by scanning
    #[arg(long)]
    scanning: bool,
    /// It is finished by scanning with at most so many facts remembered at once
    #[arg(long, value_name = "N")]
    held: Option<usize>,
    /// A pattern or a way of seeing is the only way on in some position of its walk
    #[arg(long, value_name = "NAME", value_parser = subject)]
    teaches: Option<Subject>,
    /// It is the same as an earlier puzzle, perhaps in another dress
    #[arg(long, conflicts_with_all = ["teaches", "same_as"])]
    repeated: bool,
    /// It is the same as a puzzle of this file, perhaps in another dress; it is not in this file itself
    #[arg(long, value_name = "FILE", conflicts_with = "teaches")]
    same_as: Option<PathBuf>,
}

/// How what is found is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Format {
    /// For people
    Human,
    /// For programs: one JSON object a line
    Json,
}

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
    teaches: Option<&'static str>,
    steps: Option<usize>,
    step: Option<String>,
    position: Option<String>,
    candidates: Option<Vec<String>>,
    point: Option<String>,
    walk: Option<Vec<String>>,
    lesson: Option<Vec<String>>,
}

/// A position that teaches something.
struct Place {
    teaches: &'static str,
    /// How many steps lead to it.
    steps: usize,
    /// The step that is taken there, with its reason.
    step: String,
    known: Position,
    point: String,
    /// The walk that leads there, as the puzzle has it.
    walk: Vec<String>,
    /// How a lesson starts there; `None` if the puzzle has no id.
    lesson: Option<Vec<String>>,
}

/// How many puzzles and positions came to what.
#[derive(Default)]
struct Tally {
    puzzles: usize,
    unready: usize,
    fitting: usize,
    places: usize,
    uncompared: usize,
}

/// Reads `3` or `2-4`.
fn range<T: std::str::FromStr + PartialOrd + Copy>(text: &str) -> Result<RangeInclusive<T>, &'static str> {
    let (least, most) = text.split_once('-').unwrap_or((text, text));
    match (least.trim().parse::<T>(), most.trim().parse::<T>()) {
        (Ok(least), Ok(most)) if least <= most => Ok(least..=most),
        _ => Err("a number or a range is meant, such as `3` or `2-4`"),
    }
}

fn name(text: &str) -> Result<&'static PatternName, String> {
    named(text).ok_or_else(|| {
        let near: Vec<&str> = nearest(text).into_iter().collect();
        format!("nothing that can be found has this name; {}", proposal(&near))
    })
}

fn subject(text: &str) -> Result<Subject, String> {
    name(text).map(Subject::of)
}

/// The name of a pattern that a puzzle can need.
fn pattern(text: &str) -> Result<&'static str, String> {
    match name(text)? {
        name if name.kind == NameKind::Seeing => {
            Err(format!("`{}` is a way of seeing, which --teaches takes", name.name))
        }
        name => Ok(name.name),
    }
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, projects: &mut Projects, terminal: &mut Terminal) -> Result<(), Closed> {
    let conditions = arguments.asked.conditions();
    let most = arguments.most();
    let mut tally = Tally::default();
    let Some(mut known) = arguments.asked.known(projects, terminal) else { return Ok(()) };
    let own = arguments.asked.same_as.as_deref().map(canonical);
    let puzzles = Puzzles { but: own, ..arguments.puzzles.clone() };
    // By how many steps lead there, then in the order of reading.
    let mut places: BTreeMap<(usize, usize), String> = BTreeMap::new();
    let look = |met: &Met, telling: &mut Telling| arguments.look(&conditions, met, telling);
    puzzles.each(&[], projects, terminal, look, |look, terminal| {
        tally.puzzles += usize::from(!matches!(look, Look::Lesson));
        match look {
            Look::Lesson | Look::Unfit | Look::Compared(Ok(None)) => Ok(()),
            Look::Unready => {
                tally.unready += 1;
                Ok(())
            }
            Look::Fits(text) => {
                tally.fitting += 1;
                if tally.fitting <= most { terminal.print(&text) } else { Ok(()) }
            }
            Look::Compared(Err(Undecided)) => {
                tally.uncompared += 1;
                Ok(())
            }
            Look::Compared(Ok(Some(own))) => {
                if let Some(same) = known.same(&own) {
                    tally.fitting += 1;
                    let written = || match arguments.format {
                        Format::Json => same.as_json(),
                        Format::Human => same.as_text(),
                    };
                    return if tally.fitting <= most { terminal.print(&written()) } else { Ok(()) };
                }
                if arguments.asked.repeated {
                    known.learn(&own);
                }
                Ok(())
            }
            Look::Teaches { in_all, nearest } => {
                tally.fitting += usize::from(in_all > 0);
                for ((steps, text), number) in nearest.into_iter().zip(tally.places..) {
                    places.insert((steps, number), text);
                    if places.len() > most {
                        places.pop_last();
                    }
                }
                tally.places += in_all;
                Ok(())
            }
        }
    })?;
    for text in places.values() {
        terminal.print(text)?;
    }
    if tally.fitting == 0 {
        terminal.found();
    }
    terminal.remark(&tally.told(arguments.asked.teaches.is_some(), most));
    Ok(())
}

/// What a look at a puzzle came to.
enum Look {
    /// It is no puzzle.
    Lesson,
    /// It has not exactly one solution.
    Unready,
    /// It does not meet the conditions.
    Unfit,
    /// It meets them; what is written of it.
    Fits(String),
    /// It meets those that can be told of it alone, and is to be compared with others.
    Compared(Result<Option<Box<Own>>, Undecided>),
    /// Positions of it teach something: how many, and of those that are nearest to its start, after how many steps they
    /// come, and what is written of them.
    Teaches { in_all: usize, nearest: Vec<(usize, String)> },
}

impl Arguments {
    fn look(&self, conditions: &Conditions, met: &Met, telling: &mut Telling) -> Look {
        if met.puzzle.lesson {
            return Look::Lesson;
        }
        let start = match Start::of(met.puzzle) {
            Ok(start) => start,
            Err(why) => {
                telling.detail(format!("{}: passed over: {why}", met.heading()));
                return Look::Unready;
            }
        };
        // Where puzzles are compared and nothing else is asked, nothing is graded.
        if self.asked.compares() && *conditions == Conditions::default() {
            return Look::Compared(Own::of(met).map(|own| own.map(Box::new)));
        }
        let grader = Grader::of(&start.layout, met.ladder);
        let Some(fitting) = conditions.met(&grader, &start.givens) else { return Look::Unfit };
        if self.asked.compares() {
            return Look::Compared(Own::of(met).map(|own| own.map(Box::new)));
        }
        let Some(subject) = self.asked.teaches else {
            return Look::Fits(self.format.written(met, &fitting, &start.layout, None));
        };
        let lessons = Lessons::of(grader.reasoner(), &start.givens, subject);
        let written = |&at: &usize| {
            let place = Place::of(&lessons, at, subject, &grader, met);
            (at, self.format.written(met, &fitting, &start.layout, Some(place)))
        };
        let nearest = lessons.places.iter().take(self.most()).map(written).collect();
        Look::Teaches { in_all: lessons.places.len(), nearest }
    }

    /// How much is given at most.
    fn most(&self) -> usize {
        self.limit.map_or(usize::MAX, |limit| limit as usize)
    }
}

impl Asked {
    fn conditions(&self) -> Conditions {
        Conditions {
            clues: self.clues.clone(),
            level: self.level.clone(),
            needs: self.needs.clone(),
            avoids: self.avoids.clone(),
            held: self.held.or(self.scanning.then_some(usize::MAX)),
        }
    }

    /// Whether puzzles are compared with others.
    fn compares(&self) -> bool {
        self.repeated || self.same_as.is_some()
    }

    /// The puzzles of the file that others are compared with; `None` if it cannot be read, which is said.
    fn known(&self, projects: &mut Projects, terminal: &mut Terminal) -> Option<Known> {
        let mut known = Known::default();
        if let Some(file) = &self.same_as {
            let puzzles = Puzzles::of(file);
            let look = |met: &Met, _: &mut Telling| Own::of(met).ok().flatten();
            let taken = puzzles.each(&[], projects, terminal, look, |own, _| {
                if let Some(own) = own.filter(|own| known.same(own).is_none()) {
                    known.learn(&own);
                }
                Ok(())
            });
            taken.ok().filter(|()| !terminal.is_troubled())?;
        }
        Some(known)
    }
}

impl Tally {
    fn told(&self, places: bool, most: usize) -> String {
        let mut text = counted(self.puzzles, "puzzle");
        if self.unready > 0 {
            let _ = write!(text, ", {} of them without exactly one solution", self.unready);
        }
        let all = if places {
            let _ =
                write!(text, ": {} in {}", counted(self.places, "position"), counted(self.fitting, "puzzle"));
            self.places
        } else {
            let _ = write!(text, ": {} found", self.fitting);
            self.fitting
        };
        if all > most {
            let _ = write!(text, ", the first {most} given");
        }
        if self.uncompared > 0 {
            let _ = write!(text, "; {} not compared: too many of its lines look alike", self.uncompared);
        }
        text
    }
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
    fn lines(&self) -> String {
        let mut text = String::new();
        let parts = [("for the puzzle", Some(&self.walk)), ("for a lesson", self.lesson.as_ref())];
        for (whose, lines) in parts {
            let Some(lines) = lines else { continue };
            let _ = writeln!(text, "# {whose}\n{}", lines.join("\n"));
        }
        text
    }
}

impl Format {
    fn written(self, met: &Met, fitting: &Fitting, layout: &Layout, place: Option<Place>) -> String {
        match (self, place) {
            (Format::Json, place) => as_json(met, fitting, layout, place),
            (Format::Human, Some(place)) => {
                let steps = counted(place.steps, "step");
                format!(
                    "{}: after {steps}: {}\n{}\n",
                    met.heading(),
                    place.step,
                    visible::lines(&place.lines())
                )
            }
            (Format::Human, None) => format!("{}: {}\n", met.heading(), as_text(fitting)),
        }
    }
}

fn as_text(fitting: &Fitting) -> String {
    let mut text = match (fitting.level, fitting.hardest) {
        (Some(level), Some(hardest)) => format!("level {level}, hardest {hardest}"),
        _ => "no level".to_owned(),
    };
    let _ = write!(text, "; {}", counted(fitting.clues, "given"));
    if let Some(held) = fitting.held {
        let _ = write!(text, "; by scanning with at most {} held", counted(held, "fact"));
    }
    text
}

fn as_json(met: &Met, fitting: &Fitting, layout: &Layout, place: Option<Place>) -> String {
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
