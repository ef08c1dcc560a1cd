//! Where the further candidates lie in one house, one of them takes a place there: with some cells of the house they are a
//! naked set.

use super::Deadly;
use super::follows::Idea;
use crate::board::{Cell, CellSet, Digit, DigitSet};
use crate::reason::choose::{Masks, choose};
use crate::step::{Base, Position};

/// The most cells that are looked for beside the further candidates.
const MOST_CELLS: u8 = 3;
/// The label of the further candidates.
const FURTHER: u8 = u8::MAX;

/// Adds what a naked set strikes that has one of the further candidates in it.
pub(super) fn find<'a>(deadly: &'a Deadly, position: &Position, ideas: &mut Vec<Idea<'a>>) {
    let (open, further) = (deadly.open(), deadly.further());
    if open.len() < 2 || further.len() < 2 || further.len() > usize::from(MOST_CELLS) + 1 {
        return;
    }
    let layout = position.layout();
    let own: CellSet = open.iter().copied().collect();
    for slot in layout.slots(open[0]).iter().filter(|slot| own.is_subset(layout.at(slot.house).set())) {
        let cells = &layout.at(slot.house).cells;
        let candidates = position.candidates_in(slot.house).iter().zip(cells);
        let others = candidates.map(|(set, cell)| if own.contains(*cell) { 0 } else { set.bits() });
        let masks = [(FURTHER, further.bits())].into_iter().chain((0..).zip(others));
        for count in 1..=MOST_CELLS {
            let mut fitting = Masks::default();
            fitting.take(masks.clone(), 1..=u32::from(count) + 1);
            choose(&fitting, count + 1, |labels, union| {
                if labels.first() == Some(&FURTHER) {
                    let chosen: Vec<Cell> = labels[1..].iter().map(|&at| cells[usize::from(at)]).collect();
                    let struck = struck(deadly, &chosen, DigitSet::from_bits(union), position);
                    if !struck.is_empty() {
                        let beside = chosen.into_iter().map(Base::Cell).collect();
                        ideas.push(Idea { deadly, struck, beside });
                    }
                }
            });
        }
    }
}

/// What a naked set of these cells and the further candidates strikes.
fn struck(deadly: &Deadly, cells: &[Cell], digits: DigitSet, position: &Position) -> Vec<(Cell, Digit)> {
    let mut struck: Vec<(Cell, Digit)> = Vec::new();
    for digit in digits.iter() {
        let holders = cells.iter().copied().filter(|&cell| position.candidates(cell).contains(digit));
        let holders = holders.collect::<CellSet>() | deadly.cells_with(digit);
        let seeing = position.layout().common_peers(holders).iter();
        let seeing = seeing.filter(|&cell| position.candidates(cell).contains(digit));
        struck.extend(seeing.map(|cell| (cell, digit)));
    }
    struck
}
