//! The digits that can be written now.

use super::Band;
use super::idea::Idea;
use super::third_line;
use super::view::{Fact, View};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Position, Seen};

/// What a house misses that is still counted at a glance.
pub const FEW: usize = 3;

/// How hard it is to count what a house misses.
pub(super) fn counting_level(missing: usize) -> u8 {
    if missing <= FEW { 2 } else { 3 }
}

/// Every way to write a digit, by digits and remembered facts.
pub(super) fn all(view: &View, bands: &[Band]) -> Vec<Idea> {
    let known = &view.known;
    let mut ideas = Vec::new();
    for house in known.layout().house_ids() {
        in_house(house, known, &mut ideas);
    }
    for cell in known.layout().size().all_cells() {
        if let Some(digit) = known.candidates(cell).only()
            && let Some((house, missing)) = shortest_house(known, cell)
        {
            let level = counting_level(missing);
            ideas.push(placed(
                Pattern::NakedSingle,
                Seen::Counting,
                level,
                vec![house],
                cell,
                digit,
                Base::Cell(cell),
            ));
        }
    }
    for fact in &view.facts {
        settling(fact, view, &mut ideas);
    }
    for band in bands {
        third_line::find(band, known, &mut ideas);
    }
    ideas.retain(|idea| idea.claims.iter().all(Claim::places));
    ideas
}

fn in_house(house: HouseId, known: &Position, ideas: &mut Vec<Idea>) {
    let missing = known.missing(house);
    let is_block = known.layout().at(house).name.is_block();
    for digit in missing.iter() {
        let cells = known.cells(house, digit);
        let Some(cell) = cells.iter().next().filter(|_| cells.len() == 1) else { continue };
        let (pattern, seen, level, base) = if missing.len() == 1 {
            (Pattern::LastOpenCell, Seen::Counting, 1, Base::Cell(cell))
        } else if is_block {
            (Pattern::BoxHiddenSingle, Seen::Crossing, 1, Base::Place(house, digit))
        } else {
            let level = counting_level(missing.len());
            (Pattern::LineHiddenSingle, Seen::Crossing, level, Base::Place(house, digit))
        };
        ideas.push(placed(pattern, seen, level, vec![house], cell, digit, base));
    }
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
            let mut idea =
                placed(Pattern::NakedSingle, Seen::Settling, 2, Vec::new(), cell, digit, Base::Cell(cell));
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
