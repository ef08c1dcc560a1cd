//! Unique loops: six cells or more that could all hold the same two digits, in which each house has two or none.

use super::{Deadly, follows};
use crate::board::{Cell, DigitSet, bits};
use crate::ladder::Pattern;
use crate::reason::nearest::Offers;
use crate::reason::pairs::Pairs;
use crate::reason::tables::Tables;
use crate::step::{Deduction, Position};

/// The fewest cells of a loop that is no rectangle.
const SHORTEST: usize = 6;
/// The most cells of a loop: nobody goes further round.
const LONGEST: usize = 24;
/// The most cells with further candidates.
const MOST_OPEN: usize = 2;
/// The fewest without.
const FEWEST_CLOSED: usize = SHORTEST - MOST_OPEN;
/// How many beginnings of loops are looked at for two digits.
const MOST_BEGINNINGS: usize = 20_000;

pub(in crate::reason) fn find(
    tables: &Tables,
    position: &Position,
    pairs: &mut Pairs,
    offers: &mut impl Offers<Deduction>,
) {
    if !position.has_one_solution() || tables.houses_of.is_empty() {
        return;
    }
    let mut found = Vec::new();
    for pair in pairs.same(FEWEST_CLOSED, tables, position) {
        let mut cells = Vec::new();
        for (&row, begin) in tables.rows.iter().zip((0..).step_by(tables.rows.len())) {
            let (own, candidates) = (&position.layout().at(row).cells, position.candidates_in(row));
            let places = pair.iter().fold(u32::MAX, |all, digit| all & position.places(row, digit));
            for at in bits(places).map(usize::from) {
                let houses = tables.houses_of[begin + at];
                cells.push(Member { cell: own[at], houses, is_open: candidates[at] != pair });
            }
        }
        keep_with_partners(&mut cells);
        let closed = cells.iter().filter(|member| !member.is_open).count();
        if cells.len() >= SHORTEST && closed >= FEWEST_CLOSED {
            let (path, beginnings) = (Vec::new(), 0);
            Search { pair, cells, position, path, beginnings, found: &mut found }.start();
        }
    }
    follows::offer_all(&found, position, offers);
}

/// A cell that could hold both digits.
#[derive(Clone, Copy)]
struct Member {
    cell: Cell,
    /// Its houses, a bit for each.
    houses: u128,
    /// Whether it has further candidates.
    is_open: bool,
}

/// Leaves those that have, in each of their houses, another of those that are left.
fn keep_with_partners(cells: &mut Vec<Member>) {
    loop {
        let (mut one, mut two) = (0, 0);
        for member in &*cells {
            two |= one & member.houses;
            one |= member.houses;
        }
        if one == two {
            return;
        }
        cells.retain(|member| member.houses & !two == 0);
    }
}

/// A search for the loops of two digits.
struct Search<'a> {
    pair: DigitSet,
    cells: Vec<Member>,
    position: &'a Position,
    path: Vec<Member>,
    beginnings: usize,
    found: &'a mut Vec<Deadly>,
}

impl Search<'_> {
    /// Each loop is begun at the first of its cells that has no further candidate.
    fn start(&mut self) {
        for first in self.cells.clone() {
            if !first.is_open {
                self.path.push(first);
                self.go_on(0, [first.houses, 0]);
                self.path.pop();
            }
        }
    }

    /// Goes on with a path that has so many cells with further candidates, where the cells at even places have these
    /// houses, and those at odd places.
    fn go_on(&mut self, open: usize, houses: [u128; 2]) {
        self.beginnings += 1;
        let (first, last) = (self.path[0], self.path[self.path.len() - 1]);
        if self.path.len() >= SHORTEST
            && self.path.len().is_multiple_of(2)
            // Each loop is gone through in one of its two directions.
            && self.path[1].cell < last.cell
            && first.houses & last.houses != 0
            // Each house has two, one at an even place and one at an odd place.
            && houses[0] == houses[1]
        {
            let cells = self.path.iter().map(|member| member.cell).collect();
            let deadly = Deadly::new(Pattern::UniqueLoop, cells, self.pair, self.position);
            // Where cells have partners in three houses, one may come to the same cells in another order.
            let is_new = |deadly: &Deadly| self.found.iter().all(|it| it.cells != deadly.cells);
            self.found.extend(deadly.filter(is_new));
            return;
        }
        let place = self.path.len() % 2;
        for at in 0..self.cells.len() {
            let next = self.cells[at];
            let open = open + usize::from(next.is_open);
            if next.houses & last.houses != 0
                && (next.cell > first.cell || next.is_open)
                && open <= MOST_OPEN
                && self.path.len() < LONGEST
                && self.beginnings < MOST_BEGINNINGS
                // No house has more than one so far, nor one at a place of the same kind.
                && next.houses & houses[place] == 0
            {
                let mut houses = houses;
                houses[place] |= next.houses;
                self.path.push(next);
                self.go_on(open, houses);
                self.path.pop();
            }
        }
    }
}
