//! What follows from cells that would hold two digits each in two ways.

use super::{Deadly, claims, sets, ties};
use crate::board::{Cell, Digit, DigitSet};
use crate::proof;
use crate::reason::nearest::Offers;
use crate::step::{Base, Claim, Deduction, Position};

/// A step that may follow: what it strikes, and by what beside the swap.
pub(super) struct Idea<'a> {
    pub(super) deadly: &'a Deadly,
    pub(super) struck: Vec<(Cell, Digit)>,
    pub(super) beside: Vec<Base>,
}

/// Offers the steps that read least, of all that follow from these.
pub(super) fn offer_all(all: &[Deadly], position: &Position, offers: &mut impl Offers<Deduction>) {
    if offer_at_once(all, position, offers) {
        return;
    }
    let mut ideas: Vec<Idea> = Vec::new();
    for deadly in all {
        ties::find(deadly, position, &mut ideas);
        sets::find(deadly, position, &mut ideas);
    }
    ideas.sort_by_key(|idea| idea.beside.len());
    for alike in ideas.chunk_by_mut(|a, b| a.beside.len() == b.beside.len()) {
        let mut found = false;
        offers.sort(alike, Idea::about);
        for idea in alike {
            let (cell, digits) = idea.about();
            offers.offer_if(cell, digits, || {
                let step = idea.step(position);
                found |= step.is_some();
                step
            });
        }
        if found {
            return;
        }
    }
}

/// Offers what follows with nothing read beside the swap; tells whether there is any.
pub(super) fn offer_at_once(
    all: &[Deadly],
    position: &Position,
    offers: &mut impl Offers<Deduction>,
) -> bool {
    let mut found = false;
    for (deadly, claims) in all.iter().map(|deadly| (deadly, at_once(deadly, position))) {
        if let Some(about) = claims.iter().find_map(|claim| claim.cells().iter().next()) {
            found = true;
            let digits = claims.iter().fold(DigitSet::EMPTY, |all, claim| all | claim.digits());
            offers
                .offer(about, digits, || Deduction::with_marks(deadly.pattern, [], claims, [deadly.base()]));
        }
    }
    found
}

/// What no further candidate leaves room for: they are all in one cell, which holds no other; or all of one digit, which
/// a cell that sees them all does not hold; or they are all of one digit but those of a cell, which does not hold that
/// digit if it sees the others.
fn at_once(deadly: &Deadly, position: &Position) -> Vec<Claim> {
    let (open, further) = (deadly.open(), deadly.further());
    match (open.as_slice(), further.only()) {
        (&[cell], Some(_)) => vec![Claim::Is { cells: [cell].into_iter().collect(), digits: further }],
        (&[cell], None) => {
            let digits = position.candidates(cell) - further;
            vec![Claim::IsNot { cells: [cell].into_iter().collect(), digits }]
        }
        (_, Some(digit)) => {
            let seeing = position.layout().common_peers(deadly.cells_with(digit));
            let struck = seeing.iter().filter(|&cell| position.candidates(cell).contains(digit));
            claims(&struck.map(|cell| (cell, digit)).collect::<Vec<_>>())
        }
        (_, None) => {
            let crossed = open.iter().filter_map(|&cell| {
                let elsewhere = || deadly.extras.iter().filter(|(other, _)| *other != cell);
                let digit = elsewhere().map(|(_, digit)| *digit).collect::<DigitSet>().only()?;
                let sees_all = elsewhere().all(|(other, _)| position.layout().sees(cell, *other));
                let is_out = sees_all && position.candidates(cell).contains(digit);
                (is_out && !deadly.extras.contains(&(cell, digit))).then_some((cell, digit))
            });
            claims(&crossed.collect::<Vec<_>>())
        }
    }
}

impl Idea<'_> {
    /// The first cell that it strikes something from, and the digits that it strikes.
    fn about(&self) -> (Cell, DigitSet) {
        (self.struck[0].0, self.struck.iter().map(|(_, digit)| *digit).collect())
    }

    /// The step, if it is proved; what it can do without is left out.
    fn step(&self, position: &Position) -> Option<Deduction> {
        let bases = std::iter::once(self.deadly.base()).chain(self.beside.iter().cloned());
        let step = Deduction::with_marks(self.deadly.pattern, [], claims(&self.struck), bases);
        proof::with_marks(position, &step).ok()?;
        let mut step = proof::spared(position, step);
        step.premise()?;
        let houses = step.bases.iter().filter_map(|base| match *base {
            Base::Place(house, _) => Some(house),
            Base::Cell(_) | Base::Swap(_) => None,
        });
        step.houses = houses.collect();
        step.houses.dedup();
        Some(step)
    }
}
