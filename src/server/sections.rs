//! Some sections of a text, which move with its changes.

use crate::book::Touched;
use std::ops::Range;

/// Some sections of a text, rising.
#[derive(Default)]
pub struct Sections(Vec<usize>);

impl Sections {
    /// These.
    pub fn all(sections: Range<usize>) -> Sections {
        Sections(sections.collect())
    }

    /// The first of them, and so on.
    pub fn iter(&self) -> impl Iterator<Item = usize> {
        self.0.iter().copied()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Takes a section up, or leaves it out.
    pub fn set(&mut self, section: usize, is_one: bool) {
        match (self.0.binary_search(&section), is_one) {
            (Ok(at), false) => _ = self.0.remove(at),
            (Err(at), true) => self.0.insert(at, section),
            _ => {}
        }
    }

    /// Sections came in the place of others; `are_ones`: all that came are taken up, and otherwise none.
    pub fn edit(&mut self, touched: &Touched, are_ones: bool) {
        let from = |section: usize| self.0.partition_point(|at| *at < section);
        let (first, end) = (from(touched.old.start), from(touched.old.end));
        for section in &mut self.0[end..] {
            *section = *section + touched.new.len() - touched.old.len();
        }
        let new = if are_ones { touched.new.clone() } else { 0..0 };
        self.0.splice(first..end, new);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn those_behind_a_change_move_with_it() {
        let mut some = Sections::all(0..6);
        some.set(1, false);
        some.set(4, false);
        some.set(4, false);
        let edit = |some: &mut Sections, old, new, are_ones| {
            some.edit(&Touched { old, new, parts_moved: false }, are_ones);
            some.iter().collect::<Vec<_>>()
        };
        assert_eq!(edit(&mut some, 2..4, 2..5, false), [0, 6]);
        assert_eq!(edit(&mut some, 0..1, 0..3, true), [0, 1, 2, 8]);
        assert_eq!(edit(&mut some, 1..8, 1..2, true), [0, 1, 2]);
        some.set(1, true);
        some.set(0, false);
        assert_eq!(edit(&mut some, 1..3, 1..1, false), [0; 0]);
        assert!(some.is_empty());
    }
}
