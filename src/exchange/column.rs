//! The columns of a table, and the words by which a heading line names them.

use super::symbols;
use super::text::is_blank;
use std::fmt;
use std::str::FromStr;

/// What a column of a table holds.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Column {
    /// The puzzle's id.
    Id,
    /// Its givens, one symbol a cell.
    Givens,
    /// Its solution, one symbol a cell.
    Solution,
    /// Its title.
    Title,
    /// Its level, a whole number.
    Level,
    /// Its printed number, a whole number.
    Number,
    /// Something else, which is handed on as `extra` by this name.
    Extra(String),
}

/// What headings say in plain English; the first of each is what is written.
const NAMES: &[(Column, &[&str])] = &[
    (Column::Id, &["id", "identifier", "key"]),
    (Column::Givens, &["givens", "given", "puzzle", "puzzles", "grid"]),
    (Column::Solution, &["solution", "solutions", "answer", "answers", "solved"]),
    (Column::Title, &["title", "name", "heading"]),
    (Column::Level, &["level", "difficulty", "grade"]),
    (Column::Number, &["number", "no", "nr", "num", "#"]),
];

impl Column {
    /// The column that a heading names; what is none of the known is [`Column::Extra`], and without any word in it
    /// [`Column::Extra`] with an empty name.
    pub fn named(heading: &str) -> Column {
        let word = plain(heading);
        let known = NAMES.iter().find(|(_, words)| words.contains(&word.as_str()));
        known.map_or_else(|| Column::Extra(key(&word)), |(column, _)| column.clone())
    }

    fn is_known(&self) -> bool {
        !matches!(self, Column::Extra(_))
    }
}

impl fmt::Display for Column {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Column::Extra(key) => f.write_str(key),
            known => {
                let row = NAMES.iter().find(|(column, _)| column == known);
                f.write_str(row.and_then(|(_, words)| words.first()).unwrap_or(&""))
            }
        }
    }
}

/// The columns of a table, from left to right; exactly one holds the givens.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Columns(Vec<Column>);

/// Names of columns that make no table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ColumnsError {
    /// None holds the givens.
    NoGivens,
    /// Two hold the same.
    Twice(Column),
}

impl fmt::Display for ColumnsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ColumnsError::NoGivens => f.write_str("no column is called `givens`"),
            ColumnsError::Twice(column) => write!(f, "two columns are called `{column}`"),
        }
    }
}

impl std::error::Error for ColumnsError {}

/// Reads names with commas between them, such as `id,givens,solution`; a name that is not known is handed on as
/// `extra`.
impl FromStr for Columns {
    type Err = ColumnsError;

    fn from_str(names: &str) -> Result<Columns, ColumnsError> {
        let columns: Vec<Column> = names.split(',').map(Column::named).collect();
        if !columns.contains(&Column::Givens) {
            return Err(ColumnsError::NoGivens);
        }
        let repeated = columns
            .iter()
            .enumerate()
            .find(|(at, column)| column.is_known() && columns[..*at].contains(column));
        match repeated {
            Some((_, column)) => Err(ColumnsError::Twice(column.clone())),
            None => Ok(Columns(columns)),
        }
    }
}

impl Columns {
    /// The columns that a line names, if it is a heading line: it names the givens, and holds nothing like a grid.
    ///
    /// Where two headings name the same, the one that is called as it would be written has it, else the first; the
    /// other is kept as [`Column::Extra`].
    pub(super) fn of_heading<'a>(fields: impl Iterator<Item = &'a str> + Clone) -> Option<Columns> {
        if fields.clone().any(is_like_a_grid) {
            return None;
        }
        let mut columns: Vec<Column> = fields.clone().map(Column::named).collect();
        let words: Vec<String> = fields.map(plain).collect();
        for (column, _) in NAMES {
            let same: Vec<usize> = (0..columns.len()).filter(|&at| columns[at] == *column).collect();
            let best =
                same.iter().copied().find(|&at| words[at] == column.to_string()).or(same.first().copied());
            for at in same.into_iter().filter(|&at| Some(at) != best) {
                columns[at] = Column::Extra(key(&words[at]));
            }
        }
        columns.contains(&Column::Givens).then_some(Columns(columns))
    }

    /// … if it can also be told from a row of a table: half of its fields at least are headings.
    pub(super) fn of_heading_among_rows<'a>(
        fields: impl Iterator<Item = &'a str> + Clone,
    ) -> Option<Columns> {
        let filled = fields.clone().filter(|field| !plain(field).is_empty()).count();
        let columns = Columns::of_heading(fields)?;
        let known = columns.0.iter().filter(|column| column.is_known()).count();
        (2 * known >= filled).then_some(columns)
    }

    /// What the columns of a table without a heading seem to be, by one row of it; `None` if no field is a grid.
    pub(super) fn seen_in<'a>(fields: impl Iterator<Item = &'a str>) -> Option<Columns> {
        let mut columns: Vec<Column> = Vec::new();
        for field in fields {
            let grid = symbols::read(field).ok().map(|reading| reading.grid);
            let column = match grid {
                Some(grid) if columns.contains(&Column::Givens) && grid.is_full() => Column::Solution,
                Some(_) => Column::Givens,
                None => Column::Id,
            };
            let taken = columns.contains(&column);
            let other = Column::Extra(format!("column-{}", columns.len() + 1));
            columns.push(if taken { other } else { column });
        }
        columns.contains(&Column::Givens).then_some(Columns(columns))
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether one of them is `column`.
    pub(super) fn have(&self, column: &Column) -> bool {
        self.0.contains(column)
    }

    /// The column at a place, from 0; one beyond the last, or without a name, is called by its place.
    pub(super) fn at(&self, place: usize) -> Column {
        match self.0.get(place) {
            Some(Column::Extra(key)) if key.is_empty() => Column::Extra(format!("column-{}", place + 1)),
            Some(column) => column.clone(),
            None => Column::Extra(format!("column-{}", place + 1)),
        }
    }
}

impl fmt::Display for Columns {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let names: Vec<String> = self.0.iter().map(Column::to_string).collect();
        f.write_str(&names.join(","))
    }
}

/// Whether a field can only be a grid or what is left of one: no heading is such a run of symbols.
fn is_like_a_grid(field: &str) -> bool {
    let core = symbols::peel(field);
    let symbols = core.chars().filter(|&c| !is_blank(c)).take(200);
    let (mut all, mut good) = (0, 0);
    for c in symbols {
        all += 1;
        good += usize::from(c.is_ascii_digit() || symbols::symbol(c) == Some('.'));
    }
    all >= 10 && good * 2 >= all
}

/// A heading as it is compared: without blanks and quotes around it, in small letters, without a full stop or colon.
fn plain(heading: &str) -> String {
    symbols::peel(heading).trim_end_matches(|c| is_blank(c) || matches!(c, '.' | ':')).to_lowercase()
}

/// A heading or a name as a word of the notation: its letters and digits, and a hyphen for all between them.
pub(super) fn key(heading: &str) -> String {
    let words = heading.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let key = words.collect::<Vec<_>>().join("-");
    key.chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heading(line: &str) -> Option<String> {
        Columns::of_heading(line.split(';')).map(|columns| columns.to_string())
    }

    #[test]
    fn headings_are_known_by_plain_words() {
        assert_eq!(heading("ID;Puzzle;Answer;Name;No.").as_deref(), Some("id,givens,solution,title,number"));
        assert_eq!(
            heading("\u{feff}\"id\"; GIVENS :;Remarks (old)").as_deref(),
            Some("id,givens,remarks-old")
        );
        assert_eq!(heading("id;title"), None);
        assert_eq!(heading("7;53..7....6..;Puzzle"), None);
    }

    #[test]
    fn of_two_headings_for_one_thing_the_plain_name_has_it() {
        assert_eq!(heading("puzzle;givens").as_deref(), Some("puzzle,givens"));
        assert_eq!(heading("puzzle;grid").as_deref(), Some("givens,grid"));
    }

    #[test]
    fn a_row_is_no_heading_because_of_one_word() {
        let among = |line: &str| Columns::of_heading_among_rows(line.split(';')).is_some();
        assert!(among("id;givens;remarks"));
        assert!(!among("7;Puzzle;;12;easy"));
    }

    #[test]
    fn columns_are_named_in_order() {
        let columns: Columns = "id,,givens,place".parse().unwrap();
        assert_eq!(columns.at(1), Column::Extra("column-2".into()));
        assert_eq!(columns.at(3), Column::Extra("place".into()));
        assert_eq!(columns.at(9), Column::Extra("column-10".into()));
        assert_eq!("id,title".parse::<Columns>(), Err(ColumnsError::NoGivens));
        assert_eq!("id,givens,id".parse::<Columns>(), Err(ColumnsError::Twice(Column::Id)));
    }
}
