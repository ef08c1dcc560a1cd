//! Puzzles that are the same in another dress.

use super::check::MANY;
use crate::book::{Puzzle, SectionId, Workspace};
use crate::sameness::{Formed, Transformation, how, repeats};
use rayon::prelude::*;

/// A puzzle that is compared with others: it has exactly one solution, and its form is known.
pub(super) struct Compared<'a> {
    pub section: SectionId,
    pub puzzle: &'a Puzzle,
    pub form: Formed<'a>,
}

/// The puzzles of a workspace that are compared with each other, in order.
pub(super) fn compared(workspace: &Workspace) -> Vec<Compared<'_>> {
    let puzzles: Vec<_> = workspace.puzzles().collect();
    if puzzles.len() < MANY {
        puzzles.into_iter().filter_map(with_form).collect()
    } else {
        puzzles.into_par_iter().filter_map(with_form).collect()
    }
}

fn with_form((section, _, puzzle): (SectionId, usize, &Puzzle)) -> Option<Compared<'_>> {
    Some(Compared { section, puzzle, form: puzzle.form()?.ok()? })
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
    let compared = compared(workspace);
    let repeats = repeats(compared.iter().map(|one| one.form.2));
    let again = repeats.into_iter().filter_map(|repeat| {
        let (own, first) = (&compared[repeat.puzzle], &compared[repeat.first]);
        Some(Again {
            section: own.section,
            puzzle: own.puzzle,
            first: (first.section, first.puzzle),
            how: how(first.form, own.form)?,
        })
    });
    again.collect()
}

/// What people call a puzzle: by its id, as far as it has one.
pub(super) fn called(puzzle: &Puzzle) -> String {
    puzzle.id.as_ref().map_or_else(
        || "a puzzle without an id".to_owned(),
        |id| format!("`{}`", super::wording::shown(&id.text)),
    )
}
