//! A puzzle without the givens that it does not need.

use super::Change;
use super::dress::{self, Tied};
use crate::board::Cell;
use crate::book::{Puzzle, Verdict};
use crate::notation::{Keyword, Section};
use crate::solve::{Budget, spare_together};

/// Takes out as many givens as can go together with one solution left, in reading order. Where the puzzle says which
/// symmetry its givens have, and they have it, counterparts go together or not at all. The number of givens that it says
/// is mended. Nothing, where none can go.
///
/// # Errors
/// Why it has to stay as it is, or that it has not exactly one solution.
pub fn make_minimal(section: &Section, puzzle: &Puzzle) -> Result<Vec<Change>, Tied> {
    let (Verdict::One(_), Some(layout), Some(givens)) = (puzzle.verdict(), &puzzle.layout, &puzzle.givens)
    else {
        return Err(Tied::Unread);
    };
    if let Some(fixed) = dress::fixed(section, puzzle) {
        return Err(Tied::Fixed(fixed));
    }
    let symmetry = puzzle.facts.symmetry.as_ref().map(|fact| fact.value);
    let mut sets: Vec<Vec<Cell>> = symmetry.map_or_else(Vec::new, |it| it.counterparts(&givens.grid));
    if sets.is_empty() {
        sets = givens.grid.digits().map(|(cell, _)| vec![cell]).collect();
    }
    let (gone, left) = spare_together(layout, &givens.grid, sets.into_iter(), Budget::default());
    let mut changes: Vec<Change> =
        gone.iter().map(|&cell| Change { span: givens.place(section, cell), text: ".".to_owned() }).collect();
    let clues = puzzle.facts.clues.as_ref().filter(|fact| fact.own && !gone.is_empty());
    let holds = |(least, most): (u16, u16)| (usize::from(least)..=usize::from(most)).contains(&left.filled());
    if clues.is_some_and(|fact| !holds(fact.value))
        && let Some((_, said)) = puzzle.blocks(section, Keyword::Clues).next()
        && let (Some(first), Some(last)) = (said.values.first(), said.values.last())
    {
        changes.push(Change { span: first.span.to(last.span), text: left.filled().to_string() });
    }
    changes.sort_by_key(|change| change.span);
    Ok(changes)
}
