//! The last-bivalue trap: without a few further candidates each open cell would have two, and each house two places for
//! each digit, so that all could be exchanged.

use super::{Deadly, follows};
use crate::board::{Cell, Digit, DigitSet, bits};
use crate::ladder::Pattern;
use crate::reason::nearest::Offers;
use crate::reason::tables::Tables;
use crate::step::{Deduction, Position};

/// The most cells with more than two candidates.
const MOST_OPEN: usize = 3;

pub(in crate::reason) fn find(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    if !position.has_one_solution() {
        return;
    }
    let side = position.layout().size().side();
    let mut pairs = 0;
    let mut open: Vec<(Cell, DigitSet)> = Vec::new();
    for &row in &tables.rows {
        let (cells, candidates) = (&position.layout().at(row).cells, position.candidates_in(row));
        pairs += position.cells_with(row, 2..=2).count_ones() as usize;
        for at in bits(position.cells_with(row, 3..=side)).map(usize::from) {
            if open.len() == MOST_OPEN {
                return;
            }
            open.push((cells[at], candidates[at]));
        }
    }
    if pairs + open.len() < position.open() {
        return;
    }
    let mut extras: Vec<Vec<(Cell, Digit)>> = vec![Vec::new()];
    for &(cell, candidates) in &open {
        let mut choices = further(cell, candidates);
        choices.retain(|choice| choice.iter().all(|&further| has_three_places(further, position)));
        let with = |extras: &Vec<(Cell, Digit)>| -> Vec<Vec<(Cell, Digit)>> {
            choices.iter().map(|choice| [&extras[..], choice].concat()).collect()
        };
        extras = extras.iter().flat_map(with).collect();
    }
    let cells: Vec<Cell> = position.grid().empty_cells().collect();
    let is_trap = |extras: &Vec<(Cell, Digit)>| !extras.is_empty() && has_two_of_each(extras, position);
    let deadly = |extras| Deadly {
        pattern: Pattern::LastBivalueTrap,
        pair: DigitSet::EMPTY,
        cells: cells.clone(),
        extras,
    };
    let found: Vec<Deadly> = extras.into_iter().filter(is_trap).map(deadly).collect();
    follows::offer_at_once(&found, position, offers);
}

/// Each choice of all but two candidates of a cell.
fn further(cell: Cell, candidates: DigitSet) -> Vec<Vec<(Cell, Digit)>> {
    let mut choices = Vec::new();
    for first in candidates.iter() {
        for second in candidates.iter().filter(|&second| second > first) {
            let others = candidates.iter().filter(|&digit| digit != first && digit != second);
            choices.push(others.map(|digit| (cell, digit)).collect());
        }
    }
    choices
}

/// Whether each house of a candidate's cell has three places or more for its digit.
fn has_three_places((cell, digit): (Cell, Digit), position: &Position) -> bool {
    let slots = position.layout().slots(cell).iter();
    slots.map(|slot| position.places(slot.house, digit)).all(|places| places.count_ones() > 2)
}

/// Whether each house has, without these candidates, two places for each digit that it misses.
fn has_two_of_each(extras: &[(Cell, Digit)], position: &Position) -> bool {
    let layout = position.layout();
    layout.houses().iter().zip(layout.house_ids()).all(|(house, id)| {
        position.missing(id).iter().all(|digit| {
            let less = extras.iter().filter(|(cell, other)| *other == digit && house.set().contains(*cell));
            position.places(id, digit).count_ones() as usize == 2 + less.count()
        })
    })
}
