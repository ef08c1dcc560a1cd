//! The cells with two candidates, numbered, so that what they have in common is a matter of bits: wings ask for it, and
//! unique loops.

use smallvec::SmallVec;

use super::numbers::Bits;
use super::tables::Tables;
use crate::board::{Cell, Digit, DigitSet, Layout, MAX_SIDE, bits};
use crate::step::Position;

/// More pairs of digits that are alike in several cells are rare.
const FEW: usize = 8;

/// The cells with two candidates, looked at when they are first asked for: as narrow as they fit.
#[derive(Debug, Default)]
pub(super) struct Pairs {
    few: Numbered<1>,
    many: Numbered<10>,
    /// How many they are in the position that is looked at, if that is known.
    count: Option<usize>,
}

/// As many as fit.
pub(super) enum Width<'a> {
    Few(&'a Numbered<1>),
    /// As many as the cells of the largest board.
    Many(&'a Numbered<10>),
}

impl Pairs {
    /// Another position is looked at.
    pub(super) fn turn(&mut self) {
        self.count = None;
    }

    pub(super) fn of(&mut self, tables: &Tables, position: &Position) -> Width<'_> {
        let count = *self.count.get_or_insert_with(|| {
            let pairs = tables.rows.iter().map(|&row| position.cells_with(row, 2..=2).count_ones() as usize);
            let count = pairs.sum();
            if count <= Bits::<1>::MOST {
                self.few.look_at(tables, position);
            } else {
                self.many.look_at(tables, position);
            }
            count
        });
        if count <= Bits::<1>::MOST { Width::Few(&self.few) } else { Width::Many(&self.many) }
    }

    /// Two digits that are all that so many cells could hold, one at least, rising.
    pub(super) fn same(
        &mut self,
        least: usize,
        tables: &Tables,
        position: &Position,
    ) -> SmallVec<[DigitSet; FEW]> {
        match self.of(tables, position) {
            Width::Few(pairs) => pairs.same(least, position.layout().size().usize()),
            Width::Many(pairs) => pairs.same(least, position.layout().size().usize()),
        }
    }
}

/// The cells with two candidates in reading order, numbered from 0.
#[derive(Debug, Default)]
pub(super) struct Numbered<const W: usize> {
    pub(super) cells: Vec<(Cell, DigitSet)>,
    /// For each of them which it sees.
    pub(super) seen: Vec<Bits<W>>,
    /// For each house which lie in it.
    in_house: Vec<Bits<W>>,
    /// For each digit which have it.
    with: [Bits<W>; MAX_SIDE as usize],
}

impl<const W: usize> Numbered<W> {
    fn look_at(&mut self, tables: &Tables, position: &Position) {
        let layout = position.layout();
        self.cells.clear();
        self.with = [Bits::EMPTY; MAX_SIDE as usize];
        self.in_house.clear();
        self.in_house.resize(layout.houses().len(), Bits::EMPTY);
        for (&row, slots) in tables.rows.iter().zip(layout.all_slots().chunks(tables.rows.len())) {
            let (cells, candidates) = (&layout.at(row).cells, position.candidates_in(row));
            for at in bits(position.cells_with(row, 2..=2)).map(usize::from) {
                let number = self.cells.len();
                self.cells.push((cells[at], candidates[at]));
                bits(candidates[at].bits()).for_each(|digit| self.with[usize::from(digit)].insert(number));
                slots[at].iter().for_each(|slot| self.in_house[slot.house.place()].insert(number));
            }
        }
        self.seen.clear();
        for (number, &(cell, _)) in self.cells.iter().enumerate() {
            let mut seen = in_houses_of(cell, &self.in_house, layout);
            seen.remove(number);
            self.seen.push(seen);
        }
    }

    /// Those that see a cell, which has more candidates.
    pub(super) fn seen_from(&self, cell: Cell, position: &Position) -> Bits<W> {
        in_houses_of(cell, &self.in_house, position.layout())
    }

    /// Those that have a digit.
    pub(super) fn with(&self, digit: Digit) -> Bits<W> {
        self.with[digit.place()]
    }

    /// The same for each digit of a set of so many.
    pub(super) fn with_each<const N: usize>(&self, digits: DigitSet) -> Option<[Bits<W>; N]> {
        let mut with = [Bits::EMPTY; N];
        let mut digits = digits.iter();
        for with in &mut with {
            *with = self.with(digits.next()?);
        }
        Some(with)
    }

    fn same(&self, least: usize, digits: usize) -> SmallVec<[DigitSet; FEW]> {
        let mut found = SmallVec::new();
        let mut often = 0_u32;
        for (digit, with) in self.with[..digits].iter().enumerate().filter(|(_, with)| with.len() >= least) {
            for lesser in bits(often) {
                if (*with & self.with[usize::from(lesser)]).len() >= least {
                    found.push(DigitSet::from_bits(1 << digit | 1 << lesser));
                }
            }
            often |= 1 << digit;
        }
        found
    }
}

/// What lies in a house of a cell, where so much is in each house.
fn in_houses_of<const W: usize>(cell: Cell, in_house: &[Bits<W>], layout: &Layout) -> Bits<W> {
    layout.slots(cell).iter().fold(Bits::EMPTY, |all, slot| all | in_house[slot.house.place()])
}
