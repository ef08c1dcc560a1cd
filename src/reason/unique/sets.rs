//! Where the further candidates lie in one house, one of them takes a place there: with some cells of the house they are a
//! naked set.

use super::Deadly;
use super::follows::step_by;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::reason::choose::{Masks, choose};
use crate::step::{Base, Deduction, Position};

/// The most cells that are looked for beside the further candidates.
const MOST_CELLS: u8 = 3;
/// The label of the further candidates.
const FURTHER: u8 = u8::MAX;

pub(super) fn find(deadly: &Deadly, position: &Position) -> Vec<Deduction> {
    let (open, further) = (deadly.open(), deadly.further());
    let mut found = Vec::new();
    if open.len() < 2 || further.len() < 2 || further.len() > usize::from(MOST_CELLS) + 1 {
        return found;
    }
    let layout = position.layout();
    let own: CellSet = open.iter().copied().collect();
    let houses = layout.houses().iter().zip(layout.house_ids()).filter(|(house, _)| own.is_subset(house.set()));
    for (house, id) in houses {
        let candidates = position.candidates_in(id).iter().zip(&house.cells);
        let others = candidates.map(|(set, cell)| if own.contains(*cell) { 0 } else { set.bits() });
        let masks = [(FURTHER, further.bits())].into_iter().chain((0..).zip(others));
        for count in 1..=MOST_CELLS {
            let mut fitting = Masks::default();
            fitting.take(masks.clone(), 1..=u32::from(count) + 1);
            choose(&fitting, count + 1, |labels, union| {
                if labels.first() == Some(&FURTHER) {
                    let cells: Vec<Cell> = labels[1..].iter().map(|&at| house.cells[usize::from(at)]).collect();
                    found.extend(step(deadly, &cells, DigitSet::from_bits(union), id, position));
                }
            });
        }
    }
    found
}

/// What a naked set of these cells and the further candidates strikes.
fn step(
    deadly: &Deadly,
    cells: &[Cell],
    digits: DigitSet,
    house: HouseId,
    position: &Position,
) -> Option<Deduction> {
    let layout = position.layout();
    let mut struck: Vec<(Cell, Digit)> = Vec::new();
    for digit in digits.iter() {
        let holders = cells.iter().copied().filter(|&cell| position.candidates(cell).contains(digit));
        let holders = holders.collect::<CellSet>() | deadly.cells_with(digit);
        let seeing = layout.common_peers(holders).iter();
        struck.extend(
            seeing.filter(|&cell| position.candidates(cell).contains(digit)).map(|cell| (cell, digit)),
        );
    }
    if struck.is_empty() {
        return None;
    }
    let bases = [deadly.base()].into_iter().chain(cells.iter().copied().map(Base::Cell));
    let mut step = step_by(deadly, &struck, bases.collect(), position)?;
    step.houses = vec![house];
    (step.bases.len() == cells.len() + 1).then_some(step)
}
