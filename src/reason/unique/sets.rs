//! Where the further candidates lie in one house, one of them takes a place there: with some cells of the house they are a
//! naked set.

use super::Deadly;
use super::follows::Idea;
use crate::board::{Cell, CellSet, Digit, DigitSet, bits};
use crate::reason::choose::choose;
use crate::step::{Base, Position};

/// The most cells that are looked for beside the further candidates.
const MOST_CELLS: u8 = 3;
/// The place of the further candidates, behind those of all cells.
const FURTHER: u8 = 31;

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
        let candidates = position.candidates_in(slot.house);
        for count in 1..=MOST_CELLS {
            let others = bits(position.cells_with(slot.house, 1..=count + 1));
            let others = others.filter(|&at| !own.contains(cells[usize::from(at)]));
            let others = others.map(|at| (at, candidates[usize::from(at)].bits()));
            let with =
                [(FURTHER, further.bits())].into_iter().filter(|_| further.len() <= usize::from(count) + 1);
            choose(count + 1, others.chain(with), |chosen, union| {
                if chosen & (1 << FURTHER) != 0 {
                    let chosen = bits(chosen & !(1 << FURTHER));
                    let chosen: Vec<Cell> = chosen.map(|at| cells[usize::from(at)]).collect();
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
