//! The candidates of a position by number, and which of them exclude each other.

use std::cell::{OnceCell, RefCell};

use super::numbers::Bits;
use crate::board::{Cell, Digit, DigitSet, HouseId, Slot};
use crate::step::{Base, Position};

/// A base with just two candidates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub(super) ends: [u16; 2],
    /// `None` if it is a cell.
    house: Option<HouseId>,
}

impl Pair {
    pub(super) fn is_cell(self) -> bool {
        self.house.is_none()
    }
}

/// The candidates of a position, numbered by cells in reading order and by rising digits, with what links them.
#[derive(Debug, Default)]
pub(super) struct Links<const W: usize> {
    all: Vec<(Cell, Digit)>,
    /// For each cell in reading order, its candidates.
    cells: Vec<Bits<W>>,
    /// For each house and digit, its places.
    places: Vec<Bits<W>>,
    /// For each candidate, those that cannot be true together with it.
    conflicts: Vec<Bits<W>>,
    /// Bases with just two candidates, cells before houses.
    pairs: Vec<Pair>,
    /// How many of these are cells.
    cells_of_two: usize,
}

impl<const W: usize> Links<W> {
    /// There are no more candidates than bits. `spare` is what may be written over.
    fn of(position: &Position, spare: Links<W>) -> Links<W> {
        let Links { mut all, mut cells, mut places, mut conflicts, mut pairs, .. } = spare;
        let layout = position.layout();
        let side = layout.size().usize();
        all.clear();
        all.reserve(4 * position.open());
        pairs.clear();
        pairs.reserve(2 * position.open());
        cells.clear();
        cells.resize(layout.size().cells(), Bits::EMPTY);
        places.clear();
        places.resize(layout.houses().len() * side, Bits::EMPTY);
        let mut of_cells = cells.iter_mut();
        each_cell(position, |cell, here, slots| {
            let Some(own) = of_cells.next() else { return };
            let begin = all.len();
            for digit in here.iter() {
                let number = all.len();
                own.insert(number);
                for slot in slots {
                    places[slot.house.place() * side + digit.place()].insert(number);
                }
                all.push((cell, digit));
            }
            if all.len() == begin + 2 {
                pairs.push(Pair { ends: [begin, begin + 1].map(number_of), house: None });
            }
        });
        let cells_of_two = pairs.len();
        for (house, places) in layout.house_ids().zip(places.chunks_exact(side)) {
            for digit in position.missing_with(house, 2..=2).iter() {
                let ends = places[digit.place()].ends().map(number_of);
                pairs.push(Pair { ends, house: Some(house) });
            }
        }
        conflicts.clear();
        conflicts.reserve(all.len());
        // One loop for all cells: how many candidates each has is not foreseen.
        for &(cell, digit) in &all {
            let at = layout.size().index(cell);
            let place = |slot: &Slot| places[slot.house.place() * side + digit.place()];
            conflicts.push(layout.all_slots()[at].iter().fold(cells[at], |all, slot| all | place(slot)));
        }
        // Behind them all: what has just been written is slow to read.
        conflicts.iter_mut().enumerate().for_each(|(number, conflicts)| conflicts.remove(number));
        Links { all, cells, places, conflicts, pairs, cells_of_two }
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
    pub(super) fn of_cell(&self, position: &Position, cell: Cell) -> &Bits<W> {
        &self.cells[position.layout().size().index(cell)]
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
        &self.pairs[..self.cells_of_two]
    }

    /// The candidates of which a base says that one is true.
    pub(super) fn candidates(&self, position: &Position, base: &Base) -> Bits<W> {
        match *base {
            Base::Cell(cell) => *self.of_cell(position, cell),
            Base::Place(house, digit) => *self.places(position, house, digit),
            Base::Swap(ref swap) => swap.extras.iter().fold(Bits::EMPTY, |all, &(cell, digit)| {
                let mut here = self.of_cell(position, cell).iter();
                all | here.find(|&number| self.at(number).1 == digit).map_or(Bits::EMPTY, Bits::single)
            }),
        }
    }
}

/// Calls `each` with each cell in reading order, its candidates, and its places in houses.
fn each_cell(position: &Position, mut each: impl FnMut(Cell, DigitSet, &[Slot])) {
    let layout = position.layout();
    let mut slots = layout.all_slots().iter();
    for row in layout.house_ids().take(layout.size().usize()) {
        for (&cell, &here) in layout.at(row).cells.iter().zip(position.candidates_in(row)) {
            each(cell, here, slots.next().map_or(&[], Vec::as_slice));
        }
    }
}

/// A number as it is kept.
pub(super) fn number_of(at: usize) -> u16 {
    u16::try_from(at).unwrap_or(u16::MAX)
}

/// The links of a position, as wide as it takes, made when they are first asked for.
#[derive(Debug, Default)]
pub(super) struct Linked {
    links: OnceCell<Option<Wide>>,
    /// Those of another position, to be written over.
    spare: RefCell<Links<4>>,
}

#[derive(Debug)]
pub(super) enum Wide {
    Narrow(Links<4>),
    Middle(Links<16>),
    Broad(Links<64>),
}

impl Linked {
    /// Another position is looked at.
    pub(super) fn turn(&mut self) {
        if let Some(Some(Wide::Narrow(links))) = self.links.take() {
            *self.spare.get_mut() = links;
        }
    }

    /// `None` if there are too many candidates to look at: above 4096.
    pub(super) fn of(&self, position: &Position) -> Option<&Wide> {
        let wide = self.links.get_or_init(|| {
            let mut count = 0;
            each_cell(position, |_, here, _| count += here.len());
            if count <= Bits::<4>::MOST {
                Some(Wide::Narrow(Links::of(position, self.spare.take())))
            } else if count <= Bits::<16>::MOST {
                Some(Wide::Middle(Links::of(position, Links::default())))
            } else if count <= Bits::<64>::MOST {
                Some(Wide::Broad(Links::of(position, Links::default())))
            } else {
                None
            }
        });
        wide.as_ref()
    }
}
