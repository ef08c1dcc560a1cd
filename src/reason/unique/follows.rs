//! What follows from cells that would hold two digits each in two ways.

use super::{Deadly, claims, sets, ties};
use crate::board::{Cell, Digit, DigitSet};
use crate::proof;
use crate::reason::nearest::Offers;
use crate::step::{Base, Claim, Deduction, Position};

/// Offers the steps that read least, of all that follow from these.
pub(super) fn offer_all(all: &[Deadly], position: &Position, offers: &mut impl Offers<Deduction>) {
    let mut steps: Vec<Deduction> = all.iter().filter_map(|deadly| at_once(deadly, position)).collect();
    if steps.is_empty() {
        for deadly in all {
            steps.extend(ties::find(deadly, position));
            steps.extend(sets::find(deadly, position));
        }
    }
    let least = steps.iter().map(|step| step.bases.len()).min();
    for step in steps.into_iter().filter(|step| Some(step.bases.len()) == least) {
        if let Some(about) = step.claims.iter().find_map(|claim| claim.cells().iter().next()) {
            offers.offer(about, step.digits(), || step);
        }
    }
}

/// What no further candidate leaves room for: they are all in one cell, which holds no other, or all of one digit, which
/// a cell that sees them all does not hold.
pub(super) fn at_once(deadly: &Deadly, position: &Position) -> Option<Deduction> {
    let (open, further) = (deadly.open(), deadly.further());
    let claims = match (open[..].as_ref(), further.only()) {
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
        (_, None) => Vec::new(),
    };
    let step = || Deduction::with_marks(deadly.pattern, Vec::new(), claims.clone(), vec![deadly.base()]);
    (!claims.is_empty()).then(step)
}

/// A step that strikes these candidates by these bases, of which those are left out that it can do without; `None` if the
/// bases do not give it.
pub(super) fn step_by(
    deadly: &Deadly,
    struck: &[(Cell, Digit)],
    bases: Vec<Base>,
    position: &Position,
) -> Option<Deduction> {
    let mut step = Deduction::with_marks(deadly.pattern, Vec::new(), claims(struck), bases);
    proof::with_marks(position, &step).ok()?;
    while let Some(spare) = proof::superfluous(position, &step).pop() {
        step.bases.retain(|base| *base != spare);
    }
    let houses = step.bases.iter().filter_map(|base| match *base {
        Base::Place(house, _) => Some(house),
        Base::Cell(_) | Base::Swap(_) => None,
    });
    step.houses = houses.collect();
    step.houses.dedup();
    Some(step)
}

/// The digits of a deadly cell beside the further candidates.
pub(super) fn pair(deadly: &Deadly, cell: Cell, position: &Position) -> DigitSet {
    let further = deadly.extras.iter().filter(|(at, _)| *at == cell).map(|(_, digit)| *digit);
    position.candidates(cell) - further.collect()
}
