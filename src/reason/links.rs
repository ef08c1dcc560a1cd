//! The candidates of a position by number, and which of them exclude each other.

use std::cell::OnceCell;

use super::numbers::Bits;
use crate::board::{Cell, Digit, HouseId, bits};
use crate::step::{Base, Position};

/// The candidates of a position, numbered by cells in reading order and by rising digits.
#[derive(Debug)]
pub(super) struct Links<const W: usize> {
    all: Vec<(Cell, Digit)>,
    /// For each cell in reading order, the number of its first candidate.
    first: Vec<u16>,
    /// For each candidate, those that cannot be true together with it.
    conflicts: Vec<Bits<W>>,
    /// Bases with just two candidates.
    pairs: Vec<(Base, usize, usize)>,
}

impl<const W: usize> Links<W> {
    fn of(position: &Position) -> Links<W> {
        let layout = position.layout();
        let size = layout.size();
        let (mut all, mut first) = (Vec::new(), Vec::with_capacity(size.cells()));
        let mut pairs = Vec::new();
        for cell in size.all_cells() {
            first.push(u16::try_from(all.len()).unwrap_or(u16::MAX));
            let here = position.candidates(cell);
            if here.len() == 2 {
                pairs.push((Base::Cell(cell), all.len(), all.len() + 1));
            }
            all.extend(here.iter().map(|digit| (cell, digit)));
        }
        let side = size.usize();
        let mut places = vec![Bits::EMPTY; layout.houses().len() * side];
        for (number, (cell, digit)) in all.iter().enumerate() {
            for slot in layout.slots(*cell) {
                places[slot.house.place() * side + digit.place()].insert(number);
            }
        }
        let conflict = |(number, &(cell, digit)): (usize, &(Cell, Digit))| {
            let begin = usize::from(first[size.index(cell)]);
            let mut conflicts = Bits::range(begin, begin + position.candidates(cell).len());
            for slot in layout.slots(cell) {
                conflicts |= places[slot.house.place() * side + digit.place()];
            }
            conflicts.remove(number);
            conflicts
        };
        let conflicts = all.iter().enumerate().map(conflict).collect();
        for house in layout.house_ids() {
            for (digit, _) in position.places_of_missing(house).filter(|(_, places)| places.count_ones() == 2)
            {
                let mut both = places[house.place() * side + usize::from(digit)].iter();
                if let (Some(one), Some(other)) = (both.next(), both.next()) {
                    pairs.push((Base::Place(house, all[one].1), one, other));
                }
            }
        }
        Links { all, first, conflicts, pairs }
    }

    /// Calls `each` with the number of each place of a digit in a house.
    fn in_house(&self, position: &Position, house: HouseId, digit: Digit, mut each: impl FnMut(usize)) {
        let cells = &position.layout().at(house).cells;
        for at in bits(position.places(house, digit)) {
            each(self.number(position, cells[usize::from(at)], digit));
        }
    }

    /// How many candidates there are.
    pub(super) fn len(&self) -> usize {
        self.all.len()
    }

    /// The candidate of this number.
    pub(super) fn at(&self, number: usize) -> (Cell, Digit) {
        self.all[number]
    }

    /// The number of a candidate, which must be one.
    pub(super) fn number(&self, position: &Position, cell: Cell, digit: Digit) -> usize {
        let below = position.candidates(cell).bits() & ((1 << digit.place()) - 1);
        usize::from(self.first[position.layout().size().index(cell)]) + below.count_ones() as usize
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

    /// Bases with just two candidates, cells before houses.
    pub(super) fn pairs(&self) -> &[(Base, usize, usize)] {
        &self.pairs
    }

    /// The candidates of which a base says that one is true.
    pub(super) fn candidates(&self, position: &Position, base: &Base) -> Bits<W> {
        let mut found = Bits::EMPTY;
        match *base {
            Base::Cell(cell) => {
                let digits = position.candidates(cell).iter();
                digits.for_each(|digit| found.insert(self.number(position, cell, digit)));
            }
            Base::Place(house, digit) => {
                self.in_house(position, house, digit, |number| found.insert(number));
            }
            Base::Swap(ref swap) => {
                let extras = swap.extras.iter();
                extras.for_each(|&(cell, digit)| found.insert(self.number(position, cell, digit)));
            }
        }
        found
    }
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
            let cells = position.layout().size().all_cells();
            match cells.map(|cell| position.candidates(cell).len()).sum::<usize>() {
                0..=256 => Some(Wide::Narrow(Links::of(position))),
                257..=1024 => Some(Wide::Middle(Links::of(position))),
                1025..=4096 => Some(Wide::Broad(Links::of(position))),
                _ => None,
            }
        });
        wide.as_ref()
    }
}
