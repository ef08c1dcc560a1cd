//! A picture in plain characters.

use super::{Picture, Stands};
use crate::board::Cell;
use crate::words::Labels;
use std::iter::repeat_n;
use unicode_width::UnicodeWidthStr as _;

impl Picture {
    /// The picture in plain characters, and below it a sentence for each thing that is drawn in it; each line with its
    /// end.
    pub fn text(&self, labels: &Labels) -> String {
        let mut text = self.drawing();
        for note in self.notes(labels) {
            text.push_str(&note);
            text.push('\n');
        }
        text
    }

    /// The grid alone, with its boxes or regions, a line each with its end. Marks and facts are written as in a sheet:
    /// `46` one of these, `46?` noted, `5!` known, `[46]` remembered; `x` or `-46` closed, `(5)` ringed. Behind a colon
    /// stands which links of a chain are there: `0` what is supposed, `-0` what is supposed to be out, `a2` the second link
    /// of branch a, `x` the end in nothing.
    pub fn drawing(&self) -> String {
        let side = self.size().side();
        let token = |cell| if self.shows(cell) { self.token(cell) } else { String::new() };
        let tokens: Vec<String> = self.size().all_cells().map(token).collect();
        let width = tokens.iter().map(|token| token.width()).max().unwrap_or(1);
        let mut text = String::new();
        for row in 0..=side {
            if (0..side).any(|col| self.wall_above(row, col)) {
                text.push_str(&self.wall_line(row, width));
            }
            if row == side || !(0..side).any(|col| self.shows(Cell::new(row, col))) {
                continue;
            }
            for col in 0..=side {
                if self.has_wall_left(col) {
                    text.push_str(if self.wall_left(row, col) { "| " } else { "  " });
                }
                if col < side {
                    let token = &tokens[usize::from(row) * usize::from(side) + usize::from(col)];
                    text.push_str(token);
                    text.extend(repeat_n(' ', width - token.width() + 1));
                }
            }
            text.truncate(text.trim_end().len());
            text.push('\n');
        }
        text
    }

    fn token(&self, cell: Cell) -> String {
        let content = self.content(cell);
        let part = if self.layout.size().side() > 9 || !self.plain_signs() { "/" } else { "" };
        let list = |digits| self.signs(digits).join(part);
        let mut parts = vec![match content.stands {
            Stands::Given(digit) | Stands::Entered(digit) => self.sign(digit),
            Stands::Known(digit) => format!("{}!", self.sign(digit)),
            Stands::Nothing => list(content.closed),
        }];
        if !content.open.is_empty() {
            parts.push(format!("{}?", list(content.open)));
        }
        if !content.barred.is_empty() {
            parts.push(if self.crosses() { "x".to_owned() } else { format!("-{}", list(content.barred)) });
        }
        parts.extend(self.noted(cell).into_iter().map(|noted| {
            let not = if noted.none { "-" } else { "" };
            format!("[{not}{}]", list(noted.digits()))
        }));
        let links = self.links_at(cell, "-");
        if !links.is_empty() {
            parts.push(format!(":{}", links.join(",")));
        }
        let token = parts.concat();
        let token = if token.is_empty() { ".".to_owned() } else { token };
        if self.ringed.contains(cell) { format!("({token})") } else { token }
    }

    /// Whether each sign is one character.
    fn plain_signs(&self) -> bool {
        self.signs(self.size().digits()).iter().all(|sign| sign.chars().count() == 1)
    }

    /// Whether there is a wall above a cell; below the last row, for the row after it.
    pub(super) fn wall_above(&self, row: u8, col: u8) -> bool {
        self.block(row.checked_sub(1), Some(col)) != self.block(Some(row), Some(col))
    }

    /// Whether there is a wall to the left of a cell; behind the last column, for the column after it.
    pub(super) fn wall_left(&self, row: u8, col: u8) -> bool {
        self.block(Some(row), col.checked_sub(1)) != self.block(Some(row), Some(col))
    }

    /// Whether any row has a wall there.
    fn has_wall_left(&self, col: u8) -> bool {
        (0..self.size().side()).any(|row| self.wall_left(row, col))
    }

    /// The walls above a row, with the line's end.
    fn wall_line(&self, row: u8, width: usize) -> String {
        let side = self.size().side();
        let mut text = String::new();
        for col in 0..=side {
            let before = col.checked_sub(1).is_some_and(|before| self.wall_above(row, before));
            let after = self.wall_above(row, col);
            let beside = if after { '-' } else { ' ' };
            if self.has_wall_left(col) {
                let up = row.checked_sub(1).is_some_and(|up| self.wall_left(up, col));
                let down = self.wall_left(row, col);
                text.push(match (before || after, up || down) {
                    (true, true) => '+',
                    (true, false) => '-',
                    (false, true) => '|',
                    (false, false) => ' ',
                });
                text.push(beside);
            }
            text.extend(repeat_n(beside, if col < side { width + 1 } else { 0 }));
        }
        text.truncate(text.trim_end().len());
        text.push('\n');
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{BoxShape, Grid, Layout, Size};
    use crate::words::Voice;

    fn drawn(layout: &Layout, grid: &Grid) -> String {
        Picture::new(layout, grid, grid).drawing()
    }

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
        let words = Picture::new(&layout, &grid, &grid).said(&Voice::default().labels());
        assert_eq!(words[0], "row 1: 1, 2, 3; 4, 5, 6");
        assert_eq!(words[5], "row 6: blank, blank, blank; blank, 5, 2");
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
        let words = Picture::new(&irregular, &grid, &grid).said(&Voice::default().labels());
        assert_eq!(words[1], "row 2: blank, blank, blank, blank");
    }
}
