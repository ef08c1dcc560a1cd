//! What becomes of the steps that a pattern gives: all are kept, or the one nearest to the step before.

use crate::board::{Cell, DigitSet};
use crate::step::{Deduction, Position};

/// Where the reader's eyes are: what the last step was about.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Focus {
    /// A cell of the last step.
    pub cell: Cell,
    /// Its digits.
    pub digits: DigitSet,
}

impl Focus {
    /// The focus that a step leaves.
    pub fn of(step: &Deduction) -> Option<Focus> {
        let cell = step.claims.iter().find_map(|claim| claim.cells().iter().next())?;
        Some(Focus { cell, digits: step.digits() })
    }
}

/// Takes the steps that a finder comes upon, or what it takes to make them.
pub(super) trait Offers<T> {
    /// Offers a step about this cell and these digits; it need not be made if it is not wanted.
    fn offer(&mut self, cell: Cell, digits: DigitSet, make: impl FnOnce() -> T);
}

/// Keeps every step.
impl<T> Offers<T> for Vec<T> {
    fn offer(&mut self, _: Cell, _: DigitSet, make: impl FnOnce() -> T) {
        self.push(make());
    }
}

/// Keeps the nearest of the steps that are offered; of equally near ones the first.
pub(super) struct Nearest<'a, T> {
    position: &'a Position,
    focus: Option<&'a Focus>,
    best: Option<(u32, T)>,
}

impl<'a, T> Nearest<'a, T> {
    pub(super) fn new(position: &'a Position, focus: Option<&'a Focus>) -> Nearest<'a, T> {
        Nearest { position, focus, best: None }
    }

    pub(super) fn into_best(self) -> Option<T> {
        self.best.map(|(_, step)| step)
    }

    /// The same digit before another, the same house before another, then by rows and columns between.
    fn distance(&self, cell: Cell, digits: DigitSet) -> u32 {
        let Some(focus) = self.focus else { return 0 };
        let apart = focus.cell.row().abs_diff(cell.row()) + focus.cell.col().abs_diff(cell.col());
        let other_digit = (focus.digits & digits).is_empty();
        let out_of_sight = focus.cell != cell && !self.position.layout().sees(focus.cell, cell);
        u32::from(other_digit) << 9 | u32::from(out_of_sight) << 8 | u32::from(apart)
    }
}

impl<T> Offers<T> for Nearest<'_, T> {
    fn offer(&mut self, cell: Cell, digits: DigitSet, make: impl FnOnce() -> T) {
        let distance = self.distance(cell, digits);
        if self.best.as_ref().is_none_or(|(least, _)| distance < *least) {
            self.best = Some((distance, make()));
        }
    }
}
