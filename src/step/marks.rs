//! What is marked in one house, seen from its cells and from its digits.

use std::ops::RangeInclusive;

use crate::board::{Digit, DigitSet, MAX_SIDE, Size};

/// How many cells and how many digits a house has at most.
const MOST: usize = MAX_SIDE as usize;

/// How much is left for each cell or each digit of a house.
#[derive(Clone, Default, PartialEq, Eq, Debug)]
struct Counts {
    counts: [u8; MOST],
    /// For each number, those of which so many or fewer are left, a bit for each. A count that falls adds a bit in one
    /// place, and those with few are found without a look at each.
    at_most: [u32; MOST + 1],
}

impl Counts {
    /// Sorts the first so many by their counts.
    fn sort(&mut self, side: usize) {
        for (&count, at) in self.counts[..side].iter().zip(0..) {
            self.at_most[usize::from(count)] |= 1 << at;
        }
        let mut so_far = 0;
        for at_most in &mut self.at_most[..=side] {
            so_far |= *at_most;
            *at_most = so_far;
        }
    }

    /// None is left.
    fn clear(&mut self, at: u8) {
        let count = std::mem::take(&mut self.counts[usize::from(at)]);
        for at_most in &mut self.at_most[..usize::from(count)] {
            *at_most |= 1 << at;
        }
    }

    /// One less is left.
    fn fall(&mut self, at: u8) {
        let count = &mut self.counts[usize::from(at)];
        *count -= 1;
        self.at_most[usize::from(*count)] |= 1 << at;
    }

    /// Those of which so many are left, one at least.
    fn with(&self, counts: RangeInclusive<u8>) -> u32 {
        self.at_most[usize::from(*counts.end())] & !self.at_most[usize::from(*counts.start() - 1)]
    }
}

/// The views of one house, kept in step.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Marks {
    /// The digits that do not stand in the house.
    pub(super) missing: DigitSet,
    /// The candidates of each of its cells.
    candidates: [DigitSet; MOST],
    cells: Counts,
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
            cells: Counts::default(),
            places: [0; MOST],
            digits: Counts::default(),
        }
    }

    /// Marks the candidates of a cell that has none yet, which are so many. When all cells are marked, the marks must be
    /// sorted.
    pub(super) fn mark(&mut self, at: u8, candidates: DigitSet, count: u8) {
        self.candidates[usize::from(at)] = candidates;
        self.cells.counts[usize::from(at)] = count;
        for digit in candidates.iter() {
            self.places[digit.place()] |= 1 << at;
            self.digits.counts[digit.place()] += 1;
        }
    }

    /// Sorts the marks of a house of so many cells.
    pub(super) fn sort(&mut self, side: usize) {
        self.cells.sort(side);
        self.digits.sort(side);
    }

    /// Strikes all candidates of a cell.
    pub(super) fn clear(&mut self, at: u8) {
        for digit in std::mem::take(&mut self.candidates[usize::from(at)]).iter() {
            self.places[digit.place()] ^= 1 << at;
            self.digits.fall(digit.value() - 1);
        }
        self.cells.clear(at);
    }

    /// Strikes a candidate that is there.
    pub(super) fn strike(&mut self, at: u8, digit: Digit) {
        self.candidates[usize::from(at)] -= DigitSet::single(digit);
        self.cells.fall(at);
        self.places[digit.place()] ^= 1 << at;
        self.digits.fall(digit.value() - 1);
    }

    /// The candidates of a cell.
    pub(super) fn cell(&self, at: u8) -> DigitSet {
        self.candidates[usize::from(at)]
    }

    /// The candidates of the first so many cells.
    pub(super) fn candidates(&self, side: usize) -> &[DigitSet] {
        &self.candidates[..side]
    }

    /// The cells that have so many candidates, one at least, a bit for each.
    pub(super) fn cells_with(&self, counts: RangeInclusive<u8>) -> u32 {
        self.cells.with(counts)
    }

    /// The places of a digit, a bit for each.
    pub(super) fn places(&self, digit: Digit) -> u32 {
        self.places[digit.place()]
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
