//! Which houses have yet to be looked at.

/// A set of houses.
pub(super) struct Houses(Vec<u64>);

impl Houses {
    /// The empty set, for so many houses.
    pub(super) fn new(count: usize) -> Houses {
        Houses(vec![0; count.div_ceil(64)])
    }

    /// Puts a house in.
    #[inline]
    pub(super) fn insert(&mut self, house: usize) {
        self.0[house / 64] |= 1 << (house % 64);
    }

    /// Takes out the first house.
    pub(super) fn pop(&mut self) -> Option<usize> {
        let (at, word) = self.0.iter_mut().enumerate().find(|(_, word)| **word != 0)?;
        let bit = word.trailing_zeros() as usize;
        *word &= *word - 1;
        Some(at * 64 + bit)
    }

    /// Takes out all.
    pub(super) fn clear(&mut self) {
        self.0.fill(0);
    }
}
