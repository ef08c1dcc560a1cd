//! Sets of numbers, for which what is linked has a bit each.

use std::ops::{BitAnd, BitOr, BitOrAssign, Sub};

/// A set of numbers below 64 for each word, a bit for each.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Bits<const W: usize>([u64; W]);

impl<const W: usize> Bits<W> {
    pub(super) const EMPTY: Bits<W> = Bits([0; W]);
    /// How many numbers there may be.
    pub(super) const MOST: usize = 64 * W;

    pub(super) fn single(at: usize) -> Bits<W> {
        let mut bits = Bits::EMPTY;
        bits.insert(at);
        bits
    }

    pub(super) fn insert(&mut self, at: usize) {
        self.0[at / 64] |= 1 << (at % 64);
    }

    pub(super) fn remove(&mut self, at: usize) {
        self.0[at / 64] &= !(1 << (at % 64));
    }

    pub(super) fn contains(&self, at: usize) -> bool {
        self.0[at / 64] & (1 << (at % 64)) != 0
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.iter().fold(0, |all, word| all | word) == 0
    }

    pub(super) fn is_subset(&self, of: &Bits<W>) -> bool {
        (*self - *of).is_empty()
    }

    /// The numbers of the words from this one on, as many as there is room for, less those before.
    pub(super) fn part<const V: usize>(&self, first: usize) -> Bits<V> {
        Bits(std::array::from_fn(|at| self.0.get(first + at).copied().unwrap_or_default()))
    }

    pub(super) fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// The numbers from one up to another, without that.
    pub(super) fn range(begin: usize, end: usize) -> Bits<W> {
        let mut bits = Bits::EMPTY;
        (begin..end).for_each(|number| bits.insert(number));
        bits
    }

    /// The only number of a set of one.
    pub(super) fn only(&self) -> Option<usize> {
        let [first, last] = self.ends();
        (first == last).then_some(first)
    }

    /// The two numbers of a set of two.
    pub(super) fn both(&self) -> Option<[usize; 2]> {
        let mut numbers = self.iter();
        let both = [numbers.next()?, numbers.next()?];
        numbers.next().is_none().then_some(both)
    }

    /// The least and the greatest number; of an empty set they are not the same.
    pub(super) fn ends(&self) -> [usize; 2] {
        let first = self.0.iter().position(|word| *word != 0).unwrap_or_default();
        let last = self.0.iter().rposition(|word| *word != 0).unwrap_or_default();
        let last_bit = 63_usize.wrapping_sub(self.0[last].leading_zeros() as usize);
        [64 * first + self.0[first].trailing_zeros() as usize, (64 * last).wrapping_add(last_bit)]
    }

    /// The numbers, rising.
    pub(super) fn iter(&self) -> Numbers<W> {
        Numbers { words: self.0, at: 0 }
    }
}

/// The numbers of a set, rising.
pub(super) struct Numbers<const W: usize> {
    words: [u64; W],
    at: usize,
}

impl<const W: usize> Iterator for Numbers<W> {
    type Item = usize;

    fn next(&mut self) -> Option<usize> {
        while self.at < W {
            let word = &mut self.words[self.at];
            if *word != 0 {
                let bit = word.trailing_zeros() as usize;
                *word &= *word - 1;
                return Some(self.at * 64 + bit);
            }
            self.at += 1;
        }
        None
    }

    /// Quicker than one by one.
    fn fold<A, F: FnMut(A, usize) -> A>(self, mut so_far: A, mut with: F) -> A {
        // The words that are done with are empty.
        for (at, mut word) in self.words.into_iter().enumerate() {
            while word != 0 {
                so_far = with(so_far, at * 64 + word.trailing_zeros() as usize);
                word &= word - 1;
            }
        }
        so_far
    }
}

impl<const W: usize> Default for Bits<W> {
    fn default() -> Bits<W> {
        Bits::EMPTY
    }
}

impl<const W: usize> BitOr for Bits<W> {
    type Output = Bits<W>;
    fn bitor(mut self, other: Bits<W>) -> Bits<W> {
        self |= other;
        self
    }
}

impl<const W: usize> BitAnd for Bits<W> {
    type Output = Bits<W>;
    fn bitand(mut self, other: Bits<W>) -> Bits<W> {
        self.0.iter_mut().zip(other.0).for_each(|(mine, its)| *mine &= its);
        self
    }
}

impl<const W: usize> Sub for Bits<W> {
    type Output = Bits<W>;
    fn sub(mut self, other: Bits<W>) -> Bits<W> {
        self.0.iter_mut().zip(other.0).for_each(|(mine, its)| *mine &= !its);
        self
    }
}

impl<const W: usize> BitOrAssign for Bits<W> {
    fn bitor_assign(&mut self, other: Bits<W>) {
        self.0.iter_mut().zip(other.0).for_each(|(mine, its)| *mine |= its);
    }
}
