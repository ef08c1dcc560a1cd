//! The forms of foreign text, and how to tell them apart.

use super::text::{Lines, split_comment, trim};
use super::{grids, symbols, table};

/// A form that puzzles are written in elsewhere.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Form {
    /// One puzzle a line, one symbol a cell; what stands after a blank is its id.
    List,
    /// A line for each row of a grid, with blanks, bars and frames as wished.
    Grids,
    /// Rows with fields between commas, semicolons or tabs, and a heading line that names the columns.
    Table,
}

/// So many lines are looked at, and so many bytes of each.
const LINES: usize = 300;
const BYTES: usize = 2000;

/// The form that a text seems to have.
pub(super) fn recognise(text: &str) -> Form {
    if table::separator_of_heading(text).is_some() {
        return Form::Table;
    }
    let (mut puzzles, mut rows) = (0, 0);
    let lines = Lines::of(text).map(|line| trim(split_comment(beginning(line.text)).0));
    for line in lines.filter(|line| !line.is_empty()).take(LINES) {
        puzzles += usize::from(is_puzzle(line));
        rows += usize::from(grids::width(line).is_some());
    }
    if puzzles == 0 && rows == 0 && table::separator_of_rows(text).is_some() {
        Form::Table
    } else if rows > puzzles {
        Form::Grids
    } else {
        Form::List
    }
}

/// Whether a line seems to be a whole puzzle, with or without an id, well written or not.
pub(super) fn is_puzzle(line: &str) -> bool {
    let word = line.split(super::text::is_blank).next().unwrap_or_default().trim_end_matches([',', ';']);
    if word.contains([',', ';']) {
        return false;
    }
    let all = word.chars().count();
    let good = word.chars().filter(|&c| symbols::symbol(c).is_some()).count();
    let empty = word.chars().filter(|&c| symbols::symbol(c) == Some('.')).count();
    (all > 25 && good * 10 >= all * 9 && empty > 0)
        || symbols::read(word).is_ok()
        || symbols::read(line).is_ok()
}

fn beginning(line: &str) -> &str {
    &line[..line.floor_char_boundary(BYTES)]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NINE: &str = "53..7....6..195....98....6.8...6...34..8.3..17...2...6.6....28....419..5....8..79";

    fn rows(line: &str, size: usize) -> String {
        (0..size).flat_map(|row| [&line[row * size..(row + 1) * size], "\n"]).collect()
    }

    #[test]
    fn lists_are_lists() {
        assert_eq!(recognise(&format!("# mine\n{NINE} a\n")), Form::List);
        assert_eq!(recognise(&format!("{} a\n", &NINE[1..])), Form::List);
        assert_eq!(recognise("1...2...3...4...\n1...2...3...4..."), Form::List);
        assert_eq!(recognise(""), Form::List);
    }

    #[test]
    fn grids_are_grids() {
        assert_eq!(recognise(&rows(NINE, 9)), Form::Grids);
        assert_eq!(recognise(&format!("Puzzle, by Nour\n{}", rows(NINE, 9))), Form::Grids);
        assert_eq!(recognise("5 3 . | . 7 . | . . ."), Form::Grids);
        assert_eq!(recognise("5,3,,,7,,,,\n6,,,1,9,5,,,"), Form::Grids);
        assert_eq!(recognise("................\n.G..............\n....F..........."), Form::Grids);
    }

    #[test]
    fn tables_are_tables() {
        assert_eq!(recognise(&format!("id;givens\na;{NINE}")), Form::Table);
        assert_eq!(recognise(&format!("My book;;\n\nid\tpuzzle\na\t{NINE}")), Form::Table);
        assert_eq!(recognise(&format!("puzzle\n{NINE}")), Form::Table);
        assert_eq!(recognise(&format!("a,{NINE}\nb,{NINE}")), Form::Table);
        assert_eq!(recognise("id,givens\n"), Form::Table);
    }
}
