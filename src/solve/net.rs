//! A layout as the search needs it: plain numbers in flat lists.

use crate::board::{Cell, CellSet, House, Layout, Size};

/// Lists of numbers, end to end.
#[derive(Debug)]
pub(super) struct Lists {
    ends: Vec<usize>,
    items: Vec<u16>,
}

impl Lists {
    fn new() -> Lists {
        Lists { ends: vec![0], items: Vec::new() }
    }

    fn push(&mut self, list: impl Iterator<Item = u16>) {
        self.items.extend(list);
        self.ends.push(self.items.len());
    }

    /// The list in this place.
    pub(super) fn at(&self, place: usize) -> &[u16] {
        &self.items[self.ends[place]..self.ends[place + 1]]
    }
}

/// The cells of a layout numbered in reading order, its houses in their own order.
#[derive(Debug)]
pub(super) struct Net {
    pub(super) size: Size,
    /// The cells, by number.
    pub(super) cells: Vec<Cell>,
    /// How many houses there are.
    pub(super) house_count: usize,
    /// A bit for each digit.
    pub(super) digits: u32,
    /// The cells of each house.
    pub(super) houses: Lists,
    /// The houses of each cell.
    pub(super) houses_of: Lists,
    /// The cells that each cell sees.
    pub(super) peers: Lists,
    /// The crossings of each house with others in two cells or more.
    pub(super) crossings_of: Vec<std::ops::Range<usize>>,
    /// For each crossing, the cells that both houses have.
    pub(super) shared: Lists,
    /// For each crossing, the cells that only the first house has.
    pub(super) rest: Lists,
    /// For each crossing, the cells that only the second house has.
    pub(super) beyond: Lists,
}

impl Net {
    pub(super) fn new(layout: &Layout) -> Net {
        let size = layout.size();
        let number = |cell: Cell| u16::from(cell.row()) * u16::from(size.side()) + u16::from(cell.col());
        let mut net = Net {
            size,
            cells: size.all_cells().collect(),
            house_count: layout.houses().len(),
            digits: size.digits().bits(),
            houses: Lists::new(),
            houses_of: Lists::new(),
            peers: Lists::new(),
            crossings_of: Vec::new(),
            shared: Lists::new(),
            rest: Lists::new(),
            beyond: Lists::new(),
        };
        for cell in size.all_cells() {
            net.peers.push(layout.peers(cell).iter().map(number));
            let holds = |(house, at): (&House, u16)| house.set().contains(cell).then_some(at);
            net.houses_of.push(layout.houses().iter().zip(0..).filter_map(holds));
        }
        let mut crossings = 0;
        for first in layout.houses() {
            net.houses.push(first.cells.iter().copied().map(number));
            let start = crossings;
            for second in layout.houses() {
                let shared = *first.set() & *second.set();
                if shared.len() < 2 || shared == *first.set() {
                    continue;
                }
                let numbers = |set: CellSet| set.iter().map(number);
                net.shared.push(numbers(shared));
                net.rest.push(numbers(*first.set() - shared));
                net.beyond.push(numbers(*second.set() - shared));
                crossings += 1;
            }
            net.crossings_of.push(start..crossings);
        }
        net
    }

    /// The number of a cell.
    pub(super) fn number(&self, cell: Cell) -> usize {
        self.cells.binary_search(&cell).expect("a cell of the layout")
    }
}
