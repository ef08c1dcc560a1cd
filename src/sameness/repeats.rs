//! Which of many puzzles are the same as an earlier one.

use std::collections::HashMap;

use super::Form;

/// A puzzle that is the same as an earlier one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// Its number among those given, from 0.
    pub puzzle: usize,
    /// The number of the first puzzle that is the same.
    pub first: usize,
}

/// Of puzzles with these forms, those that are the same as an earlier one, in the order in which they are given. What
/// carries one to the other is told by [`how`](super::how()).
pub fn repeats<'a>(forms: impl IntoIterator<Item = &'a Form>) -> Vec<Repeat> {
    let forms = forms.into_iter();
    let mut firsts: HashMap<&Form, usize> = HashMap::with_capacity(forms.size_hint().0);
    let again = forms.enumerate().filter_map(|(puzzle, form)| {
        let first = *firsts.entry(form).or_insert(puzzle);
        (first < puzzle).then_some(Repeat { puzzle, first })
    });
    again.collect()
}
