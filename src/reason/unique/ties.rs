//! Where a cell of a rectangle or a loop held one of the two digits, the others would follow, so that none of the further
//! candidates were left: houses that have one of the digits only in these cells see to that.

use super::follows::{pair, step_by};
use super::Deadly;
use crate::board::{Cell, Digit, DigitSet};
use crate::step::{Base, Deduction, Position};

/// The steps that strike one of the two digits from a cell; those that read the same are one.
pub(super) fn find(deadly: &Deadly, position: &Position) -> Vec<Deduction> {
    let mut found: Vec<(Vec<Base>, Vec<(Cell, Digit)>)> = Vec::new();
    for &cell in &deadly.cells {
        for digit in pair(deadly, cell, position).iter() {
            let Some(bases) = refute(deadly, (cell, digit), position) else { continue };
            let Some(step) = step_by(deadly, &[(cell, digit)], bases, position) else { continue };
            match found.iter_mut().find(|(bases, _)| *bases == step.bases) {
                Some((_, struck)) => struck.push((cell, digit)),
                None => found.push((step.bases, vec![(cell, digit)])),
            }
        }
    }
    found.into_iter().filter_map(|(bases, struck)| step_by(deadly, &struck, bases, position)).collect()
}

/// What it reads that with this digit in this cell no further candidate is left; `None` if some are.
fn refute(deadly: &Deadly, supposed: (Cell, Digit), position: &Position) -> Option<Vec<Base>> {
    let mut bases = vec![deadly.base()];
    let mut follows = vec![supposed];
    let mut looked_at = 0;
    while let Some(&true_one) = follows.get(looked_at) {
        looked_at += 1;
        for &cell in &deadly.cells {
            if follows.iter().any(|(known, _)| *known == cell) {
                continue;
            }
            if let Some((digit, base)) = forced(deadly, cell, true_one, &follows, position) {
                follows.push((cell, digit));
                bases.push(base);
            }
        }
    }
    let is_out = |&(cell, digit): &(Cell, Digit)| {
        let conflicts = |&(at, other): &(Cell, Digit)| {
            if at == cell { other != digit } else { other == digit && position.layout().sees(at, cell) }
        };
        follows.iter().any(conflicts)
    };
    deadly.extras.iter().all(is_out).then_some(bases)
}

/// Which of its two digits a cell must hold after `last`, and what says so: it has no other candidate, or a house has no
/// other place for the digit.
fn forced(
    deadly: &Deadly,
    cell: Cell,
    last: (Cell, Digit),
    follows: &[(Cell, Digit)],
    position: &Position,
) -> Option<(Digit, Base)> {
    let layout = position.layout();
    let own = pair(deadly, cell, position);
    if layout.sees(cell, last.0)
        && own.contains(last.1)
        && position.candidates(cell) == own
        && let Some(other) = (own - DigitSet::single(last.1)).only()
    {
        return Some((other, Base::Cell(cell)));
    }
    for digit in own.iter() {
        let is_out = |place: Cell| {
            follows.iter().any(|&(at, other)| {
                if at == place { other != digit } else { other == digit && layout.sees(at, place) }
            })
        };
        for slot in layout.slots(cell) {
            let places = position.cells(slot.house, digit);
            if places.len() > 1 && !is_out(cell) && places.iter().all(|place| place == cell || is_out(place)) {
                return Some((digit, Base::Place(slot.house, digit)));
            }
        }
    }
    None
}
