//! `gridsetter import`: lists, grids of several lines and tables, as one file of the notation.

use super::input::{Source, Text};
use super::terminal::{Closed, Terminal, Trouble};
use super::words::counted;
use crate::exchange::{self, Columns, Effect, Foreign, Form, ImportOptions};
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};
use std::sync::Arc;

const EXAMPLES: &str = "\
Examples:
  gridsetter import cards.txt > cards.gset               a list, grids or a table: it is found out
  gridsetter import --columns id,givens,title book.csv   a table without a heading line
  gridsetter import - < pasted.txt                       read standard input

Each row comes out as a puzzle, or stays in its place as a comment that says what is wrong with it.

Exit code: 0 done, 1 a row is kept as a comment or altered, 2 something could not be read.";

/// Put lists, grids of several lines and tables into the notation
#[derive(Args, Debug)]
#[command(after_help = EXAMPLES)]
pub struct Arguments {
    /// Files of any name; `-` is standard input
    #[arg(required = true, value_name = "PATHS")]
    paths: Vec<PathBuf>,
    /// Call standard input by this name
    #[arg(long, value_name = "NAME")]
    stdin_name: Option<String>,
    /// What the files are, where that is not found out rightly
    #[arg(long, value_enum, value_name = "FORM")]
    from: Option<From>,
    /// What the columns of a table hold, from left to right: of id, givens, solution, title, level, number; a column of
    /// any other name is kept under that name
    #[arg(long, value_name = "NAMES", conflicts_with = "from")]
    columns: Option<Columns>,
    /// Begin the ids of puzzles that have none with this, instead of the first file's name
    #[arg(long, value_name = "WORD")]
    prefix: Option<String>,
}

/// What a file is.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum From {
    /// One puzzle a line, one symbol a cell; what follows after a blank is its id
    List,
    /// A line for each row of a grid; the line above a grid is its title
    Grids,
    /// Fields between commas, semicolons or tabs, and a heading line that names them
    Table,
}

impl From {
    fn form(self) -> Form {
        match self {
            From::List => Form::List,
            From::Grids => Form::Grids,
            From::Table => Form::Table,
        }
    }
}

/// Runs the command.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn run(arguments: &Arguments, terminal: &mut Terminal) -> Result<(), Closed> {
    let mut texts: Vec<(String, String)> = Vec::new();
    for source in arguments.sources() {
        match read(&source) {
            Ok(text) => texts.push((source.name, text)),
            Err(trouble) => terminal.trouble(&trouble),
        }
    }
    if texts.is_empty() {
        return Ok(());
    }
    let options = ImportOptions {
        form: arguments.from.map(From::form),
        columns: arguments.columns.clone(),
        prefix: arguments.prefix(),
    };
    let foreign: Vec<Foreign> = texts.iter().map(|(name, text)| Foreign { name, text }).collect();
    let mut written = Ok(());
    let imported = exchange::import_in_pieces(&foreign, &options, &mut |piece| {
        if written.is_ok() {
            written = terminal.print(piece);
        }
    });
    written?;
    for trouble in &imported.troubles {
        let grade = match trouble.effect() {
            Effect::Left => "error",
            Effect::Altered => "warning",
            Effect::NothingLost => "info",
        };
        let place = format!("{}:{}:{}", foreign[trouble.source].name, trouble.line, trouble.column);
        terminal.remark(&format!("{place}: {grade}: {}; {}", trouble.what(), trouble.help()));
        if trouble.effect() > Effect::NothingLost {
            terminal.found();
        }
    }
    let (puzzles, left) = (counted(imported.puzzles, "puzzle"), counted(imported.left, "row"));
    terminal.remark(&format!("{puzzles} from {}, {left} kept as comments", counted(texts.len(), "file")));
    Ok(())
}

impl Arguments {
    fn sources(&self) -> Vec<Source> {
        let mut sources: Vec<Source> = Vec::new();
        for path in &self.paths {
            let source = if is_stdin(path) {
                let name = self.stdin_name.clone().unwrap_or_else(|| "<stdin>".to_owned());
                Source { name, path: None, list: true }
            } else {
                Source { name: path.display().to_string(), path: Some(path.clone()), list: true }
            };
            if !sources.contains(&source) {
                sources.push(source);
            }
        }
        sources
    }

    /// What is said, or else the name of the first file.
    fn prefix(&self) -> String {
        let stem = || self.paths.iter().find(|path| !is_stdin(path))?.file_stem();
        let file = || stem().map(|stem| stem.to_string_lossy().to_lowercase());
        self.prefix.clone().or_else(file).unwrap_or_default()
    }
}

fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// The text of a file. Where it is not UTF-8 nothing of it is read: a letter lost unseen would be no import.
fn read(source: &Source) -> Result<String, Trouble> {
    let bytes = match source.read()? {
        Text::Utf8(text) => return Ok(Arc::unwrap_or_clone(text)),
        Text::Other(bytes) => bytes,
    };
    let before = bytes.utf8_chunks().next().map_or("", |chunk| chunk.valid());
    let line = before.split('\n').count();
    let what = format!("line {line} is not UTF-8 text");
    Err(Trouble::new(&source.name, what, "save it as UTF-8; of a spreadsheet, as CSV UTF-8"))
}
