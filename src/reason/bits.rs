//! Small sets of numbers, as bits in so many words.

use std::ops::{BitAnd, BitOr, Sub};

/// A set of the numbers below 64 for each word.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Bits<const WORDS: usize>([u64; WORDS]);

impl<const WORDS: usize> Bits<WORDS> {
    pub(super) const EMPTY: Bits<WORDS> = Bits([0; WORDS]);
    /// How many numbers there may be.
    pub(super) const MOST: usize = 64 * WORDS;

    pub(super) fn single(number: usize) -> Bits<WORDS> {
        let mut bits = Bits::EMPTY;
        bits.0[number / 64] = 1 << (number % 64);
        bits
    }

    pub(super) fn insert(&mut self, number: usize) {
        self.0[number / 64] |= 1 << (number % 64);
    }

    pub(super) fn contains(self, number: usize) -> bool {
        self.0[number / 64] & (1 << (number % 64)) != 0
    }

    pub(super) fn len(self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    pub(super) fn is_empty(self) -> bool {
        self.0.iter().fold(0, |all, word| all | word) == 0
    }

    pub(super) fn is_subset(self, other: Bits<WORDS>) -> bool {
        (self - other).is_empty()
    }

    /// The only number of a set of one.
    pub(super) fn only(self) -> Option<usize> {
        let mut numbers = self.iter();
        numbers.next().filter(|_| numbers.next().is_none())
    }

    /// The numbers, rising.
    pub(super) fn iter(self) -> impl Iterator<Item = usize> {
        let mut words = self.0;
        let mut at = 0;
        std::iter::from_fn(move || {
            while words[at] == 0 {
                if at + 1 == WORDS {
                    return None;
                }
                at += 1;
            }
            let bit = words[at].trailing_zeros() as usize;
            words[at] &= words[at] - 1;
            Some(at * 64 + bit)
        })
    }

    fn with(mut self, other: Bits<WORDS>, join: impl Fn(u64, u64) -> u64) -> Bits<WORDS> {
        for (mine, its) in self.0.iter_mut().zip(other.0) {
            *mine = join(*mine, its);
        }
        self
    }
}

impl<const WORDS: usize> Default for Bits<WORDS> {
    fn default() -> Bits<WORDS> {
        Bits::EMPTY
    }
}

impl<const WORDS: usize> BitAnd for Bits<WORDS> {
    type Output = Bits<WORDS>;
    fn bitand(self, other: Bits<WORDS>) -> Bits<WORDS> {
        self.with(other, |a, b| a & b)
    }
}

impl<const WORDS: usize> BitOr for Bits<WORDS> {
    type Output = Bits<WORDS>;
    fn bitor(self, other: Bits<WORDS>) -> Bits<WORDS> {
        self.with(other, |a, b| a | b)
    }
}

impl<const WORDS: usize> Sub for Bits<WORDS> {
    type Output = Bits<WORDS>;
    fn sub(self, other: Bits<WORDS>) -> Bits<WORDS> {
        self.with(other, |a, b| a & !b)
    }
}
