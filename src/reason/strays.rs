//! Candidates that a digit could lose by itself. A laying of a digit is a place in each house that misses it, no two in
//! sight of each other. What reads nothing but places of one digit strikes nothing that a laying has: where each
//! candidate of a digit is in a laying, there is no fish and no chain of this digit.

use std::cell::OnceCell;

use super::numbers::Bits;
use crate::board::{Cell, CellSet, Digit};
use crate::step::Position;

/// So often a search for a laying goes on in several ways; if none is found then, there counts as none.
const MOST_PARTINGS: u32 = 64;
/// Words for the cells of the largest grid.
const WIDE: usize = 10;

/// For each digit the candidates that are in no laying, looked for when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Strays(OnceCell<Vec<CellSet>>);

impl Strays {
    /// The digits that have strays, rising, each with them.
    pub(super) fn each(&self, position: &Position) -> impl Iterator<Item = (Digit, &CellSet)> {
        let digits = position.layout().size().digits();
        digits.iter().zip(self.0.get_or_init(|| of_all(position))).filter(|(_, strays)| !strays.is_empty())
    }
}

fn of_all(position: &Position) -> Vec<CellSet> {
    let (mut narrow, mut wide) = (Places::<1>::default(), Places::<WIDE>::default());
    let digits = position.layout().size().digits().iter();
    let strays = digits.map(|digit| {
        if position.cells_with_candidate(digit).len() <= Bits::<1>::MOST {
            narrow.strays(digit, position)
        } else {
            wide.strays(digit, position)
        }
    });
    strays.collect()
}

/// The places of a digit, by numbers in reading order.
#[derive(Default)]
struct Places<const W: usize> {
    cells: Vec<Cell>,
    /// For each house the places in it.
    in_house: Vec<Bits<W>>,
    /// The same of the houses that miss the digit.
    to_fill: Vec<Bits<W>>,
    /// For each place those that see it.
    sights: Vec<Bits<W>>,
}

impl<const W: usize> Places<W> {
    fn strays(&mut self, digit: Digit, position: &Position) -> CellSet {
        self.take(digit, position);
        let all = Bits::range(0, self.cells.len());
        let (mut laid, mut strays) = (Bits::EMPTY, CellSet::EMPTY);
        for (at, &cell) in self.cells.iter().enumerate() {
            if laid.contains(at) {
                continue;
            }
            match self.laying(all - self.sights[at], &laid, &mut 0) {
                Some(laying) => laid |= laying,
                None => _ = strays.insert(cell),
            }
        }
        strays
    }

    /// Takes the places of a digit.
    fn take(&mut self, digit: Digit, position: &Position) {
        let layout = position.layout();
        self.cells.clear();
        self.cells.extend(position.cells_with_candidate(digit).iter());
        self.in_house.clear();
        self.in_house.resize(layout.houses().len(), Bits::EMPTY);
        for (at, &cell) in self.cells.iter().enumerate() {
            for slot in layout.slots(cell) {
                self.in_house[slot.house.place()].insert(at);
            }
        }
        self.sights.clear();
        for (at, &cell) in self.cells.iter().enumerate() {
            let houses = layout.slots(cell).iter().map(|slot| self.in_house[slot.house.place()]);
            self.sights.push(houses.fold(Bits::EMPTY, |all, house| all | house) - Bits::single(at));
        }
        self.to_fill.clear();
        let missing = layout.house_ids().filter(|&house| position.missing(house).contains(digit));
        self.to_fill.extend(missing.map(|house| self.in_house[house.place()]));
    }

    /// A laying in the places that are left, with others than are `laid` where that can be chosen.
    fn laying(&self, mut left: Bits<W>, laid: &Bits<W>, partings: &mut u32) -> Option<Bits<W>> {
        loop {
            let before = left;
            let mut several = None;
            for &house in &self.to_fill {
                let here = left & house;
                let first = here.iter().next()?;
                if (here - Bits::single(first)).is_empty() {
                    left = left - self.sights[first];
                } else {
                    several = several.or(Some(here));
                }
            }
            if left != before {
                continue;
            }
            let Some(here) = several else { return Some(left) };
            *partings += 1;
            if *partings > MOST_PARTINGS {
                return None;
            }
            let ways = (here - *laid).iter().chain((here & *laid).iter());
            return ways.map(|at| left - self.sights[at]).find_map(|left| self.laying(left, laid, partings));
        }
    }
}
