//! Which of many puzzles are the same as an earlier one.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::{Budget, Transformation, canonical};
use crate::board::{Grid, Layout};

/// What many puzzles have in common.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Repeats {
    /// Each puzzle that is the same as an earlier one, in the order in which they were given.
    pub repeats: Vec<Repeat>,
    /// The numbers of the puzzles for which the budget did not suffice, in the same order.
    pub undecided: Vec<usize>,
}

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

/// Compares puzzles with each other; each may take as much as the budget allows.
///
/// # Panics
/// If a grid is not of its layout's size.
pub fn repeats<'a>(puzzles: impl IntoIterator<Item = (&'a Layout, &'a Grid)>, budget: Budget) -> Repeats {
    let mut firsts = HashMap::new();
    let mut found = Repeats::default();
    for (puzzle, (layout, givens)) in puzzles.into_iter().enumerate() {
        let Ok(canonical) = canonical(layout, givens, budget) else {
            found.undecided.push(puzzle);
            continue;
        };
        match firsts.entry(canonical.form.clone()) {
            Entry::Vacant(place) => _ = place.insert((puzzle, canonical)),
            Entry::Occupied(place) => {
                let (first, its) = place.get();
                found.repeats.extend(its.to(&canonical).map(|how| Repeat { puzzle, first: *first, how }));
            }
        }
    }
    found
}
