//! A grid drawn with plain characters, or said in words.

use crate::board::{Cell, Digit, Grid, Layout};
use std::fmt::Write as _;
use std::iter;

/// The grid with the boxes or regions of its layout drawn around its digits, a line each with its end.
pub fn drawn(layout: &Layout, grid: &Grid) -> String {
    let walls = Walls::of(layout);
    let side = layout.size().side();
    let mut text = String::new();
    for row in 0..=side {
        if (0..side).any(|col| walls.above(row, col)) {
            text.push_str(&walls.line(row));
        }
        if row < side {
            for col in 0..=side {
                if walls.any_left(col) {
                    text.push_str(if walls.left(row, col) { "| " } else { "  " });
                }
                if col < side {
                    text.push(symbol(grid, Cell::new(row, col)));
                    text.push(' ');
                }
            }
            text.truncate(text.trim_end().len());
            text.push('\n');
        }
    }
    text
}

/// The grid in words, a line a row: `row 4: 2, blank, blank; blank, blank, 6; 8, 1, 9`. Boxes are parted by semicolons.
pub fn said(layout: &Layout, grid: &Grid) -> String {
    let side = layout.size().side();
    let across = layout.boxes().map_or(side, |shape| shape.columns);
    let mut text = String::new();
    for row in 0..side {
        let _ = write!(text, "row {}: ", row + 1);
        for col in 0..side {
            if col > 0 {
                text.push_str(if col % across == 0 { "; " } else { ", " });
            }
            match grid[Cell::new(row, col)] {
                Some(digit) => text.push(digit.symbol()),
                None => text.push_str("blank"),
            }
        }
        text.push('\n');
    }
    text
}

fn symbol(grid: &Grid, cell: Cell) -> char {
    grid[cell].map_or('.', Digit::symbol)
}

/// Where one box or region ends and another begins, and the border of the grid.
struct Walls {
    side: u8,
    /// For each cell, in reading order, which box or region it lies in.
    block: Vec<usize>,
}

impl Walls {
    fn of(layout: &Layout) -> Walls {
        let side = layout.size().side();
        let lines = 2 * usize::from(side);
        let mut block = vec![0; layout.size().cells()];
        // Rows and columns come first among the houses, then as many boxes or regions.
        for (number, house) in layout.houses()[lines..lines + usize::from(side)].iter().enumerate() {
            for cell in &house.cells {
                block[usize::from(cell.row()) * usize::from(side) + usize::from(cell.col())] = number;
            }
        }
        Walls { side, block }
    }

    fn block(&self, row: u8, col: u8) -> Option<usize> {
        let inside = row < self.side && col < self.side;
        inside.then(|| self.block[usize::from(row) * usize::from(self.side) + usize::from(col)])
    }

    /// Whether there is a wall above the cell; below the last row, for the row after it.
    fn above(&self, row: u8, col: u8) -> bool {
        col < self.side && row.checked_sub(1).and_then(|up| self.block(up, col)) != self.block(row, col)
    }

    /// Whether there is a wall to the left of the cell; behind the last column, for the column after it.
    fn left(&self, row: u8, col: u8) -> bool {
        row < self.side && col.checked_sub(1).and_then(|left| self.block(row, left)) != self.block(row, col)
    }

    /// Whether any row has a wall there.
    fn any_left(&self, col: u8) -> bool {
        (0..self.side).any(|row| self.left(row, col))
    }

    /// The line above a row, with its end.
    fn line(&self, row: u8) -> String {
        let mut text = String::new();
        for col in 0..=self.side {
            let before = col.checked_sub(1).is_some_and(|before| self.above(row, before));
            let after = self.above(row, col);
            let beside = if after { '-' } else { ' ' };
            if self.any_left(col) {
                let up = row.checked_sub(1).is_some_and(|up| self.left(up, col));
                let down = self.left(row, col);
                text.push(match (before || after, up || down) {
                    (true, true) => '+',
                    (true, false) => '-',
                    (false, true) => '|',
                    (false, false) => ' ',
                });
                text.push(beside);
            }
            text.extend(iter::repeat_n(beside, if col < self.side { 2 } else { 0 }));
        }
        text.truncate(text.trim_end().len());
        text.push('\n');
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{BoxShape, Size};

    #[test]
    fn boxes_are_drawn_and_said() {
        let layout = Layout::classic(Size::new(6).unwrap()).unwrap();
        let grid = Grid::from_line("123456......6.....................52").unwrap();
        insta::assert_snapshot!(drawn(&layout, &grid), @r"
        +-------+-------+
        | 1 2 3 | 4 5 6 |
        | . . . | . . . |
        +-------+-------+
        | 6 . . | . . . |
        | . . . | . . . |
        +-------+-------+
        | . . . | . . . |
        | . . . | . 5 2 |
        +-------+-------+
        ");
        let words = said(&layout, &grid);
        assert_eq!(words.lines().next(), Some("row 1: 1, 2, 3; 4, 5, 6"));
        assert_eq!(words.lines().nth(5), Some("row 6: blank, blank, blank; blank, 5, 2"));
    }

    #[test]
    fn upright_boxes_and_regions_are_drawn() {
        let size = Size::new(6).unwrap();
        let upright = Layout::with_boxes(size, BoxShape { rows: 3, columns: 2 }).unwrap();
        let grid = Grid::from_line(&"123456".repeat(6)).unwrap();
        insta::assert_snapshot!(drawn(&upright, &grid), @r"
        +-----+-----+-----+
        | 1 2 | 3 4 | 5 6 |
        | 1 2 | 3 4 | 5 6 |
        | 1 2 | 3 4 | 5 6 |
        +-----+-----+-----+
        | 1 2 | 3 4 | 5 6 |
        | 1 2 | 3 4 | 5 6 |
        | 1 2 | 3 4 | 5 6 |
        +-----+-----+-----+
        ");
        let letters: Vec<char> = "AAABACBBCCDBCDDD".chars().collect();
        let irregular = Layout::with_regions(Size::new(4).unwrap(), &letters).unwrap();
        let grid = Grid::from_line("1234....4321....").unwrap();
        insta::assert_snapshot!(drawn(&irregular, &grid), @r"
        +-----------+---+
        | 1   2   3 | 4 |
        |   +---+---+   |
        | . | . | .   . |
        +---+   +---+   |
        | 4   3 | 2 | 1 |
        |   +---+   +---+
        | . | .   .   . |
        +---+-----------+
        ");
        assert_eq!(said(&irregular, &grid).lines().nth(1), Some("row 2: blank, blank, blank, blank"));
    }
}
