//! Where something stands in a text.

use std::ops::Range;

/// A stretch of text: byte offsets from the beginning of its [`Section`](super::Section), `start..end`.
///
/// 32 bits are enough: files above 64 MiB are refused before they are read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The stretch `start..end`, in bytes.
    pub fn new(start: usize, end: usize) -> Span {
        let narrow = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Span { start: narrow(start), end: narrow(end) }
    }

    /// The same stretch as a range, for slicing.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Length in bytes.
    pub fn len(self) -> usize {
        self.range().len()
    }

    /// Whether it holds no byte at all.
    pub fn is_empty(self) -> bool {
        self.start >= self.end
    }

    /// The shortest stretch that holds both.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        Span { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The same stretch, `by` bytes further on.
    #[must_use]
    pub fn shifted(self, by: usize) -> Span {
        Span::new(self.start as usize + by, self.end as usize + by)
    }

    /// Its first `len` bytes.
    #[must_use]
    pub fn first(self, len: usize) -> Span {
        Span::new(self.start as usize, self.start as usize + len)
    }

    /// The text that stands there.
    pub fn of(self, text: &str) -> &str {
        &text[self.range()]
    }
}
