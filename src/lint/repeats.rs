//! Equal digits that see each other, each pair told once.

use super::Draft;
use super::wording::{joined, listed};
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
    if !grid.has_clash(layout) {
        return Vec::new();
    }
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

/// With more clashes than this, a grid is not what it was meant to be.
const MOST_TOLD: usize = 8;

/// What is said of all clashes of a grid: each by itself, or one thing where there are too many to be slips.
pub(super) fn told_together(drafts: Vec<Draft>) -> Vec<Draft> {
    match drafts.first() {
        Some(first) if drafts.len() > MOST_TOLD => {
            let message =
                "digits of this grid clash in more places than slips of the pen make; here is the first";
            let help = "look whether the grid, its size and its boxes are what they are meant to be";
            vec![Draft::new(first.span, message, help)]
        }
        _ => drafts,
    }
}

impl Repeat {
    /// What is wrong: `r4c5 holds 5, and so does r4c1 in row 4 and box 4`.
    pub fn message(&self, layout: &Layout) -> String {
        let mut shared: Vec<(String, Vec<Cell>)> = Vec::new();
        for &other in &self.others {
            let both = layout.houses_of(self.cell).filter(|house| house.set().contains(other));
            let houses = joined(&both.map(|house| house.name.to_string()).collect::<Vec<_>>());
            match shared.iter_mut().find(|(before, _)| *before == houses) {
                Some((_, cells)) => cells.push(other),
                None => shared.push((houses, vec![other])),
            }
        }
        let others: Vec<String> =
            shared.iter().map(|(houses, cells)| format!("{} in {houses}", listed(cells))).collect();
        let does = if self.others.len() == 1 { "does" } else { "do" };
        format!("{} holds {}, and so {does} {}", self.cell, self.digit, joined(&others))
    }
}
