//! The turns and reflections of a whole grid: where one of them carries a puzzle to another, it says more than any other
//! order of the lines.

use super::{Budget, Form, Transformation, canonical};
use crate::board::{Cell, CellSet, Grid, Layout, Size};
use serde::{Deserialize, Serialize};

/// A turn or a reflection of a whole grid.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum Turn {
    /// By a quarter to the right.
    Right,
    /// By a quarter to the left.
    Left,
    /// By half.
    Half,
    /// Left becomes right.
    Across,
    /// Top becomes bottom.
    Down,
    /// In the diagonal from top left.
    Diagonal,
    /// In the diagonal from top right.
    OtherDiagonal,
}

impl Turn {
    /// Each of them.
    pub const ALL: [Turn; 7] =
        [Turn::Right, Turn::Left, Turn::Half, Turn::Across, Turn::Down, Turn::Diagonal, Turn::OtherDiagonal];

    /// What it does to grids of a size.
    pub fn of(self, size: Size) -> Transformation {
        let (transposed, rows, columns) = match self {
            Turn::Right => (true, false, true),
            Turn::Left => (true, true, false),
            Turn::Half => (false, true, true),
            Turn::Across => (false, false, true),
            Turn::Down => (false, true, false),
            Turn::Diagonal => (true, false, false),
            Turn::OtherDiagonal => (true, true, true),
        };
        Transformation::turning(size, transposed, rows, columns)
    }
}

/// A puzzle, and its form.
pub type Formed<'a> = (&'a Layout, &'a Grid, &'a Form);

/// What carries one puzzle to another: a turn or reflection of the whole, if one does. `None` if they are not the same.
///
/// The forms are those that were found within the usual budget. They say whether the puzzles are the same, and not how:
/// that is rarely asked, and then found again.
pub fn how(from: Formed, to: Formed) -> Option<Transformation> {
    if from.2 != to.2 {
        return None;
    }
    let dressed = |(layout, grid, _): Formed| canonical(layout, grid, Budget::default()).ok();
    turn((from.0, from.1), (to.0, to.1)).or_else(|| dressed(from)?.to(&dressed(to)?))
}

/// The turn or reflection that carries one puzzle to another, with other names for the digits where it takes them;
/// `None` if there is none. One that moves nothing comes first.
fn turn(from: (&Layout, &Grid), to: (&Layout, &Grid)) -> Option<Transformation> {
    let size = from.0.size();
    if to.0.size() != size {
        return None;
    }
    let ahead: Vec<u8> = (0..size.side()).collect();
    let back: Vec<u8> = (0..size.side()).rev().collect();
    let orders = [(&ahead, &ahead), (&back, &back), (&ahead, &back), (&back, &ahead)];
    let ways =
        [false, true].into_iter().flat_map(|across| orders.map(|(rows, columns)| (across, rows, columns)));
    let turned = |(across, rows, columns): (bool, &Vec<u8>, &Vec<u8>)| {
        let turn = Transformation::new(size, across, rows, columns, &ahead)?;
        let names = names(&turn.apply(from.1), to.1)?;
        keeps_houses(&turn, from.0, to.0).then(|| Transformation::new(size, across, rows, columns, &names))?
    };
    ways.into_iter().find_map(turned)
}

/// The new names of the digits that make one grid of another, each less 1; a digit that is not there keeps its own if it
/// can.
fn names(from: &Grid, to: &Grid) -> Option<Vec<u8>> {
    let size = from.size();
    let mut names: Vec<Option<u8>> = vec![None; size.usize()];
    let mut free: Vec<u8> = (0..size.side()).collect();
    for cell in size.all_cells() {
        let (old, new) = match (from[cell], to[cell]) {
            (None, None) => continue,
            (Some(old), Some(new)) => (old.place(), new.value() - 1),
            _ => return None,
        };
        match names[old] {
            Some(name) if name == new => {}
            Some(_) => return None,
            None => {
                free.remove(free.iter().position(|name| *name == new)?);
                names[old] = Some(new);
            }
        }
    }
    for (own, name) in (0..).zip(&mut names).filter(|(_, name)| name.is_none()) {
        let at = free.iter().position(|free| *free == own).unwrap_or(0);
        *name = Some(free.remove(at));
    }
    names.into_iter().collect()
}

/// Whether each house becomes a house.
fn keeps_houses(turn: &Transformation, from: &Layout, to: &Layout) -> bool {
    let moved = |house: &CellSet| -> CellSet {
        from.size().all_cells().filter(|cell: &Cell| house.contains(turn.source(*cell))).collect()
    };
    let is_house = |cells: CellSet| to.houses().iter().any(|house| *house.set() == cells);
    from.houses().len() == to.houses().len() && from.houses().iter().all(|house| is_house(moved(house.set())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::BoxShape;

    #[test]
    fn a_turn_does_what_it_is_called() {
        let size = Size::new(4).unwrap();
        let grid = Grid::from_line("12..............").unwrap();
        let turned = Turn::ALL.map(|turn| turn.of(size).apply(&grid).to_string());
        assert_eq!(
            turned,
            [
                "...1...2........",
                "........2...1...",
                "..............21",
                "..21............",
                "............12..",
                "1...2...........",
                "...........2...1",
            ]
        );
    }

    #[test]
    fn a_turn_is_found_where_the_layouts_allow_it() {
        let size = Size::new(6).unwrap();
        let layout = |rows, columns| Layout::with_boxes(size, BoxShape { rows, columns }).unwrap();
        let (flat, tall) = (layout(2, 3), layout(3, 2));
        let grid = |line: &str| Grid::from_line(line).unwrap();
        let first = grid("12......3...........................");
        let renamed = grid("21......3...........................");
        let found = turn((&flat, &first), (&flat, &renamed)).unwrap();
        assert_eq!(found.apply(&first), renamed);
        assert_eq!(found.told(&first), "with 2 for 1, 1 for 2");
        // r1c1, r1c2 and r2c3, with rows for columns.
        let across = grid("1.....2......3......................");
        assert_eq!(turn((&flat, &first), (&flat, &across)), None, "boxes do not become boxes");
        let found = turn((&flat, &first), (&tall, &across)).unwrap();
        assert_eq!(found.told(&first), "mirrored in the diagonal from top left");
        assert_eq!(turn((&flat, &first), (&flat, &grid("11......3..........................."))), None);
    }
}
