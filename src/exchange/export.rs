//! From puzzles to lists and tables.

use super::Column;
use std::io::{self, Write};

/// What is exported of a puzzle; what it does not have is empty.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Row {
    /// Its id, one word.
    pub id: String,
    /// Its title; its lines are the title's lines.
    pub title: String,
    /// Its givens, one symbol a cell, `.` for an empty one.
    pub givens: String,
    /// Its solution, one symbol a cell.
    pub solution: String,
    /// Its level, a whole number.
    pub level: String,
    /// Its printed number, a whole number.
    pub number: String,
}

/// A form to export.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Output {
    /// The givens and the id of a puzzle, a line each; nothing else has a place there.
    List,
    /// A table with commas between fields.
    Csv,
    /// A table with tabs between fields.
    Tsv,
}

/// The columns of a table.
const COLUMNS: [Column; 6] =
    [Column::Id, Column::Givens, Column::Solution, Column::Title, Column::Level, Column::Number];

/// Writes puzzles, each as soon as it comes. [`import`](super::import) reads what is written.
///
/// # Errors
/// If `out` cannot be written to.
pub fn export(rows: impl IntoIterator<Item = Row>, form: Output, out: impl Write) -> io::Result<()> {
    match form {
        Output::List => list(rows, out),
        Output::Csv => table(rows, b',', out),
        Output::Tsv => table(rows, b'\t', out),
    }
}

fn list(rows: impl IntoIterator<Item = Row>, mut out: impl Write) -> io::Result<()> {
    for row in rows {
        writeln!(out, "{}", format!("{} {}", row.givens, row.id).trim_end())?;
    }
    out.flush()
}

fn table(rows: impl IntoIterator<Item = Row>, separator: u8, out: impl Write) -> io::Result<()> {
    let mut table = csv::WriterBuilder::new().delimiter(separator).from_writer(out);
    table.write_record(COLUMNS.map(|column| column.to_string()))?;
    for row in rows {
        table.write_record([row.id, row.givens, row.solution, row.title, row.level, row.number])?;
    }
    table.flush()
}
