//! The text of a section, which is a stretch of its file's.

use super::Span;
use std::fmt;
use std::ops::{Deref, Range};
use std::sync::Arc;

/// A stretch of a longer text, which is kept as long as any stretch of it is: so the sections of a file need no copies.
#[derive(Clone)]
pub struct Text {
    whole: Arc<String>,
    stretch: Span,
}

impl Text {
    /// The stretch `stretch` of `whole`.
    ///
    /// # Panics
    /// If there is no such stretch, or one of its ends is within a character.
    pub fn of(whole: &Arc<String>, stretch: Range<usize>) -> Text {
        assert!(whole.get(stretch.clone()).is_some(), "it is a stretch of the text");
        Text { whole: Arc::clone(whole), stretch: Span::new(stretch.start, stretch.end) }
    }
}

impl Deref for Text {
    type Target = str;

    #[inline]
    fn deref(&self) -> &str {
        self.stretch.of(&self.whole)
    }
}

/// A text of its own.
impl From<&str> for Text {
    fn from(text: &str) -> Text {
        Text::of(&Arc::new(text.to_owned()), 0..text.len())
    }
}

impl PartialEq for Text {
    fn eq(&self, other: &Text) -> bool {
        **self == **other
    }
}

impl Eq for Text {}

impl fmt::Debug for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}

impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}
