//! What becomes of the steps that a pattern gives: all are kept, or the one nearest to the step before.

use crate::board::{Cell, CellSet, DigitSet};
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
        let cell = step.claims.iter().find_map(|claim| claim.cells().first())?;
        Some(Focus { cell, digits: step.digits() })
    }

    /// How far a step about this cell and these digits is, where the focus has these peers: the same digit comes before
    /// another, the same house before another, then the fewest rows and columns between.
    pub(super) fn distance(self, peers: &CellSet, cell: Cell, digits: DigitSet) -> Distance {
        let out_of_sight = self.cell != cell && !peers.contains(cell);
        let apart = self.cell.row().abs_diff(cell.row()) + self.cell.col().abs_diff(cell.col());
        ((self.digits & digits).is_empty(), out_of_sight, apart)
    }
}

/// How far a step is from the focus: whether it is about other digits, whether its cell is out of sight, and by how many
/// rows and columns it is apart.
type Distance = (bool, bool, u8);

/// Takes the steps that a finder comes upon, or what it takes to make them.
pub(super) trait Offers<T> {
    /// Offers a step about this cell and these digits; it need not be made if it is not wanted.
    fn offer(&mut self, cell: Cell, digits: DigitSet, make: impl FnOnce() -> T) {
        self.offer_if(cell, digits, || Some(make()));
    }

    /// The same, where only making it shows whether there is a step.
    fn offer_if(&mut self, cell: Cell, digits: DigitSet, make: impl FnOnce() -> Option<T>);

    /// Whether every step is wanted, not only the best.
    fn takes_all(&self) -> bool;

    /// Puts ideas, of each of which can be told what its step is about, in the order in which they are best offered: then
    /// few steps are made in vain.
    fn sort<I>(&self, ideas: &mut [I], about: impl Fn(&I) -> (Cell, DigitSet));
}

/// Keeps every step.
impl<T> Offers<T> for Vec<T> {
    fn offer_if(&mut self, _: Cell, _: DigitSet, make: impl FnOnce() -> Option<T>) {
        self.extend(make());
    }

    fn takes_all(&self) -> bool {
        true
    }

    fn sort<I>(&self, _: &mut [I], _: impl Fn(&I) -> (Cell, DigitSet)) {}
}

/// Keeps the nearest of the steps that are offered; of equally near ones the first.
pub(super) struct Nearest<'a, T> {
    /// With the cells that see its cell.
    focus: Option<(Focus, &'a CellSet)>,
    best: Option<(u16, T)>,
}

impl<'a, T> Nearest<'a, T> {
    pub(super) fn new(position: &'a Position, focus: Option<&'a Focus>) -> Nearest<'a, T> {
        let peers = |focus: &Focus| (*focus, position.layout().peers(focus.cell));
        Nearest { focus: focus.map(peers), best: None }
    }

    /// The distance as one number, since it is compared so often.
    fn distance(&self, cell: Cell, digits: DigitSet) -> u16 {
        let Some((focus, peers)) = self.focus else { return 0 };
        let (other_digits, out_of_sight, apart) = focus.distance(peers, cell, digits);
        u16::from(other_digits) << 9 | u16::from(out_of_sight) << 8 | u16::from(apart)
    }

    pub(super) fn into_best(self) -> Option<T> {
        self.best.map(|(_, step)| step)
    }
}

impl<T> Offers<T> for Nearest<'_, T> {
    fn offer_if(&mut self, cell: Cell, digits: DigitSet, make: impl FnOnce() -> Option<T>) {
        let distance = self.distance(cell, digits);
        if self.best.as_ref().is_none_or(|(least, _)| distance < *least)
            && let Some(step) = make()
        {
            self.best = Some((distance, step));
        }
    }

    fn takes_all(&self) -> bool {
        false
    }

    fn sort<I>(&self, ideas: &mut [I], about: impl Fn(&I) -> (Cell, DigitSet)) {
        ideas.sort_by_cached_key(|idea| {
            let (cell, digits) = about(idea);
            self.distance(cell, digits)
        });
    }
}
