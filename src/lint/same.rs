//! Puzzles that are the same in another dress.

use crate::book::{Puzzle, SectionId, Workspace};
use crate::sameness::{Canonical, Transformation, Undecided, repeats, turn};
use rayon::prelude::*;

/// A puzzle with exactly one solution, and by what it is compared.
pub(super) struct Compared<'a> {
    pub section: SectionId,
    pub puzzle: &'a Puzzle,
    pub form: Result<&'a Canonical, Undecided>,
}

/// The puzzles of a workspace that are compared with each other, in order.
pub(super) fn compared(workspace: &Workspace) -> Vec<Compared<'_>> {
    let puzzles: Vec<_> = workspace.puzzles().collect();
    let compared = puzzles
        .par_iter()
        .filter_map(|&(section, _, puzzle)| puzzle.form().map(|form| Compared { section, puzzle, form }));
    compared.collect()
}

/// A puzzle that is the same as an earlier one.
pub(super) struct Again<'a> {
    pub section: SectionId,
    pub puzzle: &'a Puzzle,
    /// The earlier one: the first that is the same.
    pub first: (SectionId, &'a Puzzle),
    /// What carries that to this.
    pub how: Transformation,
}

/// The puzzles of a workspace that are the same as an earlier one, in order.
pub(super) fn again(workspace: &Workspace) -> Vec<Again<'_>> {
    let mut compared = compared(workspace);
    compared.retain(|one| one.form.is_ok());
    let repeats = repeats(compared.iter().filter_map(|one| one.form.ok()));
    let again = repeats.into_iter().map(|repeat| {
        let (own, first) = (&compared[repeat.puzzle], &compared[repeat.first]);
        Again {
            section: own.section,
            puzzle: own.puzzle,
            first: (first.section, first.puzzle),
            how: plain_turn(first.puzzle, own.puzzle).unwrap_or(repeat.how),
        }
    });
    again.collect()
}

/// What carries one puzzle to another, if a turn of the whole does.
fn plain_turn(from: &Puzzle, to: &Puzzle) -> Option<Transformation> {
    turn(
        (from.layout.as_ref()?, &from.givens.as_ref()?.grid),
        (to.layout.as_ref()?, &to.givens.as_ref()?.grid),
    )
}

/// What people call a puzzle: by its id, as far as it has one.
pub(super) fn called(puzzle: &Puzzle) -> String {
    puzzle.id.as_ref().map_or_else(
        || "a puzzle without an id".to_owned(),
        |id| format!("`{}`", super::wording::shown(&id.text)),
    )
}
