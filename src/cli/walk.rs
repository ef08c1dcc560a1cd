//! `gridsetter walk`: every step to the end.

use super::check;
use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::replace::Replacer;
use super::tally::Tally;
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::visible;
use super::voice::VoiceOptions;
use super::walk_json::{Course, WalkLine};
use super::walk_write::Writing;
use super::words::counted;
use crate::draw::Picture;
use crate::ladder::Ladder;
use crate::notation::Keyword;
use crate::reason::{Reasoner, Walk};
use crate::step::{Deduction, Method};
use crate::study::{Start, Unready};
use crate::words::{Depth, Naming, Voice, markdown, outline, stuck};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;

const EXAMPLES: &str = "\
Examples:
  gridsetter walk --id lk-007 volume.gset               a solve by scanning, in sentences
  gridsetter walk --then marks --plain volume.gset      go on with marks where scanning is stuck
  gridsetter walk --method marks --format json books/   for programs
  gridsetter walk --id lk-007 --write volume.gset       put it into the file, to be written on
  gridsetter walk --check volume.gset                   judge the walkthroughs that are there

Exit code: 0 each walk fills the grid, 1 not so, 2 something could not be read.";

/// Tell every step of a solve to its end, each proved
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// How the walk is written
    #[arg(long, value_enum, default_value_t = Format::Words)]
    format: Format,
    /// How the reader looks at the grid
    #[arg(long, value_enum, value_name = "METHOD", default_value_t = Way::Scanning)]
    method: Way,
    /// Where scanning is stuck, go on so
    #[arg(long, value_enum, value_name = "METHOD", conflicts_with = "method")]
    then: Option<Then>,
    /// Put the walk into the file, as `steps`, or as `steps found` where there is a walkthrough; the file is written over
    #[arg(long, conflicts_with_all = ["format", "then"])]
    write: bool,
    /// Write it over the `steps found` that is there
    #[arg(long, requires = "write")]
    replace: bool,
    /// Judge the walkthroughs that are there, and find none; errors of other kinds are reported too
    #[arg(long, conflicts_with_all = ["write", "format", "method", "then"])]
    check: bool,
    #[command(flatten)]
    voice: VoiceOptions,
}

/// How the walk is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Format {
    /// Sentences, a step a paragraph
    Words,
    /// Markdown: the grid, then a numbered list
    Markdown,
    /// For programs: one JSON object a line
    Json,
}

/// How a reader looks at the grid.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// Nothing is written but digits, and a few facts are remembered
    Scanning,
    /// Every candidate is on the table
    Marks,
}

/// How to go on.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
pub enum Then {
    /// With every candidate on the table
    Marks,
}

impl Way {
    /// The method that is meant.
    pub fn method(self) -> Method {
        match self {
            Way::Scanning => Method::Scanning,
            Way::Marks => Method::Marks,
        }
    }
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(
    arguments: &Arguments,
    projects: &mut Projects,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<(), Closed> {
    let Puzzles { inputs, id, .. } = &arguments.puzzles;
    if arguments.check {
        return check::run(&check::Arguments::of_walks(inputs, id), projects, terminal, replacer);
    }
    if arguments.write {
        let writing = Writing {
            method: arguments.method.method(),
            voice: Voice { naming: Naming::Braces, ..arguments.voice.voice() },
            replace: arguments.replace,
        };
        return writing.run(inputs, id, projects, terminal, replacer);
    }
    let mut tally = Tally::default();
    let look = |met: &Met, telling: &mut Telling| {
        let told = Told::of(arguments, met);
        let finished = told.course.finished;
        if let Some(why) = &told.unready {
            telling.remark(format!("{}: no walk: {why}", met.heading()));
        }
        telling.print(match arguments.format {
            Format::Json => WalkLine::new(met.puzzle, told.course, &told.steps).line(),
            Format::Words => told.as_words(met),
            Format::Markdown => told.as_markdown(met),
        });
        finished
    };
    arguments.puzzles.each(&[Keyword::Symbols], projects, terminal, look, |finished, terminal| {
        tally.take(finished, terminal);
        Ok(())
    })?;
    terminal.remark(&format!("{}: {} filled to the end", counted(tally.puzzles, "puzzle"), tally.finished));
    Ok(())
}

/// A walk and its words.
struct Told {
    steps: Vec<(Deduction, String)>,
    course: Course,
    start: Option<Start>,
    unready: Option<Unready>,
}

impl Told {
    fn of(arguments: &Arguments, met: &Met) -> Told {
        let method = arguments.method.method();
        let start = match Start::of(met.puzzle) {
            Ok(start) => start,
            Err(why) => {
                let course =
                    Course { method: method.name(), stuck: Some(why.to_string()), ..Course::default() };
                return Told { steps: Vec::new(), course, start: None, unready: Some(why) };
            }
        };
        let (walk, last) = walked(&start, met.ladder, method, arguments.then);
        let voice = arguments.voice.voice_for(met.puzzle);
        let finished = walk.is_finished();
        let course = Course {
            method: method.name(),
            finished,
            stuck: (!finished).then(|| stuck(&voice, last)),
            solution: start.solution.clone(),
        };
        Told { steps: told(voice, &walk), course, start: Some(start), unready: None }
    }

    fn as_words(&self, met: &Met) -> String {
        let mut text = format!("{}: {}\n", met.heading(), counted(self.steps.len(), "step"));
        for ((_, said), n) in self.steps.iter().zip(1..) {
            let _ = writeln!(text, "{n}. {}", visible::lines(said));
        }
        if let Some(stuck) = self.course.stuck.as_ref().filter(|_| self.unready.is_none()) {
            let _ = writeln!(text, "{stuck}");
        }
        text + "\n"
    }

    fn as_markdown(&self, met: &Met) -> String {
        let title = if met.puzzle.title.is_empty() {
            met.puzzle.id.as_ref().map_or("Puzzle", |id| id.text.as_str()).to_owned()
        } else {
            met.puzzle.title.join(" ")
        };
        let mut text = format!("# {}\n\n", visible::line(&title));
        if let Some(start) = &self.start {
            for line in Picture::new(&start.layout, &start.givens, &start.givens).drawing().lines() {
                let _ = writeln!(text, "    {line}");
            }
            text.push('\n');
        }
        for ((_, said), n) in self.steps.iter().zip(1..) {
            let number = format!("{n}. ");
            let said = markdown(said, number.len());
            let _ = writeln!(text, "{number}{}", visible::lines(&said));
        }
        if let Some(stuck) = &self.course.stuck {
            let _ = writeln!(text, "\n{stuck}");
        }
        text + "\n"
    }
}

/// The walk from a start, and the method of its end.
pub fn walked(start: &Start, ladder: &Ladder, method: Method, then: Option<Then>) -> (Walk, Method) {
    let reasoner = Reasoner::new(&start.layout, ladder);
    let mut walk = match method {
        Method::Scanning => Walk::by_scanning(&reasoner, &start.givens),
        Method::Marks => Walk::with_marks(&reasoner, start.position()),
    };
    if then == Some(Then::Marks) && !walk.is_finished() {
        if start.solution.is_some() {
            walk = walk.with_one_solution();
        }
        walk.go_on_with_marks(&reasoner);
        return (walk, Method::Marks);
    }
    (walk, method)
}

/// The steps of a walk, each with its whole reason in words.
fn told(voice: Voice, walk: &Walk) -> Vec<(Deduction, String)> {
    let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
    let texts = walk
        .positions()
        .enumerate()
        .map(|(at, (before, step))| outline(&voice, Depth::Why, &before, &step.deduction, &steps[..at]));
    let texts: Vec<String> = texts.collect();
    steps.into_iter().zip(texts).collect()
}
