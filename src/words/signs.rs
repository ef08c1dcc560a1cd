//! What is printed for digits.

use crate::board::{Digit, DigitSet};

/// What is printed for each digit, the first for 1; the usual symbols, by default and for digits beyond the last.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub struct Signs<'a>(pub &'a [String]);

impl Signs<'_> {
    /// What is printed for a digit.
    pub fn of(self, digit: Digit) -> String {
        self.0.get(digit.place()).cloned().unwrap_or_else(|| digit.to_string())
    }

    /// What is printed for digits, rising.
    pub fn each(self, digits: DigitSet) -> impl Iterator<Item = String> {
        digits.iter().map(move |digit| self.of(digit))
    }
}
