//! `gridsetter hint`: the next step.

use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::telling::Telling;
use super::terminal::{Closed, Terminal, Trouble};
use super::visible;
use super::voice::VoiceOptions;
use super::walk::Way;
use super::walk_json::{Course, WalkLine};
use super::words::counted;
use crate::board::{Cell, DigitSet};
use crate::book::known;
use crate::notation::Keyword;
use crate::replay::{self, Ground, State};
use crate::step::{Deduction, Method, Position};
use crate::study::{Grader, Mistaken, Next, Start};
use crate::words::{self, Depth};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;

const EXAMPLES: &str = "\
Examples:
  gridsetter hint --id lk-007 volume.gset                   the next step from its work, with its reason
  gridsetter hint --id lk-007 --depth where volume.gset     only where to look
  gridsetter hint --id lk-007 --cell r4c1 volume.gset       why each other digit is out of a cell
  gridsetter hint --at two-kettles volume.gset              from a point of a walkthrough

Where the sheet has marks, the step is found with all marks on the table, else by scanning;
--method says otherwise. Without a sheet called `work` the givens are where it starts.

Exit code: 0 there is a step for each puzzle, 1 not so, 2 something could not be read.";

/// Give the next step of a puzzle, from its work or its givens
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// How the step is written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// How much is told
    #[arg(long, value_enum, value_name = "DEPTH", default_value_t = Much::Why)]
    depth: Much,
    /// How the reader looks at the grid
    #[arg(long, value_enum, value_name = "METHOD")]
    method: Option<Way>,
    /// Start from this point of a walkthrough
    #[arg(long, value_name = "POINT", conflicts_with = "cell")]
    at: Option<String>,
    /// Tell why each digit that is out of this cell is out, in place of a step
    #[arg(long, value_name = "CELL", value_parser = cell)]
    cell: Option<Cell>,
    /// Where something in the work does not hold, tell where
    #[arg(long)]
    mistakes: bool,
    #[command(flatten)]
    voice: VoiceOptions,
}

/// How the step is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Format {
    /// For people: sentences
    Human,
    /// For programs: one JSON object a line
    Json,
}

/// How much is told.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Much {
    /// Only where to look
    Where,
    /// What is there, and what follows
    What,
    /// The whole reason
    Why,
}

impl Much {
    fn depth(self) -> Depth {
        match self {
            Much::Where => Depth::Where,
            Much::What => Depth::What,
            Much::Why => Depth::Why,
        }
    }
}

/// Reads `r4c1`.
fn cell(text: &str) -> Result<Cell, String> {
    let number = |text: &str| text.parse::<u8>().ok().filter(|number| (1..=25).contains(number));
    let place = text.strip_prefix(['r', 'R']).and_then(|rest| rest.split_once(['c', 'C']));
    place
        .and_then(|(row, col)| Some(Cell::new(number(row)? - 1, number(col)? - 1)))
        .ok_or_else(|| "a cell is written by its row and column, such as `r4c1`".to_owned())
}

/// What there is to say of a puzzle.
#[derive(Default)]
struct Hint {
    position: Option<Position>,
    step: Option<(Deduction, String)>,
    /// Why there is no step, in words.
    stuck: Option<String>,
    method: Option<Method>,
    start: Option<Start>,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, projects: &mut Projects, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut tally = (0, 0);
    let leans_on: &[Keyword] = match arguments.at {
        Some(_) => &[Keyword::Symbols, Keyword::Steps],
        None => &[Keyword::Symbols, Keyword::Work, Keyword::Known],
    };
    let look = |met: &Met, telling: &mut Telling| {
        let hint = Hint::of(arguments, met);
        if let Some(cell) = arguments.cell {
            arguments.tell_cell(met, &hint, cell, telling);
            return false;
        }
        let is_there = hint.step.is_some();
        if !is_there {
            telling.found();
            let why = hint.stuck.as_deref().unwrap_or_default();
            telling.remark(format!("{}: no step: {why}", met.heading()));
        }
        match (arguments.format, &hint.step) {
            (Format::Human, Some((_, text))) => {
                telling.print(format!("{}: {}\n", met.heading(), visible::lines(text)));
            }
            (Format::Human, None) => {}
            (Format::Json, _) => telling.print(hint.into_json(met)),
        }
        is_there
    };
    arguments.puzzles.each(leans_on, projects, terminal, look, |is_there, _| {
        tally.0 += 1;
        tally.1 += usize::from(is_there);
        Ok(())
    })?;
    if arguments.cell.is_none() {
        terminal.remark(&format!("{}: a next step for {}", counted(tally.0, "puzzle"), tally.1));
    }
    Ok(())
}

impl Arguments {
    fn tell_cell(&self, met: &Met, hint: &Hint, cell: Cell, telling: &mut Telling) {
        let Some(position) = &hint.position else {
            telling.found();
            let why = hint.stuck.as_deref().unwrap_or_default();
            telling.remark(format!("{}: nothing to tell: {why}", met.heading()));
            return;
        };
        if !position.layout().size().contains(cell) {
            let what = format!("is not in a grid of size {}", position.layout().size());
            telling.trouble(Trouble::new(format!("--cell {cell}"), what, "name another cell"));
            return;
        }
        let voice = self.voice.voice_for(met.puzzle);
        let stands = position.grid().get(cell).map(DigitSet::single);
        let left: Vec<String> = voice.signs.each(stands.unwrap_or(position.candidates(cell))).collect();
        let mut text = format!("{}: {cell}: {}\n", met.heading(), left.join(", "));
        let grader = Grader::of(position.layout(), met.ladder);
        let why_not = |digit| grader.reasoner().why_not(position, cell, digit);
        for sentence in words::candidates_out(&voice, position, cell, why_not) {
            let _ = writeln!(text, "  {sentence}");
        }
        telling.print(visible::lines(&text).into_owned());
    }
}

impl Hint {
    fn of(arguments: &Arguments, met: &Met) -> Hint {
        let start = match Start::of(met.puzzle) {
            Ok(start) => start,
            Err(why) => return Hint { stuck: Some(why.to_string()), ..Hint::default() },
        };
        if let Some(point) = &arguments.at {
            return Hint::at_point(arguments, met, start, point);
        }
        if met.puzzle.sheets.is_empty() && met.has(Keyword::Work) {
            let stuck = Some("its work could not be read".to_owned());
            return Hint { stuck, start: Some(start), ..Hint::default() };
        }
        let sheet = met.puzzle.sheets.iter().find(|sheet| sheet.name.is_none()).or(met.puzzle.sheets.first());
        let known = known(met.section, met.puzzle, sheet, &start.layout);
        let method = arguments.method.map(Way::method);
        let next = match Next::of(&start, met.ladder, sheet, &known, method) {
            Ok(next) => next,
            Err(Mistaken { cells }) => {
                let mut stuck = "something in the work does not hold".to_owned();
                if arguments.mistakes {
                    let cells: Vec<String> = cells.iter().map(Cell::to_string).collect();
                    let _ = write!(stuck, ": {}", cells.join(" "));
                }
                return Hint { stuck: Some(stuck), start: Some(start), ..Hint::default() };
            }
        };
        let voice = arguments.voice.voice_for(met.puzzle);
        let Next { position, facts, method, step } = next;
        let stuck = match step {
            Some(_) => None,
            None if position.is_finished() => Some("every cell is filled".to_owned()),
            None => Some(words::stuck(&voice, method)),
        };
        let step = step.map(|step| {
            let text = words::outline(&voice, arguments.depth.depth(), &position, &step, &facts);
            (step, text)
        });
        Hint { position: Some(position), step, stuck, method: Some(method), start: Some(start) }
    }

    fn at_point(arguments: &Arguments, met: &Met, start: Start, point: &str) -> Hint {
        let state = State::new(start.position());
        let found =
            replay::walks(met.section, met.puzzle, met.ladder, &start, &state).find_map(|(walk, replay)| {
                let (_, state) = replay.points.into_iter().find(|(name, _)| name == point)?;
                Some((walk, State::clone(&state)))
            });
        let Some((walk, state)) = found else {
            let stuck = Some(format!("no walk of it has a point `{point}`"));
            return Hint { stuck, start: Some(start), ..Hint::default() };
        };
        let voice = arguments.voice.voice_for(met.puzzle);
        let method = arguments.method.map_or(Method::Scanning, Way::method);
        let ground = Ground::new(&start, met.ladder, met.puzzle, &walk);
        let step = state.onward(&ground, method).map(|(step, _)| {
            let earlier = state.deductions();
            let text = words::outline(&voice, arguments.depth.depth(), &state.known, &step, &earlier);
            (step, text)
        });
        let stuck = match step {
            Some(_) => None,
            None if state.known.is_finished() => Some("every cell is filled".to_owned()),
            None => Some(words::stuck(&voice, method)),
        };
        Hint { position: Some(state.known), step, stuck, method: Some(method), start: Some(start) }
    }

    fn into_json(self, met: &Met) -> String {
        let finished = self.position.as_ref().is_some_and(Position::is_finished);
        let course = Course {
            method: self.method.unwrap_or(Method::Scanning).name(),
            finished,
            solution: self.start.and_then(|start| start.solution),
            stuck: self.stuck,
        };
        let steps: Vec<(Deduction, String)> = self.step.into_iter().collect();
        WalkLine::new(met.puzzle, course, &steps).at(self.position.as_ref()).line()
    }
}
