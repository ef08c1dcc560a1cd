//! `gridsetter find`: puzzles that meet conditions, and positions that teach something. A file each kind of answer.

mod fitting;
mod places;
mod same;

use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::words::{counted, proposal};
use crate::files::canonical;
use crate::ladder::{NameKind, PatternName, named, nearest};
use crate::sameness::{self, Undecided};
use crate::study::{Conditions, Fitting, Grader, Start, Subject};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;
use std::ops::RangeInclusive;
use std::path::PathBuf;
use std::rc::Rc;

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
    /// So many orders of its lines and names for its digits make it itself again; 1 for most
    #[arg(long, value_name = "N[-M]", value_parser = range::<u128>)]
    symmetries: Option<RangeInclusive<u128>>,
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

/// How many puzzles and positions came to what.
#[derive(Default)]
struct Tally {
    puzzles: usize,
    unready: usize,
    fitting: usize,
    /// If positions are looked for.
    places: Option<usize>,
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
    let asked = &arguments.asked;
    let tally = if let Some(subject) = asked.teaches {
        places::find(arguments, subject, projects, terminal)?
    } else if asked.repeated || asked.same_as.is_some() {
        let Some(tally) = same::find(arguments, projects, terminal)? else { return Ok(()) };
        tally
    } else {
        fitting::find(arguments, projects, terminal)?
    };
    if tally.fitting == 0 {
        terminal.found();
    }
    terminal.remark(&tally.told(arguments.most()));
    Ok(())
}

/// A puzzle to be looked at: it has exactly one solution.
struct Ready<'a> {
    met: &'a Met<'a>,
    start: Start,
    conditions: &'a Conditions,
    /// How many ways there are to carry it to itself, if that is asked.
    symmetries: Option<u128>,
}

impl Ready<'_> {
    /// What is known of the puzzle, and what grades it, if it meets the conditions.
    fn graded(&self) -> Option<(Rc<Grader>, Fitting)> {
        let grader = Grader::of(&self.start.layout, self.met.ladder);
        let fitting = self.conditions.met(&grader, &self.start.givens)?;
        Some((grader, fitting))
    }
}

/// What a look at a puzzle came to.
enum Look<T> {
    /// It is no puzzle.
    Lesson,
    /// It has not exactly one solution.
    Unready,
    /// It does not meet the conditions.
    Unfit,
    /// Its lines look so much alike that it cannot be told.
    Undecided,
    Fits(T),
}

impl Arguments {
    /// Calls `take` with what `look` makes of each puzzle, in order, unless that is nothing.
    fn each<T: Send>(
        &self,
        projects: &mut Projects,
        terminal: &mut Terminal,
        look: impl Fn(&Ready) -> Option<T> + Sync,
        mut take: impl FnMut(T, &mut Tally, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<Tally, Closed> {
        let (conditions, mut tally) = (self.asked.conditions(), Tally::default());
        let own = self.asked.same_as.as_deref().map(canonical);
        let puzzles = Puzzles { but: own, ..self.puzzles.clone() };
        let look = |met: &Met, telling: &mut Telling| {
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
            let symmetries = match self.asked.symmetries(&start) {
                Ok(symmetries) => symmetries,
                Err(Undecided) => return Look::Undecided,
            };
            let fits = |range: &RangeInclusive<u128>| symmetries.is_some_and(|count| range.contains(&count));
            if !self.asked.symmetries.as_ref().is_none_or(fits) {
                return Look::Unfit;
            }
            let ready = Ready { met, start, conditions: &conditions, symmetries };
            look(&ready).map_or(Look::Unfit, Look::Fits)
        };
        puzzles.each(&[], projects, terminal, look, |look, terminal| {
            tally.puzzles += usize::from(!matches!(look, Look::Lesson));
            tally.unready += usize::from(matches!(look, Look::Unready));
            tally.uncompared += usize::from(matches!(look, Look::Undecided));
            match look {
                Look::Fits(found) => take(found, &mut tally, terminal),
                Look::Lesson | Look::Unready | Look::Unfit | Look::Undecided => Ok(()),
            }
        })?;
        Ok(tally)
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

    /// How many ways there are to carry a puzzle to itself, if that is asked.
    ///
    /// # Errors
    /// If it cannot be told.
    fn symmetries(&self, start: &Start) -> Result<Option<u128>, Undecided> {
        let count = || sameness::symmetries(&start.layout, &start.givens, sameness::Budget::default());
        self.symmetries.is_some().then(count).transpose()
    }
}

impl Tally {
    fn told(&self, most: usize) -> String {
        let mut text = counted(self.puzzles, "puzzle");
        if self.unready > 0 {
            let _ = write!(text, ", {} of them without exactly one solution", self.unready);
        }
        let _ = match self.places {
            Some(places) => {
                write!(text, ": {} in {}", counted(places, "position"), counted(self.fitting, "puzzle"))
            }
            None => write!(text, ": {} found", self.fitting),
        };
        if self.places.unwrap_or(self.fitting) > most {
            let _ = write!(text, ", the first {most} given");
        }
        if self.uncompared > 0 {
            let _ = write!(text, "; {} not compared: too many of its lines look alike", self.uncompared);
        }
        text
    }
}
