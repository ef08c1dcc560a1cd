//! What is marked in one house, seen from its cells and from its digits.

use std::ops::RangeInclusive;

use crate::board::{Digit, DigitSet, Size};

/// More than the cells and the digits that a house has at most, and a power of two: so an index is checked at no cost.
const MOST: usize = 32;

/// How much is left for each cell of a row or each digit of a house.
#[derive(Clone, Default, PartialEq, Eq, Debug)]
pub(super) struct Counts {
    counts: [u8; MOST],
    /// For each number, those of which so many or more are left, a bit for each. A count that changes changes a bit in one
    /// place, and those with few are found without a look at each.
    at_least: [u32; MOST],
}

impl Counts {
    /// One more is left.
    fn rise(&mut self, at: u8) {
        let count = &mut self.counts[usize::from(at) % MOST];
        *count += 1;
        self.at_least[usize::from(*count) % MOST] |= 1 << at;
    }

    /// One less is left.
    pub(super) fn fall(&mut self, at: u8) {
        let count = &mut self.counts[usize::from(at) % MOST];
        self.at_least[usize::from(*count) % MOST] ^= 1 << at;
        *count -= 1;
    }

    /// So many are left, where none was.
    pub(super) fn fill(&mut self, at: u8, count: u8) {
        self.counts[usize::from(at) % MOST] = count;
        for at_least in &mut self.at_least[1..=usize::from(count)] {
            *at_least |= 1 << at;
        }
    }

    /// None is left.
    pub(super) fn clear(&mut self, at: u8) {
        let count = std::mem::take(&mut self.counts[usize::from(at) % MOST]);
        for at_least in &mut self.at_least[1..=usize::from(count)] {
            *at_least ^= 1 << at;
        }
    }

    /// How many are left.
    pub(super) fn at(&self, at: u8) -> u8 {
        self.counts[usize::from(at) % MOST]
    }

    /// Those of which so many are left, one at least.
    pub(super) fn with(&self, counts: RangeInclusive<u8>) -> u32 {
        self.at_least[usize::from(*counts.start()) % MOST]
            & !self.at_least[usize::from(*counts.end() + 1) % MOST]
    }
}

/// The views of one house, kept in step.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Marks {
    /// The digits that do not stand in the house.
    pub(super) missing: DigitSet,
    /// The candidates of each of its cells.
    candidates: [DigitSet; MOST],
    /// The places of each digit, a bit for each cell.
    places: [u32; MOST],
    digits: Counts,
}

impl Marks {
    /// A house with no digit and no candidate.
    pub(super) fn empty(size: Size) -> Marks {
        Marks {
            missing: size.digits(),
            candidates: [DigitSet::EMPTY; MOST],
            places: [0; MOST],
            digits: Counts::default(),
        }
    }

    /// Marks the candidates of a cell that has none yet.
    pub(super) fn mark(&mut self, at: u8, candidates: DigitSet) {
        self.candidates[usize::from(at) % MOST] = candidates;
        for digit in candidates.iter() {
            self.places[digit.place() % MOST] |= 1 << at;
            self.digits.rise(digit.value() - 1);
        }
    }

    /// Strikes a candidate that is there.
    pub(super) fn strike(&mut self, at: u8, digit: Digit) {
        self.candidates[usize::from(at) % MOST] -= DigitSet::single(digit);
        self.places[digit.place() % MOST] ^= 1 << at;
        self.digits.fall(digit.value() - 1);
    }

    /// The candidates of a cell.
    pub(super) fn cell(&self, at: u8) -> DigitSet {
        self.candidates[usize::from(at) % MOST]
    }

    /// The candidates of the first so many cells.
    pub(super) fn candidates(&self, side: usize) -> &[DigitSet] {
        &self.candidates[..side]
    }

    /// The places of a digit, a bit for each.
    pub(super) fn places(&self, digit: Digit) -> u32 {
        self.places[digit.place() % MOST]
    }

    /// The places of the first so many digits.
    pub(super) fn all_places(&self, side: usize) -> &[u32] {
        &self.places[..side]
    }

    /// The digits that have so many places, one at least.
    pub(super) fn digits_with(&self, counts: RangeInclusive<u8>) -> DigitSet {
        DigitSet::from_bits(self.digits.with(counts))
    }
}
