//! Text between puzzles.

use super::{Book, Puzzle};

impl Book {
    /// The puzzle of which the text of a preface or a part speaks that stands in this section, and the section of the
    /// puzzle: the next one behind it; at the end of a file, the last one.
    pub fn spoken_of(&self, section: usize) -> Option<(usize, &Puzzle)> {
        let (before, behind) = self.meanings.split_at(section);
        let next = (section..).zip(behind).find_map(|(at, meaning)| Some((at, meaning.puzzles().next()?)));
        let last = || {
            let mut back = before.iter().enumerate().rev();
            back.find_map(|(at, meaning)| Some((at, meaning.puzzles().last()?)))
        };
        next.or_else(last)
    }
}
