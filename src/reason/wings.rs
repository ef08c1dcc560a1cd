//! Wings: a few cells with two or three candidates, one of which holds a digit, wherever it is.

use super::nearest::Offers;
use super::pairs::{Numbered, Pairs, Width};
use super::tables::Tables;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, bits};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Position};

pub(super) fn find(
    pattern: Pattern,
    tables: &Tables,
    position: &Position,
    pairs: &mut Pairs,
    offers: &mut impl Offers<Deduction>,
) {
    match pairs.of(tables, position) {
        Width::Few(pairs) => find_among(pattern, pairs, tables, position, offers),
        Width::Many(pairs) => find_among(pattern, pairs, tables, position, offers),
    }
}

fn find_among<const W: usize>(
    pattern: Pattern,
    pairs: &Numbered<W>,
    tables: &Tables,
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    match pattern {
        Pattern::XyWing => xy(pairs, position, offers),
        Pattern::XyzWing => xyz(pairs, tables, position, offers),
        _ => w(pairs, position, offers),
    }
}

/// A cell with two candidates sees two more, which have one of these each, and beside it the same third digit.
fn xy<const W: usize>(pairs: &Numbered<W>, position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut found = Vec::new();
    for (&(cell, pivot), &near) in pairs.cells.iter().zip(&pairs.seen) {
        let Some([one, other]) = pairs.with_each(pivot) else { continue };
        let (ones, others) = (near & (one - other), near & (other - one));
        if ones.is_empty() || others.is_empty() {
            continue;
        }
        for one in ones.iter().map(|at| pairs.cells[at]) {
            let Some(digit) = (one.1 - pivot).only() else { continue };
            for other in (others & pairs.with(digit)).iter().map(|at| pairs.cells[at]) {
                found.extend(Wing::new([one.0, other.0], (cell, pivot), digit, position));
            }
        }
    }
    offer_all(Pattern::XyWing, found, position, offers);
}

/// A cell with three candidates sees two that have two of these each, not the same.
fn xyz<const W: usize>(
    pairs: &Numbered<W>,
    tables: &Tables,
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    let mut found = Vec::new();
    for &row in &tables.rows {
        let (cells, candidates) = (&position.layout().at(row).cells, position.candidates_in(row));
        for at in bits(position.cells_with(row, 3..=3)).map(usize::from) {
            let (cell, pivot) = (cells[at], candidates[at]);
            let Some([a, b, c]) = pairs.with_each(pivot) else { continue };
            let near = pairs.seen_from(cell, position);
            // Those that lack one of the three digits, in the order of these.
            let lacking = [near & b & c, near & a & c, near & a & b];
            if lacking.iter().filter(|lacking| lacking.is_empty()).count() > 1 {
                continue;
            }
            for (digit, [one, other]) in pivot.iter().zip([[1, 2], [0, 2], [0, 1]]) {
                for one in lacking[one].iter().map(|at| pairs.cells[at].0) {
                    for other in lacking[other].iter().map(|at| pairs.cells[at].0) {
                        found.extend(Wing::new([one, other], (cell, pivot), digit, position));
                    }
                }
            }
        }
    }
    offer_all(Pattern::XyzWing, found, position, offers);
}

/// Two cells around a pivot that share a digit, and what this strikes.
struct Wing {
    /// In reading order.
    ends: [Cell; 2],
    pivot: (Cell, DigitSet),
    digit: Digit,
    struck: CellSet,
}

impl Wing {
    /// `None` if nothing is struck.
    fn new(ends: [Cell; 2], pivot: (Cell, DigitSet), digit: Digit, position: &Position) -> Option<Wing> {
        let mut struck = struck(digit, ends, position);
        if pivot.1.contains(digit) {
            struck &= *position.layout().peers(pivot.0);
        }
        let [one, other] = ends;
        (!struck.is_empty()).then(|| Wing { ends: [one.min(other), one.max(other)], pivot, digit, struck })
    }

    fn offer(&self, pattern: Pattern, position: &Position, offers: &mut impl Offers<Deduction>) {
        let Wing { ends: [one, other], pivot: (cell, pivot), digit, struck } = *self;
        offer(digit, cell, struck, offers, |claim| {
            // The first of the two ends is the one to which the lesser digit of the pivot leads.
            let lesser = pivot.iter().find(|&other| other != digit);
            let leads_to_one = lesser.is_some_and(|lesser| position.candidates(one).contains(lesser));
            let (one, other) = if leads_to_one { (one, other) } else { (other, one) };
            let bases = [cell, one, other].map(Base::Cell);
            Deduction::with_marks(pattern, [], [claim], bases)
        });
    }
}

/// Offers wings around a pivot in the order of their ends.
fn offer_all(
    pattern: Pattern,
    mut found: Vec<Wing>,
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) {
    found.sort_unstable_by_key(|wing| (wing.ends, wing.pivot.0, wing.digit));
    for wing in found {
        wing.offer(pattern, position, offers);
    }
}

/// Two cells with the same two candidates, and a house that has one of these only where one of the cells sees it.
fn w<const W: usize>(pairs: &Numbered<W>, position: &Position, offers: &mut impl Offers<Deduction>) {
    for (at, &(one, digits)) in pairs.cells.iter().enumerate() {
        let Some([first, second]) = pairs.with_each(digits) else { continue };
        let same = (first & second) - pairs.seen[at];
        for (other, _) in same.iter().filter(|&other| other > at).map(|other| pairs.cells[other]) {
            for digit in digits.iter() {
                let struck = struck(digit, [one, other], position);
                if struck.is_empty() {
                    continue;
                }
                let Some(tie) = digits.iter().find(|&tie| tie != digit) else { continue };
                for house in houses_that_tie(tie, one, other, position) {
                    offer(digit, one, struck, offers, |claim| {
                        let bases = [Base::Cell(one), Base::Place(house, tie), Base::Cell(other)];
                        Deduction::with_marks(Pattern::WWing, [house], [claim], bases)
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

/// The cells that see both of these, and could hold the digit.
fn struck(digit: Digit, [one, other]: [Cell; 2], position: &Position) -> CellSet {
    let layout = position.layout();
    *position.cells_with_candidate(digit) & *layout.peers(one) & *layout.peers(other)
}

/// Offers what follows from a digit being struck from these cells.
fn offer(
    digit: Digit,
    about: Cell,
    cells: CellSet,
    offers: &mut impl Offers<Deduction>,
    step: impl FnOnce(Claim) -> Deduction,
) {
    let digits = DigitSet::single(digit);
    offers.offer(about, digits, || step(Claim::IsNot { cells, digits }));
}
