//! The candidates of a position by number, and which of them exclude each other.

use std::cell::OnceCell;
use std::ops::Range;

use super::numbers::Bits;
use crate::board::{Cell, Digit, HouseId, Layout, Slot};
use crate::step::{Base, Position};

/// A base with just two candidates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub(super) ends: [u16; 2],
    /// `None` if it is a cell.
    house: Option<HouseId>,
}

/// The candidates of a position, numbered by cells in reading order and by rising digits, with what links them.
#[derive(Debug)]
pub(super) struct Links<const W: usize> {
    all: Vec<(Cell, Digit)>,
    /// For each cell in reading order, the number of its first candidate; at last, how many candidates there are.
    first: Vec<u16>,
    /// For each house and digit, its places.
    places: Vec<Bits<W>>,
    /// For each candidate, those that cannot be true together with it.
    conflicts: Vec<Bits<W>>,
    /// Bases with just two candidates, cells before houses.
    pairs: Vec<Pair>,
    /// How many of these are cells.
    cells: usize,
}

impl<const W: usize> Links<W> {
    /// `None` if there are more candidates than bits.
    fn of(position: &Position) -> Option<Links<W>> {
        let layout = position.layout();
        let side = layout.size().usize();
        let mut all = Vec::with_capacity(4 * position.open());
        let mut first = Vec::with_capacity(layout.size().cells() + 1);
        let mut places = vec![Bits::EMPTY; layout.houses().len() * side];
        let mut pairs = Vec::with_capacity(2 * position.open());
        let rows = layout.house_ids().take(side);
        let cells = rows.flat_map(|row| layout.at(row).cells.iter().zip(position.candidates_in(row)));
        for ((&cell, here), slots) in cells.zip(layout.all_slots()) {
            let begin = all.len();
            first.push(number_of(begin));
            for digit in here.iter() {
                if all.len() == Bits::<W>::MOST {
                    return None;
                }
                for slot in slots {
                    places[slot.house.place() * side + digit.place()].insert(all.len());
                }
                all.push((cell, digit));
            }
            if all.len() == begin + 2 {
                pairs.push(Pair { ends: [begin, begin + 1].map(number_of), house: None });
            }
        }
        first.push(number_of(all.len()));
        let cells = pairs.len();
        for (house, places) in layout.house_ids().zip(places.chunks_exact(side)) {
            for digit in position.missing_with(house, 2..=2).iter() {
                let ends = places[digit.place()].ends().map(number_of);
                pairs.push(Pair { ends, house: Some(house) });
            }
        }
        let conflicts = conflicts(&all, &first, &places, layout);
        Some(Links { all, first, places, conflicts, pairs, cells })
    }

    /// How many candidates there are.
    pub(super) fn len(&self) -> usize {
        self.all.len()
    }

    /// The candidate of this number.
    pub(super) fn at(&self, number: usize) -> (Cell, Digit) {
        self.all[number]
    }

    /// The candidates of a cell.
    pub(super) fn of_cell(&self, position: &Position, cell: Cell) -> Range<usize> {
        let at = position.layout().size().index(cell);
        self.first[at].into()..self.first[at + 1].into()
    }

    /// The places of a digit in a house.
    pub(super) fn places(&self, position: &Position, house: HouseId, digit: Digit) -> &Bits<W> {
        &self.places[house.place() * position.layout().size().usize() + digit.place()]
    }

    /// What cannot be true together with a candidate.
    pub(super) fn conflicts(&self, number: usize) -> &Bits<W> {
        &self.conflicts[number]
    }

    /// What cannot be true if one of these is.
    pub(super) fn common(&self, members: &Bits<W>) -> Bits<W> {
        let mut numbers = members.iter();
        let first = numbers.next().map_or(Bits::EMPTY, |number| self.conflicts[number]);
        numbers.fold(first, |common, number| common & self.conflicts[number])
    }

    /// The base of a pair.
    pub(super) fn base(&self, pair: Pair) -> Base {
        let (cell, digit) = self.at(pair.ends[0].into());
        pair.house.map_or(Base::Cell(cell), |house| Base::Place(house, digit))
    }

    /// Bases with just two candidates, cells before houses.
    pub(super) fn pairs(&self) -> &[Pair] {
        &self.pairs
    }

    /// Cells with just two candidates.
    pub(super) fn cells_of_two(&self) -> &[Pair] {
        &self.pairs[..self.cells]
    }

    /// The candidates of which a base says that one is true.
    pub(super) fn candidates(&self, position: &Position, base: &Base) -> Bits<W> {
        match *base {
            Base::Cell(cell) => {
                let here = self.of_cell(position, cell);
                Bits::range(here.start, here.end)
            }
            Base::Place(house, digit) => *self.places(position, house, digit),
            Base::Swap(ref swap) => swap.extras.iter().fold(Bits::EMPTY, |all, &(cell, digit)| {
                let mut here = self.of_cell(position, cell);
                all | here.find(|&number| self.at(number).1 == digit).map_or(Bits::EMPTY, Bits::single)
            }),
        }
    }
}

/// For each candidate those of its cell, and those of its digit in its houses, less itself.
fn conflicts<const W: usize>(
    all: &[(Cell, Digit)],
    first: &[u16],
    places: &[Bits<W>],
    layout: &Layout,
) -> Vec<Bits<W>> {
    let side = layout.size().usize();
    let mut conflicts: Vec<Bits<W>> = Vec::with_capacity(all.len());
    for (ends, slots) in first.windows(2).zip(layout.all_slots()) {
        conflicts.extend(all[ends[0].into()..ends[1].into()].iter().map(|(_, digit)| {
            let place = |slot: &Slot| places[slot.house.place() * side + digit.place()];
            slots.iter().fold(Bits::EMPTY, |all, slot| all | place(slot))
        }));
    }
    for ends in first.windows(2) {
        let here = usize::from(ends[0])..usize::from(ends[1]);
        for number in here.clone() {
            conflicts[number].insert_range(here.start, here.end);
            conflicts[number].remove(number);
        }
    }
    conflicts
}

/// A number as it is kept.
pub(super) fn number_of(at: usize) -> u16 {
    u16::try_from(at).unwrap_or(u16::MAX)
}

/// The links of a position, as wide as it takes, made when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Linked(OnceCell<Option<Wide>>);

#[derive(Debug)]
pub(super) enum Wide {
    Narrow(Links<4>),
    Middle(Links<16>),
    Broad(Links<64>),
}

impl Linked {
    /// `None` if there are too many candidates to look at: above 4096.
    pub(super) fn of(&self, position: &Position) -> Option<&Wide> {
        let wide = self.0.get_or_init(|| {
            let narrow = || Links::of(position).map(Wide::Narrow);
            let middle = || Links::of(position).map(Wide::Middle);
            let broad = || Links::of(position).map(Wide::Broad);
            narrow().or_else(middle).or_else(broad)
        });
        wide.as_ref()
    }
}
