//! A transformation in words.

use super::Transformation;
use crate::board::{Digit, Grid};

impl Transformation {
    /// What it does to these givens, as it would be said of the puzzle that comes of it: "turned by half, with 2 for 1,
    /// 1 for 2". The names of lines are those before the move; "as it stands" where nothing moves.
    ///
    /// # Panics
    /// If the grid is of another size.
    pub fn told(&self, givens: &Grid) -> String {
        assert_eq!(givens.size(), self.size(), "a transformation is for grids of one size");
        let mut parts = self.lines_told();
        let renamed: Vec<String> = givens
            .size()
            .digits()
            .iter()
            .filter_map(|digit| {
                let new = Digit::new(self.digits()[digit.place()] + 1).filter(|new| *new != digit)?;
                let given = givens.digits().any(|(_, other)| other == digit);
                given.then(|| format!("{new} for {digit}"))
            })
            .collect();
        if !renamed.is_empty() {
            parts.push(format!("with {}", renamed.join(", ")));
        }
        if parts.is_empty() { "as it stands".to_owned() } else { parts.join(", ") }
    }

    /// How the lines move: as a turn or a reflection of the whole, if it is one.
    fn lines_told(&self) -> Vec<String> {
        let side = self.size().side();
        let stays = |lines: &[u8]| lines.iter().copied().eq(0..side);
        let reversed = |lines: &[u8]| lines.iter().copied().eq((0..side).rev());
        let ways = [
            (false, false, false, ""),
            (false, true, true, "turned by half"),
            (false, false, true, "mirrored from left to right"),
            (false, true, false, "mirrored from top to bottom"),
            (true, false, false, "mirrored in the diagonal from top left"),
            (true, true, true, "mirrored in the diagonal from top right"),
            (true, false, true, "turned by a quarter to the right"),
            (true, true, false, "turned by a quarter to the left"),
        ];
        let is = |lines: &[u8], back: bool| if back { reversed(lines) } else { stays(lines) };
        let way = ways.iter().find(|(transposed, rows, columns, _)| {
            *transposed == self.transposed() && is(self.rows(), *rows) && is(self.columns(), *columns)
        });
        if let Some((.., told)) = way {
            return Some((*told).to_owned()).into_iter().filter(|told| !told.is_empty()).collect();
        }
        let (rows, columns) = if self.transposed() { ("columns", "rows") } else { ("rows", "columns") };
        let mut parts = Vec::new();
        for (lines, own, source) in [(self.rows(), "rows", rows), (self.columns(), "columns", columns)] {
            if !stays(lines) || self.transposed() {
                let numbers: Vec<String> = lines.iter().map(|line| (line + 1).to_string()).collect();
                parts.push(format!("its {source} {} as {own}", numbers.join(" ")));
            }
        }
        parts
    }
}

#[cfg(test)]
mod tests {
    use crate::board::{Grid, Size};
    use crate::sameness::Transformation;

    fn told(transposed: bool, rows: [u8; 4], columns: [u8; 4], digits: [u8; 4]) -> String {
        let size = Size::new(4).unwrap();
        let transformation = Transformation::new(size, transposed, &rows, &columns, &digits).unwrap();
        let givens = Grid::from_line("12........4.....").unwrap();
        transformation.told(&givens)
    }

    #[test]
    fn a_move_is_told_as_a_turn_where_it_is_one() {
        let (same, back) = ([0, 1, 2, 3], [3, 2, 1, 0]);
        assert_eq!(told(false, same, same, same), "as it stands");
        assert_eq!(told(false, back, back, same), "turned by half");
        assert_eq!(told(true, same, back, same), "turned by a quarter to the right");
        assert_eq!(told(false, [1, 0, 2, 3], same, [0, 1, 3, 2]), "its rows 2 1 3 4 as rows, with 3 for 4");
        assert_eq!(
            told(true, [1, 0, 2, 3], same, [1, 0, 2, 3]),
            "its columns 2 1 3 4 as rows, its rows 1 2 3 4 as columns, with 2 for 1, 1 for 2"
        );
    }

    /// A turn is what it is called: the first row, turned to the right, is the last column.
    #[test]
    fn a_turn_to_the_right_brings_the_first_row_to_the_right_edge() {
        let size = Size::new(4).unwrap();
        let turn = Transformation::new(size, true, &[0, 1, 2, 3], &[3, 2, 1, 0], &[0, 1, 2, 3]).unwrap();
        let grid = Grid::from_line("1234............").unwrap();
        assert_eq!(turn.apply(&grid).to_string(), "...1...2...3...4");
    }
}
