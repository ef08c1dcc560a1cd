//! Wings: a few cells with two or three candidates, one of which holds a digit, wherever it is.

use super::nearest::Offers;
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, MAX_SIDE, bits};
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
    let pairs = with_candidates(2, tables, position);
    // For each digit those that share a cell with it and no other.
    let mut partners = [DigitSet::EMPTY; MAX_SIDE as usize];
    for &(_, pair) in &pairs {
        pair.iter().for_each(|digit| partners[digit.place()] |= pair);
    }
    let is_there =
        |pair: DigitSet| pair.iter().next().is_some_and(|one| pair.is_subset(partners[one.place()]));
    for (at, &wing) in pairs.iter().enumerate() {
        for &other in &pairs[at + 1..] {
            let pivot = (wing.1 | other.1) - (wing.1 & other.1);
            if let Some(digit) = (wing.1 & other.1).only().filter(|_| is_there(pivot)) {
                about_pivots(Pattern::XyWing, digit, pivot, [wing.0, other.0], &pairs, position, offers);
            }
        }
    }
}

/// A cell with three candidates sees two that have two of these each, not the same.
pub(super) fn xyz(tables: &Tables, position: &Position, offers: &mut impl Offers<Deduction>) {
    let triples = with_candidates(3, tables, position);
    if triples.is_empty() {
        return;
    }
    let pairs = with_candidates(2, tables, position);
    for (at, &wing) in pairs.iter().enumerate() {
        for &other in &pairs[at + 1..] {
            if let Some(digit) = (wing.1 & other.1).only() {
                let pivot = wing.1 | other.1;
                about_pivots(Pattern::XyzWing, digit, pivot, [wing.0, other.0], &triples, position, offers);
            }
        }
    }
}

/// Offers the wings around each of these cells that has just the candidates `pivot`.
fn about_pivots(
    pattern: Pattern,
    digit: Digit,
    pivot: DigitSet,
    wings: [Cell; 2],
    cells: &[(Cell, DigitSet)],
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    let layout = position.layout();
    for &(cell, candidates) in cells {
        if candidates == pivot && wings.iter().all(|&wing| layout.sees(cell, wing)) {
            // The first of the two wings is the one to which the lesser digit of the pivot leads.
            let lesser = pivot.iter().find(|&other| other != digit);
            let [one, other] = wings;
            let holds = |wing: Cell| lesser.is_some_and(|lesser| position.candidates(wing).contains(lesser));
            let (one, other) = if holds(one) { (one, other) } else { (other, one) };
            let ends = if pivot.contains(digit) { vec![cell, one, other] } else { vec![one, other] };
            offer(digit, cell, &ends, position, offers, |claims| {
                let bases = vec![Base::Cell(cell), Base::Cell(one), Base::Cell(other)];
                Deduction::with_marks(pattern, Vec::new(), claims, bases)
            });
        }
    }
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
                for house in layout.house_ids().filter(|&house| position.missing(house).contains(tie)) {
                    if ties(house, tie, one, other, position) {
                        offer(digit, one, &[one, other], position, offers, |claims| {
                            let bases = vec![Base::Cell(one), Base::Place(house, tie), Base::Cell(other)];
                            Deduction::with_marks(Pattern::WWing, vec![house], claims, bases)
                        });
                    }
                }
            }
        }
    }
}

/// Whether each place of a digit in a house is seen by one of the two cells, and not all by the same one.
fn ties(house: HouseId, digit: Digit, one: Cell, other: Cell, position: &Position) -> bool {
    let layout = position.layout();
    let (mut all_by_one, mut all_by_other) = (true, true);
    for at in bits(position.places(house, digit)) {
        let cell = layout.at(house).cells[usize::from(at)];
        let (by_one, by_other) = (layout.sees(cell, one), layout.sees(cell, other));
        if !by_one && !by_other {
            return false;
        }
        all_by_one &= by_one;
        all_by_other &= by_other;
    }
    !all_by_one && !all_by_other
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
