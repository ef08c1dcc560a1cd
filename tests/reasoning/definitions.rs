//! The patterns by their definitions, found by trying everything that could be one: nothing is pruned, and nothing is
//! asked of a position but its grid and the candidates of its cells.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, Digit, DigitSet, HouseId, HouseName};
use gridsetter::ladder::Pattern;
use gridsetter::step::{Base, Deduction, Position};

mod chains;
mod finned;
mod unique;
mod wings;

/// What a pattern gives in a position: the bases of each step, in order.
pub fn all(pattern: Pattern, position: &Position) -> BTreeSet<Vec<Base>> {
    let look = Look(position);
    match pattern {
        Pattern::LastOpenCell => look.last_open_cells(),
        Pattern::BoxHiddenSingle => look.hidden_singles(HouseName::is_block),
        Pattern::LineHiddenSingle => look.hidden_singles(|house| !house.is_block()),
        Pattern::NakedSingle => look.naked_singles(),
        Pattern::LockedCandidates => look.locked(),
        Pattern::HiddenSet(size) => look.hidden_sets(usize::from(size)),
        Pattern::NakedSet(size) => look.naked_sets(usize::from(size)),
        Pattern::Fish(size) => look.fish(usize::from(size)),
        Pattern::SingleDigitChain => chains::all(&look),
        Pattern::FinnedFish => finned::all(&look),
        Pattern::XyWing => wings::xy(&look, 2),
        Pattern::XyzWing => wings::xy(&look, 3),
        Pattern::WWing => wings::w(&look),
        Pattern::UniqueRectangle => unique::rectangles(&look),
        Pattern::UniqueLoop => unique::loops(&look),
        Pattern::LastBivalueTrap => unique::traps(&look),
        _ => BTreeSet::new(),
    }
}

/// What tells a step of a pattern from its others: its bases, or of one that takes it for granted that there is one
/// solution the swap.
pub fn essence(step: &Deduction) -> Vec<Base> {
    let mut bases = step.bases.to_vec();
    if step.premise().is_some() {
        bases.retain(|base| matches!(base, Base::Swap(_)));
    }
    bases.sort_unstable();
    bases
}

struct Look<'a>(&'a Position);

impl Look<'_> {
    fn houses(&self) -> impl Iterator<Item = HouseId> + use<> {
        self.0.layout().house_ids()
    }

    fn digits(&self) -> DigitSet {
        self.0.layout().size().digits()
    }

    fn can_hold(&self, cell: Cell, digit: Digit) -> bool {
        self.0.grid().get(cell).is_none() && self.0.candidates(cell).contains(digit)
    }

    fn cells(&self, house: HouseId) -> &[Cell] {
        &self.0.layout().at(house).cells
    }

    fn open(&self, house: HouseId) -> Vec<Cell> {
        self.cells(house).iter().copied().filter(|&cell| self.0.grid().get(cell).is_none()).collect()
    }

    fn places(&self, house: HouseId, digit: Digit) -> Vec<Cell> {
        self.cells(house).iter().copied().filter(|&cell| self.can_hold(cell, digit)).collect()
    }

    /// Whether a cell that sees all of these could hold one of the digits.
    fn seen_from_outside(&self, cells: &[Cell], digits: DigitSet) -> bool {
        let layout = self.0.layout();
        layout.size().all_cells().any(|cell| {
            cells.iter().all(|&one| layout.sees(one, cell)) && digits.iter().any(|d| self.can_hold(cell, d))
        })
    }

    fn last_open_cells(&self) -> BTreeSet<Vec<Base>> {
        let houses = self.houses().map(|house| self.open(house)).filter(|open| open.len() == 1);
        houses
            .filter(|open| !self.0.candidates(open[0]).is_empty())
            .map(|open| vec![Base::Cell(open[0])])
            .collect()
    }

    fn hidden_singles(&self, wanted: impl Fn(&HouseName) -> bool) -> BTreeSet<Vec<Base>> {
        let houses = self.houses().filter(|&house| wanted(&self.0.layout().at(house).name));
        let both = houses.flat_map(|house| self.digits().iter().map(move |digit| (house, digit)));
        both.filter(|&(house, digit)| self.places(house, digit).len() == 1)
            .map(|(house, digit)| vec![Base::Place(house, digit)])
            .collect()
    }

    fn naked_singles(&self) -> BTreeSet<Vec<Base>> {
        let cells = self.0.grid().empty_cells();
        cells.filter(|&cell| self.0.candidates(cell).len() == 1).map(|cell| vec![Base::Cell(cell)]).collect()
    }

    fn locked(&self) -> BTreeSet<Vec<Base>> {
        let both = self.houses().flat_map(|house| self.digits().iter().map(move |digit| (house, digit)));
        let locks = |&(house, digit): &(HouseId, Digit)| {
            let places = self.places(house, digit);
            !places.is_empty() && self.seen_from_outside(&places, DigitSet::single(digit))
        };
        both.filter(locks).map(|(house, digit)| vec![Base::Place(house, digit)]).collect()
    }

    fn hidden_sets(&self, size: usize) -> BTreeSet<Vec<Base>> {
        let mut found = BTreeSet::new();
        for house in self.houses() {
            let few: Vec<Digit> =
                self.digits().iter().filter(|&digit| !self.places(house, digit).is_empty()).collect();
            for digits in choices(&few, size) {
                let cells: BTreeSet<Cell> = digits.iter().flat_map(|&d| self.places(house, d)).collect();
                let cells: Vec<Cell> = cells.into_iter().collect();
                let set: DigitSet = digits.iter().copied().collect();
                if cells.len() == size
                    && (cells.iter().any(|&cell| !self.0.candidates(cell).is_subset(set))
                        || self.seen_from_outside(&cells, set))
                {
                    found.insert(digits.iter().map(|&digit| Base::Place(house, digit)).collect());
                }
            }
        }
        found
    }

    fn naked_sets(&self, size: usize) -> BTreeSet<Vec<Base>> {
        let mut found = BTreeSet::new();
        for house in self.houses() {
            let mut several = self.open(house);
            several.retain(|&cell| !self.0.candidates(cell).is_empty());
            for cells in choices(&several, size) {
                let union: DigitSet = cells.iter().flat_map(|&cell| self.0.candidates(cell).iter()).collect();
                if union.len() == size && self.seen_from_outside(&cells, union) {
                    found.insert(cells.into_iter().map(Base::Cell).collect());
                }
            }
        }
        found
    }

    fn fish(&self, size: usize) -> BTreeSet<Vec<Base>> {
        let layout = self.0.layout();
        let row = |house: &HouseName| matches!(house, HouseName::Row(_));
        let column = |house: &HouseName| matches!(house, HouseName::Column(_));
        let of = |wanted: &dyn Fn(&HouseName) -> bool| -> Vec<HouseId> {
            self.houses().filter(|&house| wanted(&layout.at(house).name)).collect()
        };
        let mut found = BTreeSet::new();
        for (lines, others) in [(of(&row), of(&column)), (of(&column), of(&row))] {
            for digit in self.digits().iter() {
                let several: Vec<HouseId> =
                    lines.iter().copied().filter(|&line| !self.places(line, digit).is_empty()).collect();
                for chosen in choices(&several, size) {
                    let inside: BTreeSet<Cell> =
                        chosen.iter().flat_map(|&line| self.places(line, digit)).collect();
                    let mut covers = others.clone();
                    covers.retain(|&other| self.cells(other).iter().any(|cell| inside.contains(cell)));
                    let strikes = covers
                        .iter()
                        .flat_map(|&other| self.places(other, digit))
                        .any(|at| !inside.contains(&at));
                    if covers.len() == size && strikes {
                        found.insert(chosen.iter().map(|&line| Base::Place(line, digit)).collect());
                    }
                }
            }
        }
        found
    }
}

/// Every choice of so many items, in their order.
fn choices<T: Copy>(items: &[T], size: usize) -> Vec<Vec<T>> {
    let Some(less) = size.checked_sub(1) else { return vec![Vec::new()] };
    let with = |at: usize| choices(&items[at + 1..], less).into_iter().map(move |rest| (at, rest));
    (0..items.len()).flat_map(with).map(|(at, rest)| [vec![items[at]], rest].concat()).collect()
}
