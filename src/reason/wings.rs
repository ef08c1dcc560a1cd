//! Wings: a few cells with two or three candidates, one of which holds a digit, wherever it is.

use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

/// The cells that have so many candidates, with these, in reading order.
fn with_candidates(count: u8, tables: &Tables, position: &Position) -> Vec<(Cell, DigitSet)> {
    let mut found = Vec::with_capacity(32);
    for &row in &tables.rows {
        let (cells, candidates) = (&position.layout().at(row).cells, position.candidates_in(row));
        let places = bits(position.cells_with(row, count..=count)).map(usize::from);
        found.extend(places.map(|at| (cells[at], candidates[at])));
    }
    found
}

/// A cell with two candidates sees two more, which have one of these each, and beside it the same third digit.
pub(super) fn xy(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let fits = |pivot: DigitSet, pair: DigitSet| (pivot & pair).only().is_some();
    about(Pattern::XyWing, &with_candidates(2, tables, position), fits, position, offers);
}

/// A cell with three candidates sees two that have two of these each, not the same.
pub(super) fn xyz(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let fits = |pivot: DigitSet, pair: DigitSet| pair.is_subset(pivot);
    about(Pattern::XyzWing, &with_candidates(3, tables, position), fits, position, offers);
}

/// Offers the wings around these pivots, with cells of two candidates that fit, in the order of these cells.
fn about(
    pattern: Pattern,
    pivots: &[(Cell, DigitSet)],
    fits: impl Fn(DigitSet, DigitSet) -> bool,
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    let layout = position.layout();
    let mut found = Vec::new();
    let mut seen = Vec::with_capacity(32);
    for (at, &(pivot, candidates)) in pivots.iter().enumerate() {
        seen.clear();
        for slot in layout.slots(pivot) {
            let (cells, all) = (&layout.at(slot.house).cells, position.candidates_in(slot.house));
            let pairs = bits(position.cells_with(slot.house, 2..=2)).map(usize::from);
            seen.extend(pairs.filter(|&at| fits(candidates, all[at])).map(|at| (cells[at], all[at])));
        }
        for (nth, &(one, first)) in seen.iter().enumerate() {
            for &(other, second) in &seen[nth + 1..] {
                // What is seen in two houses is there twice.
                let Some(digit) = (first & second).only() else { continue };
                if (first | second) - (DigitSet::single(digit) - candidates) == candidates {
                    found.push(([one.min(other), one.max(other)], at, digit));
                }
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    for (wings, at, digit) in found {
        offer_wings(pattern, digit, pivots[at], wings, position, offers);
    }
}

/// Offers two wings around a pivot, which share a digit.
fn offer_wings(
    pattern: Pattern,
    digit: Digit,
    (cell, pivot): (Cell, DigitSet),
    [one, other]: [Cell; 2],
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    // The first of the two wings is the one to which the lesser digit of the pivot leads.
    let lesser = pivot.iter().find(|&other| other != digit);
    let leads_to_one = lesser.is_some_and(|lesser| position.candidates(one).contains(lesser));
    let (one, other) = if leads_to_one { (one, other) } else { (other, one) };
    let ends = [one, other, cell];
    let ends = if pivot.contains(digit) { &ends[..] } else { &ends[..2] };
    offer(digit, cell, ends, position, offers, |claims| {
        let bases = vec![Base::Cell(cell), Base::Cell(one), Base::Cell(other)];
        Deduction::with_marks(pattern, Vec::new(), claims, bases)
    });
}

/// Two cells with the same two candidates, and a house that has one of these only where one of the cells sees it.
pub(super) fn w(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let layout = position.layout();
    let pairs = with_candidates(2, tables, position);
    for (at, &(one, digits)) in pairs.iter().enumerate() {
        for &(other, _) in pairs[at + 1..].iter().filter(|(_, same)| *same == digits) {
            if layout.sees(one, other) {
                continue;
            }
            for digit in digits.iter() {
                if struck(digit, &[one, other], position).is_empty() {
                    continue;
                }
                let Some(tie) = digits.iter().find(|&tie| tie != digit) else { continue };
                for house in houses_that_tie(tie, one, other, position) {
                    offer(digit, one, &[one, other], position, offers, |claims| {
                        let bases = vec![Base::Cell(one), Base::Place(house, tie), Base::Cell(other)];
                        Deduction::with_marks(Pattern::WWing, vec![house], claims, bases)
                    });
                }
            }
        }
    }
}

/// The houses in which each place of a digit is seen by one of the two cells, and not all by the same one.
fn houses_that_tie(tie: Digit, one: Cell, other: Cell, position: &Position) -> Vec<HouseId> {
    let layout = position.layout();
    let places = *position.cells_with_candidate(tie);
    let (unseen_by_one, unseen_by_other) = (places - *layout.peers(one), places - *layout.peers(other));
    let unseen = unseen_by_one & unseen_by_other;
    let houses = (unseen_by_one - unseen).iter().flat_map(|cell| layout.slots(cell)).map(|slot| slot.house);
    let ties = |house: &HouseId| {
        let has_none = |of: CellSet| (of & *layout.at(*house).set()).is_empty();
        has_none(unseen) && !has_none(unseen_by_other) && position.missing(*house).contains(tie)
    };
    let mut houses: Vec<HouseId> = houses.filter(ties).collect();
    houses.sort_unstable();
    houses.dedup();
    houses
}

/// The cells that see all of these, and could hold the digit.
fn struck(digit: Digit, cells: &[Cell], position: &Position) -> CellSet {
    let peers = cells.iter().map(|&cell| *position.layout().peers(cell));
    peers.fold(*position.cells_with_candidate(digit), CellSet::intersection)
}

/// Offers what follows from one of the ends holding the digit, if some cell sees them all.
fn offer(
    digit: Digit,
    about: Cell,
    ends: &[Cell],
    position: &Position,
    offers: &mut impl Offers<Deduction>,
    step: impl FnOnce(Vec<Claim>) -> Deduction,
) {
    let cells = struck(digit, ends, position);
    if !cells.is_empty() {
        let digits = DigitSet::single(digit);
        offers.offer(about, digits, || step(vec![Claim::IsNot { cells, digits }]));
    }
}
