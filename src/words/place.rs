//! Where to look.

use super::tell::Teller;
use crate::board::{CellSet, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, Claim};

impl Teller<'_> {
    /// Where to look, and no more.
    pub(super) fn place(&self) -> Vec<String> {
        let tongue = self.tongue;
        if self.is_further() {
            return self.place_further();
        }
        if self.is_settling() {
            let placed: CellSet =
                self.step.claims.iter().fold(CellSet::EMPTY, |all, claim| all | claim.cells());
            let resolves = |claim: &&Claim| placed.is_subset(&claim.cells());
            let resolved = self.recalled().filter(resolves);
            let cells = resolved.fold(CellSet::EMPTY, |cells, claim| cells | claim.cells());
            if !cells.is_empty() {
                return self.about(cells, |cells| tongue.look_at_remembered(cells));
            }
        }
        let Some(house) = self.house() else {
            let cells = self.step.claims.iter().fold(CellSet::EMPTY, |cells, claim| cells | claim.cells());
            return vec![tongue.look_at_cells(cells, false)];
        };
        let sentence = match self.step.pattern {
            _ if self.is_third_line() => tongue.look_at(&self.names(&self.boxes())),
            Pattern::NakedSingle | Pattern::NakedSet(_) if self.scans() => {
                tongue.look_at_missing(self.name(house))
            }
            Pattern::LockedCandidates if !self.scans() && self.step.houses.len() > 1 => {
                tongue.look_at_meeting(self.name(house), self.name(self.step.houses[1]))
            }
            Pattern::Fish(_) => tongue.look_at(&self.names(&self.lines_read())),
            Pattern::LastOpenCell | Pattern::NakedSingle | Pattern::NakedSet(_) => {
                tongue.look_at(&[self.name(house)])
            }
            _ if self.scans() => tongue.look_for(self.step.digits(), self.name(house)),
            _ => tongue.look_at(&[self.name(house)]),
        };
        vec![sentence]
    }

    /// The boxes of a band in which a third line is seen, in the layout's order.
    pub(super) fn boxes(&self) -> Vec<HouseId> {
        let mut boxes: Vec<HouseId> = self.step.houses.iter().copied().take(3).collect();
        boxes.sort_unstable();
        boxes
    }

    /// The houses in which a digit's places are read.
    pub(super) fn lines_read(&self) -> Vec<HouseId> {
        let houses = self.step.bases.iter().filter_map(|base| match base {
            Base::Place(house, _) => Some(*house),
            Base::Cell(_) | Base::Swap(_) => None,
        });
        houses.collect()
    }

    /// The houses of which the claims speak.
    pub(super) fn lines_claimed(&self) -> Vec<HouseId> {
        let houses = self.step.claims.iter().filter_map(|claim| match claim {
            Claim::Within { house, .. } => Some(*house),
            Claim::Is { .. } | Claim::IsNot { .. } => None,
        });
        houses.collect()
    }
}
