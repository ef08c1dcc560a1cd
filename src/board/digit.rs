//! Digits and sets of digits.

use std::fmt;
use std::num::NonZeroU8;
use std::ops::{BitAnd, BitAndAssign, BitOr, BitOrAssign, Sub, SubAssign};

use super::MAX_SIDE;

/// What a cell can hold: a whole number from 1 to 25, shown as `1`..`9` and then `A`..`P`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digit(NonZeroU8);

impl Digit {
    /// The digit of this value, if that is within 1..=25.
    pub fn new(value: u8) -> Option<Digit> {
        NonZeroU8::new(value).filter(|_| value <= MAX_SIDE).map(Digit)
    }

    /// The number that the digit stands for, 1 to 25.
    pub fn value(self) -> u8 {
        self.0.get()
    }

    /// Its place among the digits, from 0.
    pub fn place(self) -> usize {
        usize::from(self.value() - 1)
    }

    /// The sign that shows the digit: `1`..`9`, then `A` for 10 to `P` for 25.
    pub fn symbol(self) -> char {
        char::from(match self.value() {
            value @ 1..=9 => b'0' + value,
            value => b'A' + (value - 10),
        })
    }

    /// The digit that a sign shows; lower-case letters are read too.
    #[inline]
    pub fn from_symbol(symbol: char) -> Option<Digit> {
        SHOWN.get(symbol as usize).copied().flatten()
    }
}

/// The digit that each of the first characters shows: as many as a byte has values, so that no index is checked.
static SHOWN: [Option<Digit>; 256] = {
    let mut shown = [None; 256];
    let mut value = 1;
    while let Some(digit) = NonZeroU8::new(value)
        && value <= MAX_SIDE
    {
        if value <= 9 {
            shown[(b'0' + value) as usize] = Some(Digit(digit));
        } else {
            shown[(b'A' + (value - 10)) as usize] = Some(Digit(digit));
            shown[(b'a' + (value - 10)) as usize] = Some(Digit(digit));
        }
        value += 1;
    }
    shown
};

impl fmt::Display for Digit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.symbol().fmt(f)
    }
}

/// A set of digits. Shown as the symbols in rising order, such as `46`.
#[derive(Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct DigitSet(u32);

impl DigitSet {
    /// No digit.
    pub const EMPTY: DigitSet = DigitSet(0);

    /// No digit.
    pub fn empty() -> DigitSet {
        DigitSet::EMPTY
    }

    /// Just this digit.
    pub fn single(digit: Digit) -> DigitSet {
        DigitSet(1 << (digit.value() - 1))
    }

    /// The digits from 1 to `greatest`, at most 25.
    pub(super) fn up_to(greatest: u8) -> DigitSet {
        DigitSet((1 << greatest) - 1)
    }

    /// The set as bits: bit 0 for digit 1, up to bit 24 for digit 25.
    pub fn bits(self) -> u32 {
        self.0
    }

    /// The set with these bits, see [`DigitSet::bits`]; bits above the 25th are dropped.
    pub fn from_bits(bits: u32) -> DigitSet {
        DigitSet(bits) & DigitSet::up_to(MAX_SIDE)
    }

    /// Puts a digit in; tells whether it is new.
    pub fn insert(&mut self, digit: Digit) -> bool {
        let new = !self.contains(digit);
        *self |= DigitSet::single(digit);
        new
    }

    /// Takes a digit out; tells whether it was there.
    pub fn remove(&mut self, digit: Digit) -> bool {
        let there = self.contains(digit);
        *self -= DigitSet::single(digit);
        there
    }

    /// Whether the digit is in the set.
    pub fn contains(self, digit: Digit) -> bool {
        !(self & DigitSet::single(digit)).is_empty()
    }

    /// How many digits, 0 to 25.
    pub fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether there is no digit in it.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The only digit of a set of one.
    pub fn only(self) -> Option<Digit> {
        if self.0.is_power_of_two() { self.iter().next() } else { None }
    }

    /// The digits that are in either set; also written `a | b`.
    #[must_use]
    pub fn union(self, other: DigitSet) -> DigitSet {
        DigitSet(self.0 | other.0)
    }

    /// The digits that are in both sets; also written `a & b`.
    #[must_use]
    pub fn intersection(self, other: DigitSet) -> DigitSet {
        DigitSet(self.0 & other.0)
    }

    /// The digits that are in this set but not in the other; also written `a - b`.
    #[must_use]
    pub fn difference(self, other: DigitSet) -> DigitSet {
        DigitSet(self.0 & !other.0)
    }

    /// Whether every digit of this set is in the other.
    pub fn is_subset(self, other: DigitSet) -> bool {
        self.difference(other).is_empty()
    }

    /// The digits, rising.
    pub fn iter(self) -> impl Iterator<Item = Digit> + use<> {
        let mut bits = self.0;
        std::iter::from_fn(move || {
            let digit = NonZeroU8::new(bits.trailing_zeros().to_le_bytes()[0] + 1).filter(|_| bits != 0)?;
            bits &= bits - 1;
            Some(Digit(digit))
        })
    }
}

impl FromIterator<Digit> for DigitSet {
    fn from_iter<I: IntoIterator<Item = Digit>>(digits: I) -> Self {
        digits.into_iter().fold(DigitSet::EMPTY, |set, digit| set | DigitSet::single(digit))
    }
}

impl BitOr for DigitSet {
    type Output = DigitSet;
    fn bitor(self, other: DigitSet) -> DigitSet {
        self.union(other)
    }
}

impl BitAnd for DigitSet {
    type Output = DigitSet;
    fn bitand(self, other: DigitSet) -> DigitSet {
        self.intersection(other)
    }
}

impl Sub for DigitSet {
    type Output = DigitSet;
    fn sub(self, other: DigitSet) -> DigitSet {
        self.difference(other)
    }
}

impl BitOrAssign for DigitSet {
    fn bitor_assign(&mut self, other: DigitSet) {
        *self = self.union(other);
    }
}

impl BitAndAssign for DigitSet {
    fn bitand_assign(&mut self, other: DigitSet) {
        *self = self.intersection(other);
    }
}

impl SubAssign for DigitSet {
    fn sub_assign(&mut self, other: DigitSet) {
        *self = self.difference(other);
    }
}

impl fmt::Display for DigitSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.iter().map(Digit::symbol).collect::<String>())
    }
}

impl fmt::Debug for DigitSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "DigitSet({self})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_digit_reads_its_own_symbol() {
        let symbols: String = (1..=25).filter_map(Digit::new).map(Digit::symbol).collect();
        assert_eq!(symbols, "123456789ABCDEFGHIJKLMNOP");
        for (symbol, value) in symbols.chars().zip(1..) {
            assert_eq!(Digit::from_symbol(symbol).map(Digit::value), Some(value));
            assert_eq!(Digit::from_symbol(symbol.to_ascii_lowercase()).map(Digit::value), Some(value));
        }
        for other in ['0', '.', 'Q', 'q', 'Z', '１', ' ', 'é'] {
            assert_eq!(Digit::from_symbol(other), None, "{other}");
        }
        assert_eq!(Digit::new(0), None);
        assert_eq!(Digit::new(26), None);
    }

    #[test]
    fn sets_of_digits() {
        let set = |text: &str| text.chars().filter_map(Digit::from_symbol).collect::<DigitSet>();
        assert_eq!(set("64").to_string(), "46");
        assert_eq!(set("467") - set("7P"), set("46"));
        assert_eq!(set("467") & set("7P"), set("7"));
        assert_eq!(set("46") | set("7P"), set("467P"));
        assert_eq!(set("7").only(), Digit::new(7));
        assert_eq!(set("47").only(), None);
        assert!(set("46").is_subset(set("456")) && !set("456").is_subset(set("46")));
        let mut changing = DigitSet::empty();
        let p = Digit::from_symbol('P').unwrap();
        assert!(changing.insert(p) && !changing.insert(p) && changing.contains(p));
        assert!(changing.remove(p) && !changing.remove(p) && changing.is_empty());
        assert_eq!(DigitSet::from_bits(u32::MAX).len(), 25);
    }
}
