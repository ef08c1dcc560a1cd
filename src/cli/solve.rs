//! `gridsetter solve`: how many solutions, and the first of them.

use super::input::Inputs;
use super::puzzles::{Ids, puzzles_of};
use super::terminal::{Closed, Terminal, Trouble};
use super::words::counted;
use super::{drawing, json, visible};
use crate::book::{Board, Puzzle};
use crate::board::Layout;
use crate::solve::{Budget, Outcome, Stop, count};
use clap::{Args, ValueEnum};
use serde::Serialize;

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
    inputs: Inputs,
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
    /// Solve only the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    id: Vec<String>,
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
    unreadable: usize,
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut ids = Ids::new(&arguments.id);
    let mut tally = Tally::default();
    for source in arguments.inputs.sources(terminal) {
        let book = match source.read() {
            Ok(text) => source.book(&text),
            Err(trouble) => {
                terminal.trouble(&trouble);
                continue;
            }
        };
        terminal.detail(&format!("read {}", source.name));
        for puzzle in puzzles_of(&book).filter(|puzzle| !puzzle.lesson && ids.take(puzzle)) {
            let answer = arguments.solve(puzzle);
            if !tally.add(answer.as_ref()) {
                terminal.found();
            }
            terminal.print(&match arguments.format {
                Format::Json => as_json(puzzle, answer.as_ref()),
                Format::Human => arguments.as_text(&source.name, puzzle, answer.as_ref()),
            })?;
        }
    }
    ids.say_missing(terminal);
    terminal.remark(&tally.to_string());
    Ok(())
}
