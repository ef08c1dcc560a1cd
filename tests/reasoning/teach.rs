//! Positions that teach something, held against what "the only way on" is defined to be, by trying all that could be
//! another way: with marks every pattern by its definition; under scanning every digit that can be written by the digits
//! that stand, at once or after any one fact.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Grid, HouseId, Layout};
use gridsetter::ladder::{Pattern, named};
use gridsetter::step::{Base, Claim, Position, Seen};
use gridsetter::study::{Lessons, Subject};

use crate::definitions;
use crate::puzzles::{self, Plan};
use crate::random;

/// What a house misses that is still counted at a glance, as the levels of scanning have it.
const AT_A_GLANCE: usize = 3;

fn subject(name: &str) -> Subject {
    Subject::of(named(name).unwrap())
}

/// A position of the walk is found for a name just where the cheapest pattern that gives anything, by the definitions,
/// has that name.
fn check_patterns(seed: u64, plan: Plan) {
    let mut found: BTreeMap<&str, usize> = BTreeMap::new();
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        let mut names: Vec<&str> = reasoner.patterns().iter().map(|pattern| pattern.name()).collect();
        names.dedup();
        for puzzle in puzzles {
            let all: Vec<(&str, Lessons)> = names
                .iter()
                .map(|&name| (name, Lessons::of(&reasoner, &puzzle.givens, subject(name))))
                .collect();
            let walk = &all[0].1.walk;
            for (at, (before, _)) in walk.positions().enumerate() {
                // Chains have brute force of their own.
                let gives = |pattern: &&Pattern| {
                    if pattern.is_chain() {
                        return reasoner.by(**pattern, &before, None).is_some();
                    }
                    !definitions::all(**pattern, &before).is_empty()
                };
                let cheapest = reasoner.patterns().iter().find(gives).unwrap().name();
                for (name, lessons) in &all {
                    let is_found = lessons.places.contains(&at);
                    assert_eq!(is_found, *name == cheapest, "{name} after {at} steps of {}", puzzle.givens);
                }
                assert_eq!(all[0].1.before(at), before);
                *found.entry(cheapest).or_default() += 1;
            }
            let both = Lessons::of(&reasoner, &puzzle.givens, subject("hidden single"));
            let each = all.iter().filter(|(name, _)| name.ends_with("hidden single"));
            let mut either: Vec<usize> = each.flat_map(|(_, lessons)| lessons.places.clone()).collect();
            either.sort_unstable();
            assert_eq!(both.places, either);
        }
    });
    println!("positions in which a pattern is the only way on: {found:?}");
    assert!(["naked pair", "locked candidates"].iter().all(|name| found.contains_key(name)));
}

#[test]
fn a_pattern_is_the_only_way_on_by_the_definitions() {
    check_patterns(10_066, &[(4, 30, 4), (6, 16, 4), (8, 4, 2), (9, 8, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn a_pattern_is_the_only_way_on_by_the_definitions_at_length() {
    check_patterns(62, &[(4, 100, 5), (6, 60, 5), (8, 20, 3), (9, 120, 2)]);
}

/// Another way to write a digit, or a fact, and its level.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Look {
    seen: Seen,
    level: u8,
}

fn counting(position: &Position, house: HouseId) -> u8 {
    if position.missing(house).len() <= AT_A_GLANCE { 2 } else { 3 }
}

/// Every digit that these candidates give at once.
fn digits(position: &Position) -> Vec<(Cell, Digit, Look)> {
    let layout = position.layout();
    let mut all = Vec::new();
    for house in layout.house_ids() {
        let missing = position.missing(house);
        for digit in missing.iter() {
            let cells = &layout.at(house).cells;
            let can = |cell: &&Cell| position.candidates(**cell).contains(digit);
            let places: Vec<Cell> = cells.iter().filter(can).copied().collect();
            let look = match (missing.len(), layout.at(house).name.is_block()) {
                (1, _) => Look { seen: Seen::Counting, level: 1 },
                (_, true) => Look { seen: Seen::Crossing, level: 1 },
                (_, false) => Look { seen: Seen::Crossing, level: counting(position, house) },
            };
            if let [cell] = places[..] {
                all.push((cell, digit, look));
            }
        }
    }
    for cell in position.grid().empty_cells() {
        if let Some(digit) = position.candidates(cell).only() {
            let level = layout.slots(cell).iter().map(|slot| counting(position, slot.house)).min().unwrap();
            all.push((cell, digit, Look { seen: Seen::Counting, level }));
        }
    }
    all
}

/// Every fact that the digits give and that closes something: locked digits, and sets of up to four.
fn facts(position: &Position) -> Vec<(Claim, Look)> {
    let layout = position.layout();
    let patterns = (2..=4).flat_map(|size| [Pattern::HiddenSet(size), Pattern::NakedSet(size)]);
    let mut all = Vec::new();
    for pattern in [Pattern::LockedCandidates].into_iter().chain(patterns) {
        for bases in definitions::all(pattern, position) {
            let places: Vec<(HouseId, Digit)> = bases
                .iter()
                .filter_map(|base| match base {
                    Base::Place(house, digit) => Some((*house, *digit)),
                    Base::Cell(_) | Base::Swap(_) => None,
                })
                .collect();
            let (claim, house) = if let Some(&(house, _)) = places.first() {
                let digits: DigitSet = places.iter().map(|(_, digit)| *digit).collect();
                let cells = layout.at(house).cells.iter().copied();
                let cells: CellSet =
                    cells.filter(|cell| !(position.candidates(*cell) & digits).is_empty()).collect();
                let claim = match pattern {
                    Pattern::LockedCandidates => Claim::Within { house, digits, cells },
                    _ => Claim::Is { cells, digits },
                };
                (claim, house)
            } else {
                let cell = |base: &Base| match base {
                    Base::Cell(cell) => Some(*cell),
                    Base::Place(..) | Base::Swap(_) => None,
                };
                let cells: CellSet = bases.iter().filter_map(cell).collect();
                let digits = cells.iter().fold(DigitSet::EMPTY, |all, cell| all | position.candidates(cell));
                let holds = |house: &HouseId| cells.is_subset(layout.at(*house).set());
                // Of the houses that hold all of the set, it is counted in the one that misses the fewest.
                let houses = layout.house_ids().filter(holds);
                let house = houses.min_by_key(|house| position.missing(*house).len()).unwrap();
                (Claim::Is { cells, digits }, house)
            };
            let across = if layout.at(house).name.is_block() { 2 } else { counting(position, house) };
            let look = match pattern {
                Pattern::HiddenSet(size) => {
                    Look { seen: Seen::Crossing, level: if size > 3 { 4 } else { across.max(size) } }
                }
                Pattern::NakedSet(size) => {
                    let whole = position.missing(house).len() == usize::from(size);
                    let level = if size > 2 && !whole { 4 } else { counting(position, house) };
                    Look { seen: Seen::Counting, level }
                }
                _ => Look { seen: Seen::Crossing, level: across },
            };
            // A reader who scans looks along houses: the cells lie in a second one.
            let along = |other: HouseId| other != house && claim.cells().is_subset(layout.at(other).set());
            let is_looked_for = pattern != Pattern::LockedCandidates || layout.house_ids().any(along);
            if claim.cells().len() > 1 && is_looked_for {
                all.push((claim, look));
            }
        }
    }
    all
}

/// Every way to write a digit by the digits that stand and at most one fact: the looks that it takes.
fn ways_on(layout: &Layout, grid: &Grid, told: bool) -> Vec<(Cell, Digit, Vec<Look>)> {
    let position = Position::new(layout, grid);
    let at_once = digits(&position);
    let mut all: Vec<(Cell, Digit, Vec<Look>)> =
        at_once.iter().map(|(cell, digit, look)| (*cell, *digit, vec![*look])).collect();
    for (claim, look) in if told { Vec::new() } else { facts(&position) } {
        let mut after = position.clone();
        for (cell, digits) in position.strikes(std::slice::from_ref(&claim)) {
            after.strike(cell, digits);
        }
        for new in digits(&after).into_iter().filter(|new| !at_once.contains(new)) {
            let (cell, digit, mut own) = new;
            // A fact is one more thing to look at; a set that closes a cell to another digit is two.
            own.level = own.level.max(if claim.digits().len() > 1 { 3 } else { 2 });
            if claim.cells().contains(cell) && claim.digits().contains(digit) {
                own.seen = Seen::Settling;
            }
            all.push((cell, digit, vec![look, own]));
        }
    }
    all
}

/// Where a way of seeing is the only way on, no digit can be written by another one at the level of what it leads to.
fn check_ways(seed: u64, plan: Plan) {
    let mut tally: BTreeMap<&str, (usize, usize, usize)> = BTreeMap::new();
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            for seen in Seen::ALL {
                let lessons = Lessons::of(&reasoner, &puzzle.givens, subject(seen.name()));
                let steps = &lessons.walk.steps;
                let mut looked = (0, 0, 0);
                for (at, (before, step)) in lessons.walk.positions().enumerate() {
                    if step.deduction.seen != Some(seen) {
                        assert!(!lessons.places.contains(&at));
                        continue;
                    }
                    let plan = steps[at..].split_inclusive(|step| step.deduction.places()).next().unwrap();
                    let level = plan.iter().filter_map(|step| step.level).max().unwrap();
                    // Beside facts that are remembered already, only what the digits give at once is tried.
                    let told = step.held > usize::from(!step.deduction.places());
                    let other = ways_on(layout, before.grid(), told).into_iter().find(|(_, _, looks)| {
                        looks
                            .iter()
                            .all(|look| look.level <= level && look.seen != seen && !is_third(seen, *look))
                    });
                    looked.0 += 1;
                    looked.2 += usize::from(other.is_some());
                    if lessons.places.contains(&at) {
                        looked.1 += 1;
                        assert_eq!(
                            other,
                            None,
                            "{seen:?} at level {level} after {at} steps: {} ({})",
                            before.grid(),
                            random::describe(layout)
                        );
                    }
                }
                let sum = tally.entry(seen.name()).or_default();
                *sum = (sum.0 + looked.0, sum.1 + looked.1, sum.2 + looked.2);
            }
        }
    });
    println!("steps seen so, the only way on, with another way found by trying: {tally:?}");
    assert!(tally.values().all(|(_, only, _)| *only > 0), "{tally:?}");
    // Of the rest, few have another way that takes more than one fact.
    let (steps, only, other) = tally.values().fold((0, 0, 0), |a, b| (a.0 + b.0, a.1 + b.1, a.2 + b.2));
    assert!(other * 10 > (steps - only) * 9, "{tally:?}");
}

/// A long count of a line says what a third line says: it is the same step.
fn is_third(seen: Seen, look: Look) -> bool {
    seen == Seen::ThirdLine && look == Look { seen: Seen::Crossing, level: 3 }
}

#[test]
fn a_way_of_seeing_is_the_only_way_on() {
    check_ways(63, &[(4, 20, 4), (6, 20, 4), (9, 20, 3)]);
}

#[test]
#[ignore = "takes minutes"]
fn a_way_of_seeing_is_the_only_way_on_at_length() {
    check_ways(64, &[(4, 60, 6), (6, 60, 6), (8, 20, 4), (9, 400, 4)]);
}
