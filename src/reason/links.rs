//! The candidates of a position by number, and which of them exclude each other.

use std::cell::OnceCell;
use std::ops::Range;

use super::numbers::Bits;
use crate::board::{Cell, Digit, HouseId, Slot};
use crate::step::{Base, Position};

/// A base with just two candidates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub(super) ends: [u16; 2],
    /// `None` if it is a cell.
    house: Option<HouseId>,
}

/// The candidates of a position, numbered by cells in reading order and by rising digits.
#[derive(Debug)]
struct Numbering {
    all: Vec<(Cell, Digit)>,
    /// For each cell in reading order, the number of its first candidate; at last, how many candidates there are.
    first: Vec<u16>,
}

impl Numbering {
    fn of(position: &Position) -> Numbering {
        let layout = position.layout();
        let mut first = Vec::with_capacity(layout.size().cells() + 1);
        let mut all = Vec::with_capacity(4 * position.open());
        for row in layout.house_ids().take(layout.size().usize()) {
            for (&cell, here) in layout.at(row).cells.iter().zip(position.candidates_in(row)) {
                first.push(number_of(all.len()));
                here.iter().for_each(|digit| all.push((cell, digit)));
            }
        }
        first.push(number_of(all.len()));
        Numbering { all, first }
    }

    /// The numbers of the candidates of each cell, in reading order.
    fn by_cell(&self) -> impl Iterator<Item = Range<usize>> {
        self.first.windows(2).map(|ends| ends[0].into()..ends[1].into())
    }

    /// The candidates of these numbers, each with its number.
    fn at(&self, numbers: Range<usize>) -> impl ExactSizeIterator<Item = (usize, (Cell, Digit))> {
        numbers.clone().zip(self.all[numbers].iter().copied())
    }
}

/// The candidates of a position, with what links them.
#[derive(Debug)]
pub(super) struct Links<const W: usize> {
    numbering: Numbering,
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
    fn of(position: &Position, numbering: Numbering) -> Links<W> {
        let layout = position.layout();
        let side = layout.size().usize();
        let mut places = vec![Bits::EMPTY; layout.houses().len() * side];
        for (here, slots) in numbering.by_cell().zip(layout.all_slots()) {
            for (number, (_, digit)) in numbering.at(here) {
                for slot in slots {
                    places[slot.house.place() * side + digit.place()].insert(number);
                }
            }
        }
        let mut pairs = Vec::with_capacity(numbering.all.len());
        let mut conflicts = Vec::with_capacity(numbering.all.len());
        for (here, slots) in numbering.by_cell().zip(layout.all_slots()) {
            if here.len() == 2 {
                pairs.push(Pair { ends: [here.start, here.start + 1].map(number_of), house: None });
            }
            let own = Bits::range(here.start, here.end);
            conflicts.extend(numbering.at(here).map(|(number, (_, digit))| {
                let place = |slot: &Slot| places[slot.house.place() * side + digit.place()];
                let mut all = slots.iter().fold(own, |all, slot| all | place(slot));
                all.remove(number);
                all
            }));
        }
        let cells = pairs.len();
        for (house, places) in layout.house_ids().zip(places.chunks_exact(side)) {
            for digit in position.missing_with(house, 2..=2).iter() {
                let ends = places[digit.place()].ends().map(number_of);
                pairs.push(Pair { ends, house: Some(house) });
            }
        }
        Links { numbering, places, conflicts, pairs, cells }
    }

    /// How many candidates there are.
    pub(super) fn len(&self) -> usize {
        self.numbering.all.len()
    }

    /// The candidate of this number.
    pub(super) fn at(&self, number: usize) -> (Cell, Digit) {
        self.numbering.all[number]
    }

    /// The candidates of a cell.
    pub(super) fn of_cell(&self, position: &Position, cell: Cell) -> Bits<W> {
        let at = position.layout().size().index(cell);
        let [begin, end] = [at, at + 1].map(|at| usize::from(self.numbering.first[at]));
        Bits::range(begin, end)
    }

    /// The places of a digit in a house.
    pub(super) fn places(&self, position: &Position, house: HouseId, digit: Digit) -> Bits<W> {
        self.places[house.place() * position.layout().size().usize() + digit.place()]
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
            Base::Cell(cell) => self.of_cell(position, cell),
            Base::Place(house, digit) => self.places(position, house, digit),
            Base::Swap(ref swap) => swap.extras.iter().fold(Bits::EMPTY, |all, &(cell, digit)| {
                let mut here = self.of_cell(position, cell).iter();
                all | here.find(|&number| self.at(number).1 == digit).map_or(Bits::EMPTY, Bits::single)
            }),
        }
    }
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
            let numbering = Numbering::of(position);
            match numbering.all.len() {
                0..=256 => Some(Wide::Narrow(Links::of(position, numbering))),
                257..=1024 => Some(Wide::Middle(Links::of(position, numbering))),
                1025..=4096 => Some(Wide::Broad(Links::of(position, numbering))),
                _ => None,
            }
        });
        wide.as_ref()
    }
}
