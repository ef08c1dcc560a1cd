//! From puzzles to lists and tables.

use super::Column;
use crate::board::{Grid, Layout};
use crate::book::{Constraints, Entry, Puzzle, SectionId, Workspace};
use crate::notation::{Item, ItemKind, Keyword, Section};
use std::collections::HashMap;
use std::fmt;

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

/// What of a puzzle finds no place in a list or a table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Loss {
    /// It has no givens that could be read: it is left out.
    Givens,
    /// Its boxes are not the usual ones of its size, or there are none that are usual.
    Boxes,
    /// Its regions.
    Regions,
    /// That its diagonals are houses.
    Diagonals,
    /// Its extra houses.
    Houses,
    /// Its further constraints.
    Constraints,
}

impl fmt::Display for Loss {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Loss::Givens => "it has no grid that could be read",
            Loss::Boxes => "its boxes",
            Loss::Regions => "its regions",
            Loss::Diagonals => "its diagonals",
            Loss::Houses => "its extra houses",
            Loss::Constraints => "its further constraints",
        })
    }
}

/// A puzzle to export.
#[derive(Clone, Debug)]
pub struct Outgoing<'a> {
    /// The puzzle.
    pub puzzle: &'a Puzzle,
    /// Where it stands.
    pub section: SectionId,
    /// What is exported of it; `None` if it has no givens that could be read.
    pub row: Option<Row>,
    /// What of it is not, and would be needed to solve it.
    pub lost: Vec<Loss>,
}

/// Every puzzle of a workspace, in order. Lessons are none.
pub fn outgoing(workspace: &Workspace) -> Vec<Outgoing<'_>> {
    let mut answers = HashMap::new();
    for (id, _, meaning) in workspace.sections() {
        for entry in &meaning.entries {
            if let Entry::Answer(answer) = entry
                && let Some(name) = &answer.id
            {
                answers.entry(name.text.as_str()).or_insert((id, answer));
            }
        }
    }
    let mut outgoing = Vec::new();
    let mut levels = Levels::default();
    for (id, section, meaning) in workspace.sections() {
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            let level = levels.at(id, section, item);
            let Entry::Puzzle(puzzle) = entry else { continue };
            if puzzle.lesson {
                continue;
            }
            let answer = || {
                let (id, answer) = answers.get(puzzle.id.as_ref()?.text.as_str())?;
                let board = answer.board(workspace.section(*id), puzzle.layout.as_ref()?).ok()??;
                Some(board.grid)
            };
            let solution = puzzle.solution.as_ref().map(|board| board.grid.clone()).or_else(answer);
            let row = row(puzzle, solution.as_ref(), level);
            outgoing.push(Outgoing { puzzle, section: id, row, lost: lost(puzzle) });
        }
    }
    outgoing
}

fn row(puzzle: &Puzzle, solution: Option<&Grid>, level: Option<String>) -> Option<Row> {
    Some(Row {
        id: puzzle.id.as_ref().map_or_else(String::new, |name| name.text.clone()),
        title: puzzle.title.join("\n"),
        givens: puzzle.givens.as_ref()?.grid.to_string(),
        solution: solution.map_or_else(String::new, Grid::to_string),
        level: level.unwrap_or_default(),
        number: puzzle.facts.number.as_ref().map_or_else(String::new, |number| number.value.to_string()),
    })
}

fn lost(puzzle: &Puzzle) -> Vec<Loss> {
    if puzzle.givens.is_none() {
        return vec![Loss::Givens];
    }
    let layout = puzzle.layout.as_deref();
    let usual = layout.and_then(|layout| layout.size().default_boxes());
    let boxes = layout.and_then(Layout::boxes);
    let regions = layout.is_some_and(|layout| layout.regions().is_some());
    let losses = [
        (Loss::Boxes, !regions && (boxes.is_none() || boxes != usual)),
        (Loss::Regions, regions),
        (Loss::Diagonals, layout.is_some_and(Layout::diagonals)),
        (Loss::Houses, !puzzle.facts.houses.is_empty()),
        (Loss::Constraints, puzzle.facts.constraints != Constraints::None),
    ];
    losses.into_iter().filter(|(_, lost)| *lost).map(|(loss, _)| loss).collect()
}

/// The levels that are said before the first puzzle of a file and of a part, for those that follow.
#[derive(Default)]
struct Levels {
    book: usize,
    file: Option<String>,
    part: Option<String>,
}

impl Levels {
    /// The level of an item: its own, or the one that holds here.
    fn at(&mut self, id: SectionId, section: &Section, item: &Item) -> Option<String> {
        if self.book != id.book {
            *self = Levels { book: id.book, ..Levels::default() };
        }
        let own = section
            .statements_of(item)
            .iter()
            .find(|statement| statement.keyword == Some(Keyword::Level) && !statement.broken)
            .and_then(|statement| Some(section.value(*statement.values.first()?)));
        match item.kind {
            ItemKind::Preface => self.file.clone_from(&own),
            ItemKind::Part => self.part.clone_from(&own),
            _ => {}
        }
        own.or_else(|| self.part.clone()).or_else(|| self.file.clone())
    }
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

/// The text of puzzles as a list or a table. [`import`](super::import()) reads it.
pub fn exported(rows: impl IntoIterator<Item = Row>, form: Output) -> String {
    heading(form) + &lines(rows, form)
}

/// What stands above all puzzles; nothing in a list.
pub fn heading(form: Output) -> String {
    let columns = COLUMNS.map(|column| column.to_string());
    form.separator().map_or_else(String::new, |separator| table([columns], separator))
}

/// The lines of some puzzles, without what stands above all.
pub fn lines(rows: impl IntoIterator<Item = Row>, form: Output) -> String {
    let fields = |row: Row| [row.id, row.givens, row.solution, row.title, row.level, row.number];
    match form.separator() {
        None => list(rows),
        Some(separator) => table(rows.into_iter().map(fields), separator),
    }
}

impl Output {
    /// What stands between the fields of a table.
    fn separator(self) -> Option<u8> {
        match self {
            Output::List => None,
            Output::Csv => Some(b','),
            Output::Tsv => Some(b'\t'),
        }
    }
}

fn list(rows: impl IntoIterator<Item = Row>) -> String {
    let mut text = String::new();
    for row in rows {
        text.push_str(&row.givens);
        if !row.id.is_empty() {
            text.push(' ');
            text.push_str(&row.id);
        }
        text.push('\n');
    }
    text
}

fn table(records: impl IntoIterator<Item = [String; COLUMNS.len()]>, separator: u8) -> String {
    let mut table = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
    for record in records {
        table
            .write_record(record)
            .expect("memory takes all that is written, and all records have as many fields");
    }
    let bytes = table.into_inner().expect("memory takes all that is written");
    String::from_utf8(bytes).expect("fields and separators are UTF-8")
}
