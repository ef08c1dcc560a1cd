//! The facts that can be stated now, of those that close something.

use super::Band;
use super::idea::Idea;
use super::placements::counting_level;
use super::third_line;
use crate::board::{CellSet, DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::reason::choose::choose;
use crate::step::{Base, Claim, Position, Seen};

/// The largest set that is kept in mind.
const LARGEST_SET: u8 = 4;

/// Every fact that closes a candidate which is not closed yet, no higher than a level if it leans on none.
pub(super) fn news(level: u8, known: &Position, bands: &[Band]) -> Vec<Idea> {
    let mut ideas = all(level, known, bands);
    let (thirds, others): (Vec<&Idea>, Vec<&Idea>) =
        ideas.iter().partition(|idea| idea.seen == Seen::ThirdLine);
    // A third line tells more than the long count of the same line does.
    let told = |idea: &Idea| {
        let more = |third: &&Idea| third.level <= idea.level && says_the_same(third, idea);
        idea.pattern == Pattern::LockedCandidates && thirds.iter().any(more)
    };
    let told: Vec<bool> = others.into_iter().map(told).chain(thirds.iter().map(|_| false)).collect();
    let mut told = told.into_iter();
    ideas.retain(|_| !told.next().unwrap_or_default());
    ideas.retain(|idea| known.strikes_any(&idea.claims));
    ideas
}

/// The same with what closes nothing.
pub(super) fn all(level: u8, known: &Position, bands: &[Band]) -> Vec<Idea> {
    let mut ideas = Vec::new();
    for house in known.layout().house_ids() {
        if crossing_level(known, house) <= level {
            locked(house, known, &mut ideas);
        }
        for size in 2..=LARGEST_SET {
            if level_by_crossing(size, house, known) <= level {
                by_crossing(size, house, known, &mut ideas);
            }
            if level_by_counting(size, house, known) <= level {
                by_counting(size, house, known, &mut ideas);
            }
        }
    }
    if third_line::LEVEL <= level {
        for band in bands {
            third_line::facts(band, known, &mut ideas);
        }
    }
    ideas
}

/// Whether two facts keep the same digits in the same cells.
fn says_the_same(one: &Idea, other: &Idea) -> bool {
    let mut claims = one.claims.iter().zip(&other.claims);
    claims.all(|(a, b)| a.cells() == b.cells() && a.digits() == b.digits())
}

/// How hard it is to see where a house can have its digits.
fn crossing_level(known: &Position, house: HouseId) -> u8 {
    let layout = known.layout();
    if layout.at(house).name.is_block() { 2 } else { counting_level(known.missing(house).len()) }
}

fn level_by_crossing(size: u8, house: HouseId, known: &Position) -> u8 {
    if size > 3 { 4 } else { crossing_level(known, house).max(size) }
}

fn level_by_counting(size: u8, house: HouseId, known: &Position) -> u8 {
    let missing = known.missing(house).len();
    let whole = missing == usize::from(size);
    if size > 2 && !whole { 4 } else { counting_level(missing) }
}

/// A digit whose open cells in a house, two or more, all lie in a second one.
fn locked(house: HouseId, known: &Position, ideas: &mut Vec<Idea>) {
    let layout = known.layout();
    let own = &layout.at(house).cells;
    for digit in known.missing_with(house, 2..=layout.size().side()).iter() {
        let places = || bits(known.places(house, digit)).map(|at| own[usize::from(at)]);
        let Some(first) = places().next() else { continue };
        let seconds = layout.slots(first).iter().map(|slot| slot.house).filter(|&id| id != house);
        for second in seconds.filter(|&id| places().all(|cell| layout.at(id).set().contains(cell))) {
            let cells = known.cells(house, digit);
            ideas.push(Idea {
                pattern: Pattern::LockedCandidates,
                seen: Seen::Crossing,
                level: crossing_level(known, house),
                houses: vec![house, second],
                claims: vec![Claim::Within { house, digits: DigitSet::single(digit), cells }],
                bases: vec![Base::Place(house, digit)],
                settles: None,
                untold: CellSet::EMPTY,
            });
        }
    }
}

/// Some digits that have as many open cells in a house.
pub(super) fn by_crossing(size: u8, house: HouseId, known: &Position, ideas: &mut Vec<Idea>) {
    let few = known.missing_with(house, 2..=size).iter();
    let few = few.map(|digit| (digit.value() - 1, known.places(house, digit)));
    choose(size, few, |own, places| {
        let digits = DigitSet::from_bits(own);
        ideas.push(Idea {
            pattern: Pattern::HiddenSet(size),
            seen: Seen::Crossing,
            level: level_by_crossing(size, house, known),
            houses: vec![house],
            claims: vec![Claim::Is { cells: known.cells_at(house, places), digits }],
            bases: digits.iter().map(|digit| Base::Place(house, digit)).collect(),
            settles: None,
            untold: CellSet::EMPTY,
        });
    });
}

/// Some cells of a house that can hold as many digits; or all that it misses.
fn by_counting(size: u8, house: HouseId, known: &Position, ideas: &mut Vec<Idea>) {
    let candidates = known.candidates_in(house);
    let few = bits(known.cells_with(house, 2..=size));
    let few = few.map(|at| (at, candidates[usize::from(at)].bits()));
    choose(size, few, |own, union| {
        let cells = known.cells_at(house, own);
        ideas.push(Idea {
            pattern: Pattern::NakedSet(size),
            seen: Seen::Counting,
            level: level_by_counting(size, house, known),
            houses: vec![house],
            claims: vec![Claim::Is { cells, digits: DigitSet::from_bits(union) }],
            bases: cells.iter().map(Base::Cell).collect(),
            settles: None,
            untold: CellSet::EMPTY,
        });
    });
}
