//! Which of many puzzles are the same as an earlier one.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::{Canonical, Form, Transformation};

/// A puzzle that is the same as an earlier one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// Its number among those given, from 0.
    pub puzzle: usize,
    /// The number of the first puzzle that is the same.
    pub first: usize,
    /// What carries the first one to this one.
    pub how: Transformation,
}

/// Of puzzles with these forms, those that are the same as an earlier one, in the order in which they are given.
pub fn repeats<'a>(puzzles: impl IntoIterator<Item = &'a Canonical>) -> Vec<Repeat> {
    let puzzles = puzzles.into_iter();
    let mut firsts: HashMap<&Form, (usize, &Canonical)> = HashMap::with_capacity(puzzles.size_hint().0);
    let mut repeats = Vec::new();
    for (puzzle, canonical) in puzzles.enumerate() {
        match firsts.entry(&canonical.form) {
            Entry::Vacant(place) => _ = place.insert((puzzle, canonical)),
            Entry::Occupied(place) => {
                let (first, its) = *place.get();
                repeats.extend(its.to(canonical).map(|how| Repeat { puzzle, first, how }));
            }
        }
    }
    repeats
}
