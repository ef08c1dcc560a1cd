//! Which one given, written otherwise, would leave a puzzle with exactly one solution.

use super::{Draft, PuzzleScene};
use crate::board::{Cell, Digit, Grid, Layout};
use crate::book::Board;
use crate::solve::{self, Budget};

/// More proposals than this help nobody to find the slip.
const MOST: usize = 3;

/// How far is searched: enough for a 9x9 grid, and a fraction of a second at any size.
const SEARCHED: Budget = Budget { nodes: 5_000 };

/// The given of a cell that looks like a slip of the pen, and the digit that would mend it.
struct Slip {
    cell: Cell,
    now: Digit,
    meant: Digit,
}

/// The givens of `among` that are such slips, the first few of them: without one there is exactly one solution, which
/// shows what it would have to be. What [`SEARCHED`] does not reach is not among them.
fn slips(layout: &Layout, givens: &Grid, among: &[Cell]) -> Vec<Slip> {
    let mut budget = SEARCHED;
    let mut slips = Vec::new();
    for &cell in among {
        let Some(now) = givens[cell] else { continue };
        let mut without = givens.clone();
        without.set(cell, None);
        if !without.clashes(layout).is_empty() {
            continue;
        }
        let outcome = solve::count(layout, &without, 2, budget);
        budget.nodes = budget.nodes.saturating_sub(outcome.nodes);
        let only = outcome.first.filter(|_| outcome.count == 1 && outcome.stopped.is_none());
        if let Some(meant) = only.and_then(|solution| solution[cell]).filter(|meant| *meant != now) {
            slips.push(Slip { cell, now, meant });
        }
        if slips.len() == MOST {
            break;
        }
    }
    slips
}

impl PuzzleScene<'_> {
    /// The draft with a change to propose for each given of `among` that looks like a slip of the pen, if there is effort
    /// enough: the puzzle is searched without each of them.
    pub(super) fn with_slips(
        &self,
        mut draft: Draft,
        layout: &Layout,
        givens: &Board,
        among: &[Cell],
    ) -> Draft {
        if !self.takes_its_time() {
            return draft;
        }
        for Slip { cell, now, meant } in slips(layout, &givens.grid, among) {
            let title = format!("write {meant} instead of {now} in {cell}: that leaves exactly one solution");
            draft = draft.propose(title, vec![self.write(givens, cell, meant)]);
        }
        draft
    }
}
