//! `gridsetter solve`: how many solutions, and the first of them.

use super::json;
use super::project::Projects;
use super::puzzles::{Met, Puzzles};
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::words::counted;
use crate::board::Layout;
use crate::book::{Constraints, Puzzle};
use crate::draw::Picture;
use crate::solve::{Budget, Outcome, Stop, count};
use crate::words::Voice;
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::sync::Arc;

const EXAMPLES: &str = "\
Examples:
  gridsetter solve volume.gset                    every puzzle of a file
  gridsetter solve --id lk-007 --words books/     one puzzle, its solution in words
  gridsetter solve --limit 1000 --format json -   count further, for programs

Exit code: 0 each puzzle has exactly one solution, 1 not so, 2 something could not be read.";

/// Count the solutions of each puzzle and give the first
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    puzzles: Puzzles,
    /// How the answers are written
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// Count no further than this
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u64).range(1..))]
    limit: u64,
    /// Search no further than this many assumed digits, for each puzzle
    #[arg(long, value_name = "NODES", default_value_t = Budget::default().nodes)]
    budget: u64,
    /// Give the solution in words, a row a line
    #[arg(long)]
    words: bool,
}

/// How the answers are written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Format {
    /// For people: a sentence and the solution drawn
    Human,
    /// For programs: one JSON object a line
    Json,
}

/// The answer for a puzzle as a line of JSON.
#[derive(Serialize)]
struct AnswerLine<'a> {
    id: Option<&'a str>,
    size: Option<u8>,
    count: Option<u64>,
    stopped: Option<&'static str>,
    solution: Option<String>,
}

/// How many puzzles came to what.
#[derive(Default)]
struct Tally {
    one: usize,
    none: usize,
    several: usize,
    undecided: usize,
    unsolved: usize,
}

/// What the search made of a puzzle, and the layout to draw it in.
struct Answer {
    layout: Arc<Layout>,
    outcome: Outcome,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, projects: &mut Projects, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut tally = Tally::default();
    let look = |met: &Met, telling: &mut Telling| {
        let puzzle = met.puzzle;
        if puzzle.lesson {
            return None;
        }
        let answer = arguments.solve(puzzle);
        telling.print(match arguments.format {
            Format::Json => as_json(puzzle, answer.as_ref()),
            Format::Human => format!("{}: {}", met.heading(), arguments.as_text(puzzle, answer.as_ref())),
        });
        Some(answer.map(|answer| (answer.outcome.count, answer.outcome.stopped)))
    };
    arguments.puzzles.each(&[], projects, terminal, look, |came_to, terminal| {
        if came_to.is_some_and(|count| !tally.add(count)) {
            terminal.found();
        }
        Ok(())
    })?;
    terminal.remark(&tally.summary());
    Ok(())
}

impl Arguments {
    /// The answer for a puzzle; `None` for one that cannot be solved as it stands.
    fn solve(&self, puzzle: &Puzzle) -> Option<Answer> {
        let (true, Some(layout), Some(givens)) = (puzzle.judged(), &puzzle.layout, &puzzle.givens) else {
            return None;
        };
        let outcome = count(layout, &givens.grid, self.limit, Budget { nodes: self.budget });
        Some(Answer { layout: Arc::clone(layout), outcome })
    }

    /// The answer as a sentence, and the first solution below it.
    fn as_text(&self, puzzle: &Puzzle, answer: Option<&Answer>) -> String {
        let Some(Answer { layout, outcome }) = answer else {
            return format!("not solved: {}\n\n", why_unsolved(puzzle));
        };
        let sentence = match (outcome.count, outcome.stopped) {
            (0, None) => "no solution".to_owned(),
            (1, None) => "exactly one solution".to_owned(),
            (n, None) => format!("{n} solutions; the first:"),
            (1, Some(Stop::Limit)) => "at least one solution:".to_owned(),
            (n, Some(Stop::Limit)) => format!("at least {n} solutions; the first:"),
            (0, Some(Stop::Budget)) => format!("undecided: nothing found within {} nodes", self.budget),
            (1, Some(Stop::Budget)) => {
                format!("undecided: one solution, and no word on a second within {} nodes:", self.budget)
            }
            (n, Some(Stop::Budget)) => {
                format!("at least {n} solutions within {} nodes; the first:", self.budget)
            }
        };
        let grid = outcome.first.as_ref().map_or_else(String::new, |grid| {
            let picture = Picture::new(layout, grid, grid);
            let said = || picture.said(&Voice::default().labels()).join("\n") + "\n";
            if self.words { said() } else { picture.drawing() }
        });
        format!("{sentence}\n{grid}\n")
    }
}

/// Why a puzzle cannot be solved as it stands, as half a sentence.
fn why_unsolved(puzzle: &Puzzle) -> &'static str {
    if puzzle.facts.constraints != Constraints::None {
        "it has a constraint that is not used in solving yet"
    } else if puzzle.givens.is_none() && !puzzle.unsure {
        "it has no grid that could be read; `gridsetter check` says more"
    } else {
        "a part of it could not be read; `gridsetter check` says which"
    }
}

fn as_json(puzzle: &Puzzle, answer: Option<&Answer>) -> String {
    let outcome = answer.map(|answer| &answer.outcome);
    let stopped = outcome.and_then(|outcome| outcome.stopped).map(|stop| match stop {
        Stop::Limit => "limit",
        Stop::Budget => "budget",
    });
    json::line(&AnswerLine {
        id: puzzle.id.as_ref().map(|id| id.text.as_str()),
        size: puzzle.layout.as_ref().map(|layout| layout.size().side()),
        count: outcome.map(|outcome| outcome.count),
        stopped,
        solution: outcome.and_then(|outcome| outcome.first.as_ref()).map(ToString::to_string),
    })
}

impl Tally {
    /// Counts how many solutions were counted and why no more, or that nothing could be solved; tells whether it is exactly
    /// one solution.
    fn add(&mut self, count: Option<(u64, Option<Stop>)>) -> bool {
        let place = match count {
            None => &mut self.unsolved,
            Some((1, None)) => {
                self.one += 1;
                return true;
            }
            Some((0, None)) => &mut self.none,
            Some((0 | 1, Some(_))) => &mut self.undecided,
            Some(_) => &mut self.several,
        };
        *place += 1;
        false
    }

    /// `14 puzzles: 12 with exactly one solution, 1 with none, 1 with several`
    fn summary(&self) -> String {
        let kinds = [
            (self.one, "with exactly one solution"),
            (self.none, "with none"),
            (self.several, "with several"),
            (self.undecided, "undecided"),
            (self.unsolved, "not solved"),
        ];
        let all = counted(kinds.iter().map(|(n, _)| n).sum(), "puzzle");
        let parts: Vec<String> =
            kinds.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")).collect();
        if parts.is_empty() { all } else { format!("{all}: {}", parts.join(", ")) }
    }
}
