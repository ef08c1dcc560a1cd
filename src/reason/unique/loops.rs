//! Unique loops: six cells or more that could all hold the same two digits, in which each house has two or none.

use super::{Deadly, alternate, follows};
use crate::board::{Cell, CellSet, DigitSet};
use crate::ladder::Pattern;
use crate::reason::nearest::Offers;
use crate::reason::tables::Tables;
use crate::step::{Deduction, Position};

/// The fewest cells of a loop that is no rectangle.
const SHORTEST: usize = 6;
/// The most cells of a loop: nobody goes further round.
const LONGEST: usize = 24;
/// The most cells with further candidates.
const MOST_OPEN: usize = 2;
/// How many beginnings of loops are looked at for two digits.
const MOST_BEGINNINGS: usize = 20_000;

pub(in crate::reason) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    if !position.has_one_solution() {
        return;
    }
    let layout = position.layout();
    let in_row = |&row| layout.at(row).cells.iter().copied().zip(position.candidates_in(row).iter().copied());
    let cells: Vec<(Cell, DigitSet)> = tables.rows.iter().flat_map(in_row).collect();
    let mut pairs: Vec<u32> =
        cells.iter().map(|(_, set)| *set).filter(|set| set.len() == 2).map(DigitSet::bits).collect();
    pairs.sort_unstable();
    let mut found = Vec::new();
    for same in pairs.chunk_by(|a, b| a == b).filter(|same| same.len() >= SHORTEST - MOST_OPEN) {
        let pair = DigitSet::from_bits(same[0]);
        let fitting = cells.iter().filter(|(_, set)| pair.is_subset(*set)).map(|(cell, _)| *cell);
        let cells = with_partners(fitting.collect(), position);
        if cells.len() >= SHORTEST {
            let mut search =
                Search { pair, cells, position, path: Vec::new(), beginnings: 0, found: &mut found };
            search.start();
        }
    }
    follows::offer_all(&found, position, offers);
}

/// Those of these cells that have, in each of their houses, another of those that are left.
fn with_partners(mut cells: Vec<Cell>, position: &Position) -> Vec<Cell> {
    let layout = position.layout();
    loop {
        let before = cells.clone();
        let has_partners = |cell: &Cell| {
            layout.slots(*cell).iter().all(|slot| {
                let house = layout.at(slot.house).set();
                before.iter().any(|other| other != cell && house.contains(*other))
            })
        };
        cells.retain(has_partners);
        if cells.len() == before.len() {
            return cells;
        }
    }
}

/// A search for the loops of two digits.
struct Search<'a> {
    pair: DigitSet,
    /// The cells that could hold both.
    cells: Vec<Cell>,
    position: &'a Position,
    path: Vec<Cell>,
    beginnings: usize,
    found: &'a mut Vec<Deadly>,
}

impl Search<'_> {
    fn is_open(&self, cell: Cell) -> bool {
        self.position.candidates(cell) != self.pair
    }

    /// Each loop is begun at the first of its cells that has no further candidate.
    fn start(&mut self) {
        for cell in self.cells.clone() {
            if !self.is_open(cell) {
                self.path.push(cell);
                self.go_on(0);
                self.path.pop();
            }
        }
    }

    fn go_on(&mut self, open: usize) {
        self.beginnings += 1;
        let (first, last) = (self.path[0], self.path[self.path.len() - 1]);
        let layout = self.position.layout();
        if self.path.len() >= SHORTEST
            && self.path.len().is_multiple_of(2)
            // Each loop is gone through in one of its two directions.
            && self.path[1] < last
            && layout.sees(first, last)
            && alternate(&self.path, layout)
        {
            let deadly = Deadly::new(Pattern::UniqueLoop, self.path.clone(), self.pair, self.position);
            // Where cells have partners in three houses, one may come to the same cells in another order.
            let is_new = |deadly: &Deadly| self.found.iter().all(|it| it.cells != deadly.cells);
            self.found.extend(deadly.filter(is_new));
            return;
        }
        let seen: CellSet = *layout.peers(last);
        for at in 0..self.cells.len() {
            let cell = self.cells[at];
            let open = open + usize::from(self.is_open(cell));
            if seen.contains(cell)
                && (cell > first || self.is_open(cell))
                && open <= MOST_OPEN
                && self.path.len() < LONGEST
                && self.beginnings < MOST_BEGINNINGS
                && self.fits(cell)
            {
                self.path.push(cell);
                self.go_on(open);
                self.path.pop();
            }
        }
    }

    /// Whether a cell can be the next: no house has more than one of the cells so far, nor one at a place of the same
    /// kind.
    fn fits(&self, cell: Cell) -> bool {
        let layout = self.position.layout();
        !self.path.contains(&cell)
            && layout.slots(cell).iter().all(|slot| {
                let house = layout.at(slot.house).set();
                let mut others = (0..self.path.len()).filter(|&at| house.contains(self.path[at]));
                others.next().is_none_or(|other| (other + self.path.len()) % 2 == 1)
                    && others.next().is_none()
            })
    }
}
