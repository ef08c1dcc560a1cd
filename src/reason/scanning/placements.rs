//! The digits that can be written now.

use super::Band;
use super::idea::Idea;
use super::third_line;
use super::view::{Fact, View};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Position, Seen};

/// What a house misses that is still counted at a glance.
pub const FEW: usize = 3;

/// The lowest level at which a cell is seen to have one candidate left.
pub(super) const LEVEL_OF_CELL: u8 = 2;

/// How hard it is to count what a house misses.
pub(super) fn counting_level(missing: usize) -> u8 {
    if missing <= FEW { 2 } else { 3 }
}

/// Every way to write a digit, by digits and remembered facts, that is no higher than a level if no fact is needed.
pub(super) fn up_to(level: u8, view: &View, bands: &[Band]) -> Vec<Idea> {
    let known = &view.known;
    let mut ideas = Vec::new();
    for house in known.layout().house_ids() {
        in_house(house, level, known, &mut ideas);
    }
    if level >= LEVEL_OF_CELL {
        for (cell, digit) in naked(known) {
            let Some((house, missing)) = shortest_house(known, cell) else { continue };
            let own = counting_level(missing);
            if own <= level {
                let houses = vec![house];
                let base = Base::Cell(cell);
                ideas.push(placed(Pattern::NakedSingle, Seen::Counting, own, houses, cell, digit, base));
            }
        }
        for fact in &view.facts {
            settling(fact, view, &mut ideas);
        }
    }
    if level >= third_line::LEVEL {
        for band in bands {
            third_line::placements(band, known, &mut ideas);
        }
    }
    ideas
}

fn in_house(house: HouseId, level: u8, known: &Position, ideas: &mut Vec<Idea>) {
    let missing = known.missing(house);
    for digit in known.missing_with(house, 1..=1).iter() {
        let Some(cell) = known.only_cell(house, digit) else { continue };
        let (pattern, seen, own, base) = if missing.len() == 1 {
            (Pattern::LastOpenCell, Seen::Counting, 1, Base::Cell(cell))
        } else if known.layout().at(house).name.is_block() {
            (Pattern::BoxHiddenSingle, Seen::Crossing, 1, Base::Place(house, digit))
        } else {
            let own = counting_level(missing.len());
            (Pattern::LineHiddenSingle, Seen::Crossing, own, Base::Place(house, digit))
        };
        if own <= level {
            ideas.push(placed(pattern, seen, own, vec![house], cell, digit, base));
        }
    }
}

/// The cells with one candidate, in reading order, each with it.
pub(super) fn naked(known: &Position) -> impl Iterator<Item = (Cell, Digit)> {
    let rows = known.layout().house_ids().take(known.layout().size().usize());
    rows.flat_map(move |row| {
        let places = bits(known.cells_with(row, 1..=1)).map(usize::from);
        places.filter_map(move |at| {
            Some((known.layout().at(row).cells[at], known.candidates_in(row)[at].only()?))
        })
    })
}

/// The house of a cell that misses the fewest digits, and how many.
fn shortest_house(known: &Position, cell: Cell) -> Option<(HouseId, usize)> {
    let houses = known.layout().slots(cell).iter().map(|slot| slot.house);
    houses.map(|house| (house, known.missing(house).len())).min_by_key(|(_, missing)| *missing)
}

/// A cell of a remembered set that sees all of its digits but one.
fn settling(fact: &Fact, view: &View, ideas: &mut Vec<Idea>) {
    let is_set = fact.digits().len() > 1 && fact.cells().len() == fact.digits().len();
    let open = fact.cells().iter().filter(|cell| is_set && view.known.grid().get(*cell).is_none());
    for cell in open {
        if let Some(digit) = (view.sight.candidates(cell) & fact.digits()).only() {
            let mut idea = placed(
                Pattern::NakedSingle,
                Seen::Settling,
                LEVEL_OF_CELL,
                Vec::new(),
                cell,
                digit,
                Base::Cell(cell),
            );
            idea.settles = Some(fact.step);
            ideas.push(idea);
        }
    }
}

fn placed(
    pattern: Pattern,
    seen: Seen,
    level: u8,
    houses: Vec<HouseId>,
    cell: Cell,
    digit: Digit,
    base: Base,
) -> Idea {
    let claim = Claim::Is { cells: CellSet::single(cell), digits: DigitSet::single(digit) };
    Idea {
        pattern,
        seen,
        level,
        houses,
        claims: vec![claim],
        bases: vec![base],
        settles: None,
        untold: CellSet::EMPTY,
    }
}
