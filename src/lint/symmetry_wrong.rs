//! The givens do not have the symmetry that the puzzle says.
//!
//! ## Why
//! `symmetry half-turn` says that the cells with givens fall on each other when the page is turned upside down, and so
//! on for the other words; `none` says that they have no symmetry of this kind at all. The message names a cell that
//! breaks it, and the symmetry that is there, if any.
//!
//! ## Found
//! ```gset
//! puzzle ht-11 "Lopsided"
//! size       4
//! symmetry   mirror-down
//! #<^^^^^^^^^^^^^^^^^^^^ symmetry-wrong: r1c1 is given and r4c1, its counterpart, is not; 3 more pairs differ too
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-11 "Lopsided"
//! size       4
//! symmetry   half-turn
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! ```

use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::Grid;
use crate::book::Symmetry;
use crate::notation::Keyword;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "symmetry-wrong",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("symmetry_wrong.rs"),
};

/// So many broken pairs are shown: enough to see what is off.
const MOST_PAIRS: usize = 4;

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| facts.symmetry.as_ref())?;
    let there = present(&givens.grid);
    let broken = fact.value.broken(&givens.grid);
    let message = if let Some((cell, counterpart)) = broken.first() {
        let more = match broken.len() - 1 {
            0 => String::new(),
            1 => "; 1 more pair differs too".to_owned(),
            more => format!("; {more} more pairs differ too"),
        };
        let instead = there.map_or(String::new(), |other| format!("; the symmetry here is {}", other.word()));
        format!("{cell} is given and {counterpart}, its counterpart, is not{more}{instead}")
    } else {
        let other = there.filter(|_| fact.value == Symmetry::None)?;
        format!("the givens do have a symmetry, {}", other.word())
    };
    let help = "move, add or take out givens, or change what is said";
    let mut draft = Draft::new(scene.claim_span(fact), message, help);
    for &(cell, counterpart) in broken.iter().take(MOST_PAIRS) {
        draft = draft.beside(scene.cell(givens, cell), format!("{cell} has no counterpart in {counterpart}"));
    }
    Some(match (there, scene.claim_value(fact, Keyword::Symmetry)) {
        (Some(other), Some(value)) => draft
            .propose(format!("write `symmetry {}`", other.word()), vec![(value, other.word().to_owned())]),
        _ => draft,
    })
}

/// The symmetry that the givens have; of several, the first of this order.
fn present(grid: &Grid) -> Option<Symmetry> {
    use Symmetry::{HalfTurn, MirrorAcross, MirrorDiagonal, MirrorDown, QuarterTurn};
    let all = [QuarterTurn, HalfTurn, MirrorAcross, MirrorDown, MirrorDiagonal];
    all.into_iter().find(|symmetry| symmetry.broken(grid).is_empty())
}
