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

use super::wording::counted;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Grid};
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

/// A way to carry a cell to its counterpart; the last number of a row or column comes first.
type Move = fn(Cell, u8) -> Cell;

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| &facts.symmetry)?;
    let there = present(&givens.grid);
    let broken = broken(fact.value, &givens.grid);
    let message = match broken.first() {
        Some((cell, counterpart)) => {
            let more = match broken.len() - 1 {
                0 => String::new(),
                more => format!(
                    "; {} {} too",
                    counted(more, "more pair"),
                    if more == 1 { "differs" } else { "differ" }
                ),
            };
            let instead =
                there.map_or(String::new(), |other| format!("; the symmetry here is {}", other.word()));
            format!("{cell} is given and {counterpart}, its counterpart, is not{more}{instead}")
        }
        None => {
            let other = there.filter(|_| fact.value == Symmetry::None)?;
            format!("the givens do have a symmetry, {}", other.word())
        }
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

/// The givens whose counterpart is empty, with the counterpart; for the diagonals, in the one that fits better.
fn broken(symmetry: Symmetry, grid: &Grid) -> Vec<(Cell, Cell)> {
    let last = grid.size().side() - 1;
    let breaks = |carry: &Move| -> Vec<(Cell, Cell)> {
        let pairs = grid.digits().map(|(cell, _)| (cell, carry(cell, last)));
        pairs.filter(|(_, counterpart)| grid[*counterpart].is_none()).collect()
    };
    moves(symmetry).iter().map(breaks).min_by_key(Vec::len).unwrap_or_default()
}

/// What `symmetry` may mean: one move, or either of two.
fn moves(symmetry: Symmetry) -> &'static [Move] {
    match symmetry {
        Symmetry::HalfTurn => &[|cell, last| Cell::new(last - cell.row(), last - cell.col())],
        Symmetry::QuarterTurn => &[|cell, last| Cell::new(cell.col(), last - cell.row())],
        Symmetry::MirrorAcross => &[|cell, last| Cell::new(cell.row(), last - cell.col())],
        Symmetry::MirrorDown => &[|cell, last| Cell::new(last - cell.row(), cell.col())],
        Symmetry::MirrorDiagonal => &[
            |cell, _| Cell::new(cell.col(), cell.row()),
            |cell, last| Cell::new(last - cell.col(), last - cell.row()),
        ],
        Symmetry::None => &[],
    }
}

/// The symmetry that the givens have; of several, the first of this order.
fn present(grid: &Grid) -> Option<Symmetry> {
    use Symmetry::{HalfTurn, MirrorAcross, MirrorDiagonal, MirrorDown, QuarterTurn};
    let all = [QuarterTurn, HalfTurn, MirrorAcross, MirrorDown, MirrorDiagonal];
    all.into_iter().find(|symmetry| broken(*symmetry, grid).is_empty())
}
