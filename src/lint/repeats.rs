//! Equal digits that see each other, each pair told once.

use super::place::joined;
use crate::board::{Cell, CellSet, Digit, Grid, Layout};

/// A cell that holds a digit which cells that it sees hold too.
pub(super) struct Repeat {
    /// The cell.
    pub cell: Cell,
    /// Its digit.
    pub digit: Digit,
    /// The others, in reading order: at least one.
    pub others: Vec<Cell>,
}

/// Every pair of equal digits that see each other, told at the cell that is in most of the pairs: a slip of the pen
/// often clashes in a row and a column at once. Where two are in as many, the later one tells. Pairs of two `fixed`
/// cells are left out, and a fixed cell never tells.
pub(super) fn repeats(layout: &Layout, grid: &Grid, fixed: impl Fn(Cell) -> bool) -> Vec<Repeat> {
    let with_others = |(cell, digit)| {
        let equal = |other: &Cell| grid[*other] == Some(digit) && !(fixed(cell) && fixed(*other));
        (cell, digit, layout.peers(cell).iter().filter(equal).collect::<CellSet>())
    };
    let mut untold: Vec<_> =
        grid.digits().map(with_others).filter(|(.., others)| !others.is_empty()).collect();
    let mut told = Vec::new();
    loop {
        let tellers = untold.iter().filter(|(cell, _, others)| !fixed(*cell) && !others.is_empty());
        let Some(&(cell, digit, others)) = tellers.max_by_key(|(.., others)| others.len()) else { break };
        untold.retain(|(other, ..)| *other != cell);
        for (_, _, others) in &mut untold {
            others.remove(cell);
        }
        told.push(Repeat { cell, digit, others: others.iter().collect() });
    }
    told.sort_by_key(|repeat| repeat.cell);
    told
}

impl Repeat {
    /// What is wrong: `r4c5 holds 5, and so does r4c1 in row 4 and box 4`.
    pub fn message(&self, layout: &Layout) -> String {
        /// As many as one slip of the pen makes: one in the row, the column and the box.
        const MOST: usize = 3;
        let shared = |&other: &Cell| {
            let both = layout.houses_of(self.cell).filter(|house| house.set().contains(other));
            format!("{other} in {}", joined(&both.map(|house| house.name.to_string()).collect::<Vec<_>>()))
        };
        let mut others: Vec<String> = self.others.iter().take(MOST).map(shared).collect();
        if self.others.len() > MOST {
            others.push(format!("{} more", self.others.len() - MOST));
        }
        let does = if others.len() == 1 { "does" } else { "do" };
        format!("{} holds {}, and so {does} {}", self.cell, self.digit, joined(&others))
    }
}
