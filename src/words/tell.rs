//! What the three depths have in common.

use super::fit::{fits, in_parts};
use super::tongue::{Cells, Told, Tongue};
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId, HouseName, Layout};
use crate::ladder::Pattern;
use crate::step::{Base, Claim, Deduction, Method, Position, Seen};

/// A step that is being told.
pub(super) struct Teller<'a> {
    pub(super) tongue: &'a dyn Tongue,
    /// Whether patterns are named.
    pub(super) full: bool,
    pub(super) before: &'a Position,
    pub(super) step: &'a Deduction,
    pub(super) earlier: &'a [Deduction],
}

impl<'a> Teller<'a> {
    pub(super) fn name(&self, house: HouseId) -> &'a HouseName {
        &self.before.layout().at(house).name
    }

    pub(super) fn names(&self, houses: &[HouseId]) -> Vec<&'a HouseName> {
        houses.iter().map(|&house| self.name(house)).collect()
    }

    /// Whether the reader has no marks.
    pub(super) fn scans(&self) -> bool {
        self.step.method == Method::Scanning
    }

    pub(super) fn is_third_line(&self) -> bool {
        self.step.seen == Some(Seen::ThirdLine)
    }

    pub(super) fn is_settling(&self) -> bool {
        self.step.seen == Some(Seen::Settling)
    }

    /// The house of the pattern; none for a cell by itself.
    pub(super) fn house(&self) -> Option<HouseId> {
        let of_base = |base: &Base| match base {
            Base::Place(house, _) => Some(*house),
            Base::Cell(_) | Base::Swap(_) => None,
        };
        let first = self.step.houses.first().copied().filter(|_| !self.is_alone());
        first.or_else(|| self.step.bases.iter().find_map(of_base))
    }

    /// Whether the houses that a single cell's step names only close digits.
    fn is_alone(&self) -> bool {
        self.step.pattern == Pattern::NakedSingle && self.is_settling()
    }

    /// The digit and the cells that a claim writes.
    pub(super) fn placed(claim: &Claim) -> Option<(Digit, CellSet)> {
        Some((claim.digits().only().filter(|_| claim.places())?, claim.cells()))
    }

    /// A sentence about cells; where it would be too long the cells are named before it.
    pub(super) fn about(&self, cells: CellSet, say: impl Fn(Cells) -> String) -> Vec<String> {
        let sentence = say(Cells::Named(cells));
        if fits(&sentence) {
            return vec![sentence];
        }
        let cells: Vec<Cell> = cells.iter().collect();
        let mut sentences = in_parts(&cells, &|part: &[Cell], also| {
            self.tongue.look_at_cells(part.iter().copied().collect(), also)
        });
        sentences.push(say(Cells::These(cells.len())));
        sentences
    }

    /// That each of these houses holds each of these digits.
    pub(super) fn hold(&self, houses: &[HouseId], digits: DigitSet) -> Vec<String> {
        let sentence = self.tongue.hold(&self.names(houses), digits, false);
        if fits(&sentence) {
            vec![sentence]
        } else if digits.len() == 1 {
            in_parts(houses, &|part: &[HouseId], also| self.tongue.hold(&self.names(part), digits, also))
        } else {
            let each = |house: &HouseId| {
                by_digits(digits, &|part, also| self.tongue.hold(&[self.name(*house)], part, also))
            };
            houses.iter().flat_map(each).collect()
        }
    }

    /// A claim as it is told, see [`told`].
    pub(super) fn told(&self, claim: &Claim, named: Cells, seen: CellSet) -> Told<'a> {
        told(self.before.layout(), claim, named, seen)
    }

    /// The houses that have all of these cells.
    pub(super) fn houses_of_all(&self, cells: CellSet) -> Vec<HouseId> {
        houses_of_all(self.before.layout(), cells)
    }
}

/// A claim as it is told, with its cells named or not. Of several houses that all its cells share, the place is the one
/// that also has most of `seen`.
pub(super) fn told<'a>(layout: &'a Layout, claim: &Claim, named: Cells, seen: CellSet) -> Told<'a> {
    let digits = claim.digits();
    match *claim {
        _ if claim.places() => match digits.only() {
            Some(digit) => Told::Stands { digit, cells: named },
            None => Told::Each { digits, cells: named },
        },
        Claim::IsNot { .. } => Told::Not { digits, cells: named },
        Claim::Is { cells, .. } | Claim::Within { cells, .. } if cells.len() == digits.len() => {
            Told::Share { digits, cells: named }
        }
        Claim::Is { .. } => Told::Each { digits, cells: named },
        Claim::Within { house, cells, .. } => {
            let name = |house: HouseId| &layout.at(house).name;
            let others = houses_of_all(layout, cells).into_iter().filter(|&other| other != house);
            let most = others
                .max_by_key(|&other| ((*layout.at(other).set() & seen).len(), std::cmp::Reverse(other)));
            match most {
                Some(place) => Told::In { digits, houses: vec![name(house)], places: vec![name(place)] },
                None => Told::InCells { digits, house: name(house), cells: named },
            }
        }
    }
}

fn houses_of_all(layout: &Layout, cells: CellSet) -> Vec<HouseId> {
    layout.house_ids().filter(|&house| cells.is_subset(layout.at(house).set())).collect()
}

/// Something of digits, in as many sentences as it takes.
pub(super) fn by_digits(digits: DigitSet, say: &dyn Fn(DigitSet, bool) -> String) -> Vec<String> {
    let digits: Vec<Digit> = digits.iter().collect();
    in_parts(&digits, &|part: &[Digit], also| say(part.iter().copied().collect(), also))
}
