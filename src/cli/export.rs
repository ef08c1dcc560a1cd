//! `gridsetter export`: puzzles as a list or a table.

use super::course::{Part, each_part};
use super::ids::Ids;
use super::input::Inputs;
use super::place::Places;
use super::project::Projects;
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::words::counted;
use crate::book::{Spot, Workspace};
use crate::exchange::{self, Loss, Outgoing, Output};
use clap::{Args, ValueEnum};

const EXAMPLES: &str = "\
Examples:
  gridsetter export volume.gset > volume.txt         one puzzle a line, and its id
  gridsetter export --to csv books/ > books.csv      a table: id, givens, solution, title, level, number
  gridsetter export --id lk-007 volume.gset          one puzzle

Exit code: 0 done, 1 a puzzle is left out or needs more than its givens, 2 something could not be read.";

/// Write puzzles as a list or a table
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    #[command(flatten)]
    inputs: Inputs,
    /// What is written
    #[arg(long, value_enum, value_name = "FORM", default_value_t = To::List)]
    to: To,
    /// Export only the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    id: Vec<String>,
}

/// What is written.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum To {
    /// One puzzle a line, one symbol a cell, a blank and the id
    List,
    /// A table with a heading line and commas between fields
    Csv,
    /// A table with a heading line and tabs between fields
    Tsv,
}

impl To {
    fn output(self) -> Output {
        match self {
            To::List => Output::List,
            To::Csv => Output::Csv,
            To::Tsv => Output::Tsv,
        }
    }
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more, or the user wants no more.
pub fn run(arguments: &Arguments, terminal: &mut Terminal) -> Result<(), Closed> {
    let sources = arguments.inputs.sources(terminal);
    let (form, ids) = (arguments.to.output(), Ids::new(&arguments.id));
    let (mut out, mut left) = (0, 0);
    let mut take = |exported: Exported, terminal: &mut Terminal| {
        out += exported.out;
        left += exported.left;
        terminal.tell(exported.telling)?;
        Ok(exported.out)
    };
    terminal.print(&exchange::heading(form))?;
    if sources.iter().all(|source| source.list) {
        let look = |part: &Part| Exported::of(part.all.workspace(), &part.all.places(), &ids, form);
        each_part(&sources, &mut Projects::none(), terminal, &look, &mut take)?;
    } else {
        // The answers of a file may stand in another one.
        let mut books = Vec::new();
        for source in sources {
            match source.read() {
                Ok(text) => books.push(source.book(&text)),
                Err(trouble) => terminal.trouble(&trouble),
            }
        }
        let workspace = Workspace::new(books);
        take(Exported::of(&workspace, &Places::new(&workspace), &ids, form), terminal)?;
    }
    ids.say_missing(terminal);
    terminal.remark(&format!("{}, {left} left out", counted(out, "puzzle")));
    Ok(())
}

/// Some puzzles as they are written.
struct Exported {
    telling: Telling,
    out: usize,
    left: usize,
}

impl Exported {
    fn of(workspace: &Workspace, places: &Places, ids: &Ids, form: Output) -> Exported {
        let mut chosen = exchange::outgoing(workspace);
        chosen.retain(|outgoing| ids.take(outgoing.puzzle));
        let rows = chosen.iter().filter_map(|outgoing| outgoing.row.clone());
        let mut telling = Telling::default();
        telling.print(exchange::lines(rows, form));
        for outgoing in chosen.iter().filter(|outgoing| !outgoing.lost.is_empty()) {
            telling.found();
            telling.remark(format!("{}: {}", place(outgoing, places), lost(&outgoing.lost)));
        }
        let out = chosen.iter().filter(|outgoing| outgoing.row.is_some()).count();
        Exported { telling, out, left: chosen.len() - out }
    }
}

/// Where a puzzle stands and what it is called.
fn place(outgoing: &Outgoing, places: &Places) -> String {
    let spot = Spot { section: outgoing.section, span: outgoing.puzzle.head };
    let place = format!("{}:{}", places.file(outgoing.section.book), places.range(spot).start.line);
    match &outgoing.puzzle.id {
        Some(id) => format!("{place}: {}", id.text),
        None => place,
    }
}

/// What does not come out, as a sentence.
fn lost(lost: &[Loss]) -> String {
    if lost.contains(&Loss::Givens) {
        return "it is left out, because it has no grid that could be read; `gridsetter check` says more"
            .into();
    }
    let what: Vec<String> = lost.iter().map(Loss::to_string).collect();
    let what = what.join(" and ");
    format!("{what} cannot be told there; whoever reads the givens alone has another puzzle")
}
