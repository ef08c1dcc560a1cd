//! A layout as the search needs it: plain numbers in flat lists.

use crate::board::{self, Cell, HouseId, Layout, Size};

/// Lists end to end.
#[derive(Debug)]
pub(super) struct Lists<T> {
    ends: Vec<u32>,
    items: Vec<T>,
}

impl<T> Lists<T> {
    fn new() -> Lists<T> {
        Lists { ends: vec![0], items: Vec::new() }
    }

    fn push(&mut self, list: impl Iterator<Item = T>) {
        self.items.extend(list);
        self.ends.push(small(self.items.len()));
    }

    /// The list in this place.
    #[inline]
    pub(super) fn at(&self, place: usize) -> &[T] {
        &self.items[self.ends[place] as usize..self.ends[place + 1] as usize]
    }
}

fn small(number: usize) -> u32 {
    u32::try_from(number).expect("no layout has so many houses")
}

/// A cell's place in a house.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot {
    house: u32,
    /// A bit for the place.
    pub(super) bit: u32,
}

impl Slot {
    /// The house.
    #[inline]
    pub(super) fn house(self) -> usize {
        self.house as usize
    }
}

/// Two houses that share cells, two or more and not all.
#[derive(Clone, Copy, Debug)]
pub(super) struct Crossing {
    /// The places of these cells in the first house.
    pub(super) shared: u32,
    /// The second house.
    pub(super) other: usize,
    /// The places of the second house that are not among them.
    pub(super) beyond: u32,
}

/// The cells of a layout numbered in reading order, its houses in their own order.
#[derive(Debug)]
pub(in crate::solve) struct Net {
    pub(super) size: Size,
    /// The cells, by number.
    pub(super) cells: Vec<Cell>,
    /// How many houses there are.
    pub(super) house_count: usize,
    /// How many digits there are, and cells in a house.
    pub(super) side: usize,
    /// A bit for each digit, and for each place in a house.
    pub(super) digits: u32,
    /// The cells of each house.
    houses: Vec<u16>,
    /// The places of each cell in its houses.
    pub(super) slots: Lists<Slot>,
    /// For each place of each house, the crossings of the house with others that have the cell too.
    crossings: Lists<Crossing>,
}

impl Net {
    pub(in crate::solve) fn new(layout: &Layout) -> Net {
        let size = layout.size();
        let number = |cell: &Cell| u16::from(cell.row()) * u16::from(size.side()) + u16::from(cell.col());
        let mut net = Net {
            size,
            cells: size.all_cells().collect(),
            house_count: layout.houses().len(),
            side: size.usize(),
            digits: size.digits().bits(),
            houses: layout.houses().iter().flat_map(|house| house.cells.iter().map(number)).collect(),
            slots: Lists::new(),
            crossings: Lists::new(),
        };
        for cell in size.all_cells() {
            let slots = layout.slots(cell).iter();
            let slot = |slot: &board::Slot| Slot { house: small(slot.house.place()), bit: 1 << slot.at };
            net.slots.push(slots.map(slot));
        }
        for (id, house) in layout.house_ids().zip(layout.houses()) {
            for &cell in &house.cells {
                let others = layout.slots(cell).iter().map(|slot| slot.house);
                net.crossings.push(others.filter_map(|other| crossing(layout, id, other)));
            }
        }
        net
    }

    /// The number of a cell.
    pub(super) fn number(&self, cell: Cell) -> usize {
        self.cells.binary_search(&cell).expect("a cell of the layout")
    }

    /// The cells of a house.
    #[inline]
    pub(super) fn house(&self, house: usize) -> &[u16] {
        &self.houses[house * self.side..(house + 1) * self.side]
    }

    /// The crossings of a house with others that have the cell in this place.
    #[inline]
    pub(super) fn crossings(&self, house: usize, place: usize) -> &[Crossing] {
        self.crossings.at(house * self.side + place)
    }
}

fn crossing(layout: &Layout, first: HouseId, second: HouseId) -> Option<Crossing> {
    let places = |of: HouseId, other: HouseId| {
        let shared =
            layout.at(of).cells.iter().zip(0..).filter(|(cell, _)| layout.at(other).set().contains(**cell));
        shared.fold(0_u32, |places, (_, at)| places | 1 << at)
    };
    let all = layout.size().digits().bits();
    let shared = places(first, second);
    let some = shared.count_ones() > 1 && shared != all;
    some.then(|| Crossing { shared, other: second.place(), beyond: all & !places(second, first) })
}
