//! What the languages write alike.

use crate::board::{Cell, CellSet};

/// The items with commas, the last two with `word` between them.
pub(super) fn joined(items: impl IntoIterator<Item = String>, word: &str) -> String {
    let mut items: Vec<String> = items.into_iter().collect();
    match items.pop() {
        Some(last) if items.is_empty() => last,
        Some(last) => format!("{} {word} {last}", items.join(", ")),
        None => String::new(),
    }
}

/// The same with a capital at the beginning.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The letter of a row counted from 0: A for the first.
pub(super) fn letter(row: u8) -> char {
    char::from(b'A' + row)
}

/// A cell as row letter and column number.
pub(super) fn by_letter(cell: Cell) -> String {
    format!("{}{}", letter(cell.row()), cell.col() + 1)
}

/// Cells as a claim names them, in braces.
pub(super) fn braced(cells: CellSet) -> String {
    let cells: Vec<String> = cells.iter().map(|cell| cell.to_string()).collect();
    format!("{{{}}}", cells.join(" "))
}

/// Cells that have a row or a column in common. Numbers count from 1.
#[derive(PartialEq, Eq, Debug)]
pub(super) enum Group {
    InRow { row: u8, columns: Vec<u8> },
    InColumn { column: u8, rows: Vec<u8> },
}

/// Cells by rows, or by their column if they have but one.
pub(super) fn groups(cells: CellSet) -> Vec<Group> {
    let cells: Vec<Cell> = cells.iter().collect();
    let one_column = cells.windows(2).all(|two| two[0].col() == two[1].col());
    match cells[..] {
        [first, _, ..] if one_column => {
            let rows = cells.iter().map(|cell| cell.row() + 1).collect();
            vec![Group::InColumn { column: first.col() + 1, rows }]
        }
        _ => cells
            .chunk_by(|a, b| a.row() == b.row())
            .map(|row| Group::InRow {
                row: row[0].row() + 1,
                columns: row.iter().map(|cell| cell.col() + 1).collect(),
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_have_commas_and_a_word() {
        let list = |items: &[&str]| joined(items.iter().map(|&item| item.to_owned()), "and");
        assert_eq!(list(&[]), "");
        assert_eq!(list(&["1"]), "1");
        assert_eq!(list(&["1", "2"]), "1 and 2");
        assert_eq!(list(&["1", "2", "3"]), "1, 2 and 3");
    }

    #[test]
    fn cells_go_by_rows_or_by_one_column() {
        let of = |cells: &[(u8, u8)]| groups(cells.iter().map(|&(row, col)| Cell::new(row, col)).collect());
        assert_eq!(of(&[(3, 0)]), [Group::InRow { row: 4, columns: vec![1] }]);
        assert_eq!(of(&[(3, 0), (5, 0)]), [Group::InColumn { column: 1, rows: vec![4, 6] }]);
        let expected =
            [Group::InRow { row: 1, columns: vec![1, 3] }, Group::InRow { row: 2, columns: vec![3] }];
        assert_eq!(of(&[(0, 0), (0, 2), (1, 2)]), expected);
        assert_eq!((by_letter(Cell::new(3, 0)), by_letter(Cell::new(24, 24))), ("D1".into(), "Y25".into()));
    }
}
