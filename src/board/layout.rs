//! A layout: the size and all houses, with what follows from them.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use super::{BoxShape, Cell, CellSet, House, HouseId, HouseName, Size, Slot};

/// The size of a grid and its houses: rows, columns, boxes or regions, and what a variant adds. Never changes once
/// built; a copy shares it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout(Arc<Inner>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Inner {
    size: Size,
    blocks: Blocks,
    diagonals: bool,
    houses: Vec<House>,
    /// For each cell in reading order, its places in the houses that it is in.
    slots: Vec<Vec<Slot>>,
    /// For each cell in reading order, the others that share a house with it.
    peers: Vec<CellSet>,
}

/// What stands beside rows and columns.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Blocks {
    Boxes(BoxShape),
    Regions(String),
}

/// Why a layout cannot be built.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayoutError {
    /// A box has not as many cells as a side.
    BoxShape {
        /// The size.
        size: Size,
        /// The boxes.
        shape: BoxShape,
    },
    /// There is not one letter for each cell.
    LetterCount {
        /// The size.
        size: Size,
        /// How many letters there are.
        found: usize,
    },
    /// Some regions have too few or too many cells, or are in pieces: one fault a region, by letter.
    Regions(Vec<RegionFault>),
    /// An extra house has not as many cells as a side.
    HouseCells {
        /// The house.
        house: HouseName,
        /// How many cells it should have.
        size: Size,
        /// How many different cells it has.
        found: usize,
    },
    /// An extra house names a cell twice.
    RepeatedCell {
        /// The house.
        house: HouseName,
        /// The cell.
        cell: Cell,
    },
    /// An extra house names a cell that the grid does not have.
    CellOutside {
        /// The house.
        house: HouseName,
        /// The size.
        size: Size,
        /// The cell.
        cell: Cell,
    },
    /// Two extra houses have one name.
    NameTaken {
        /// The house.
        house: HouseName,
    },
}

/// What is wrong with a region.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RegionFault {
    /// It has not as many cells as a side.
    CellCount {
        /// Its letter.
        region: char,
        /// How many cells it should have.
        size: Size,
        /// The cells that it has, in reading order.
        cells: Vec<Cell>,
    },
    /// Its cells do not all hang together along their sides.
    InPieces {
        /// Its letter.
        region: char,
        /// The pieces, largest first and otherwise in reading order, each in reading order.
        pieces: Vec<Vec<Cell>>,
    },
}

impl RegionFault {
    /// The region's letter.
    pub fn region(&self) -> char {
        match self {
            RegionFault::CellCount { region, .. } | RegionFault::InPieces { region, .. } => *region,
        }
    }

    /// The cells to look at: all of a region with the wrong count; what is cut off from the largest piece.
    pub fn cells(&self) -> Vec<Cell> {
        match self {
            RegionFault::CellCount { cells, .. } => cells.clone(),
            RegionFault::InPieces { pieces, .. } => pieces[1..].concat(),
        }
    }
}

fn listed(cells: &[Cell]) -> String {
    cells.iter().map(Cell::to_string).collect::<Vec<_>>().join(" ")
}

impl fmt::Display for RegionFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RegionFault::CellCount { region, size, cells } => write!(
                f,
                "region {region} has {} {}, but should have {size}",
                cells.len(),
                if cells.len() == 1 { "cell" } else { "cells" }
            ),
            RegionFault::InPieces { region, pieces } => write!(
                f,
                "region {region} is in {} pieces: {} is cut off from the rest",
                pieces.len(),
                listed(&pieces[1..].concat())
            ),
        }
    }
}

impl fmt::Display for LayoutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LayoutError::BoxShape { size, shape } => write!(
                f,
                "a box of {shape} has {} cells, but at size {size} it needs {size}",
                u16::from(shape.rows) * u16::from(shape.columns)
            ),
            LayoutError::LetterCount { size, found } => {
                write!(
                    f,
                    "the regions have {found} letters, but a grid of size {size} has {} cells",
                    size.cells()
                )
            }
            LayoutError::Regions(faults) => {
                let faults: Vec<String> = faults.iter().map(RegionFault::to_string).collect();
                f.write_str(&faults.join("; "))
            }
            LayoutError::HouseCells { house, size, found } => {
                write!(f, "{house} has {found} different cells, but at size {size} it needs {size}")
            }
            LayoutError::RepeatedCell { house, cell } => write!(f, "{house} names {cell} twice"),
            LayoutError::CellOutside { house, size, cell } => {
                write!(f, "{house} names {cell}, which a grid of size {size} does not have")
            }
            LayoutError::NameTaken { house } => {
                write!(f, "there are two extra houses with the name of {house}")
            }
        }
    }
}

impl std::error::Error for LayoutError {}

impl Layout {
    /// Rows, columns and the usual boxes; `None` for a size that has no usual boxes.
    pub fn classic(size: Size) -> Option<Layout> {
        Layout::with_boxes(size, size.default_boxes()?).ok()
    }

    /// Rows, columns and boxes of this shape.
    ///
    /// # Errors
    /// If a box has not as many cells as a side.
    pub fn with_boxes(size: Size, shape: BoxShape) -> Result<Layout, LayoutError> {
        if !shape.fits(size) {
            return Err(LayoutError::BoxShape { size, shape });
        }
        let box_of = |cell: &Cell| {
            let boxes_across = size.side() / shape.columns;
            cell.row() / shape.rows * boxes_across + cell.col() / shape.columns + 1
        };
        let blocks = (1..=size.side()).map(|number| {
            House::new(
                HouseName::Box(number),
                size.all_cells().filter(|cell| box_of(cell) == number).collect(),
            )
        });
        let houses = lines(size).chain(blocks).collect();
        Ok(Layout::from_houses(size, Blocks::Boxes(shape), false, houses))
    }

    /// Rows, columns and regions: one letter a cell, in reading order. Regions come in the order of their letters.
    ///
    /// # Errors
    /// If there is not a letter for each cell, or if a region has not as many cells as a side or is in pieces that
    /// do not touch along a side of a cell.
    pub fn with_regions(size: Size, letters: &[char]) -> Result<Layout, LayoutError> {
        if letters.len() != size.cells() {
            return Err(LayoutError::LetterCount { size, found: letters.len() });
        }
        let mut regions: BTreeMap<char, Vec<Cell>> = BTreeMap::new();
        for (cell, letter) in size.all_cells().zip(letters) {
            regions.entry(*letter).or_default().push(cell);
        }
        let faults: Vec<RegionFault> =
            regions.iter().filter_map(|(&region, cells)| region_fault(size, region, cells)).collect();
        if !faults.is_empty() {
            return Err(LayoutError::Regions(faults));
        }
        let regions = regions.into_iter().map(|(letter, cells)| House::new(HouseName::Region(letter), cells));
        let houses = lines(size).chain(regions).collect();
        Ok(Layout::from_houses(size, Blocks::Regions(letters.iter().collect()), false, houses))
    }

    /// The same layout, with both diagonals as houses.
    #[must_use]
    pub fn and_diagonals(self) -> Layout {
        if self.diagonals() {
            return self;
        }
        let size = self.size();
        let falling = (0..size.side()).map(|at| Cell::new(at, at)).collect();
        let rising = (0..size.side()).map(|at| Cell::new(at, size.side() - 1 - at)).collect();
        let diagonals =
            [House::new(HouseName::Diagonal(1), falling), House::new(HouseName::Diagonal(2), rising)];
        let named = |house: &House| matches!(house.name, HouseName::Named(_));
        let (extra, mut houses): (Vec<House>, Vec<House>) = self.houses().iter().cloned().partition(named);
        houses.extend(diagonals);
        houses.extend(extra);
        Layout::from_houses(size, self.0.blocks.clone(), true, houses)
    }

    /// The same layout, with an extra house of this name and these cells, in any order.
    ///
    /// # Errors
    /// If the name is taken, a cell is outside the grid or named twice, or there are not as many cells as a side has.
    pub fn and_house(self, name: &str, mut cells: Vec<Cell>) -> Result<Layout, LayoutError> {
        let size = self.size();
        let house = HouseName::Named(name.into());
        if self.house(&house).is_some() {
            return Err(LayoutError::NameTaken { house });
        }
        cells.sort_unstable();
        if let Some(&cell) = cells.iter().find(|cell| !size.contains(**cell)) {
            return Err(LayoutError::CellOutside { house, size, cell });
        }
        if let Some(pair) = cells.windows(2).find(|pair| pair[0] == pair[1]) {
            return Err(LayoutError::RepeatedCell { house, cell: pair[0] });
        }
        if cells.len() != size.usize() {
            return Err(LayoutError::HouseCells { house, size, found: cells.len() });
        }
        let mut houses = self.houses().to_vec();
        houses.push(House::new(house, cells));
        Ok(Layout::from_houses(size, self.0.blocks.clone(), self.diagonals(), houses))
    }

    fn from_houses(size: Size, blocks: Blocks, diagonals: bool, houses: Vec<House>) -> Layout {
        let mut slots = vec![Vec::new(); size.cells()];
        let mut peers = vec![CellSet::EMPTY; size.cells()];
        for (house, id) in houses.iter().zip((0..).map(HouseId)) {
            for (&cell, at) in house.cells.iter().zip(0..) {
                slots[size.index(cell)].push(Slot { house: id, at });
                peers[size.index(cell)] |= *house.set();
            }
        }
        for cell in size.all_cells() {
            peers[size.index(cell)].remove(cell);
        }
        Layout(Arc::new(Inner { size, blocks, diagonals, houses, slots, peers }))
    }

    /// The size.
    pub fn size(&self) -> Size {
        self.0.size
    }

    /// The shape of the boxes; `None` where regions take their place.
    pub fn boxes(&self) -> Option<BoxShape> {
        match self.0.blocks {
            Blocks::Boxes(shape) => Some(shape),
            Blocks::Regions(_) => None,
        }
    }

    /// The letter of each cell's region, in reading order; `None` where there are boxes.
    pub fn regions(&self) -> Option<String> {
        match &self.0.blocks {
            Blocks::Boxes(_) => None,
            Blocks::Regions(letters) => Some(letters.clone()),
        }
    }

    /// Whether both diagonals are houses.
    pub fn diagonals(&self) -> bool {
        self.0.diagonals
    }

    /// All houses: rows, columns, boxes or regions, diagonals, extra houses in the order in which they were added.
    pub fn houses(&self) -> &[House] {
        &self.0.houses
    }

    /// The houses' ids, in the order of [`Layout::houses`].
    pub fn house_ids(&self) -> impl Iterator<Item = HouseId> + use<> {
        (0..).map(HouseId).take(self.houses().len())
    }

    /// The house with this id, which must be one of this layout.
    ///
    /// # Panics
    /// If the layout has no such house.
    pub fn at(&self, id: HouseId) -> &House {
        &self.houses()[id.place()]
    }

    /// The id of the house of this name.
    pub fn house_id(&self, name: &HouseName) -> Option<HouseId> {
        self.house_ids().find(|&id| self.at(id).name == *name)
    }

    /// The places of a cell in its houses, in the order of [`Layout::houses`].
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn slots(&self, cell: Cell) -> &[Slot] {
        &self.0.slots[self.checked_index(cell)]
    }

    /// The places in houses of each cell, in reading order.
    pub(crate) fn all_slots(&self) -> &[Vec<Slot>] {
        &self.0.slots
    }

    /// The house of this name.
    pub fn house(&self, name: &HouseName) -> Option<&House> {
        self.houses().iter().find(|house| house.name == *name)
    }

    /// The houses that a cell is in, in the order of [`Layout::houses`].
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn houses_of(&self, cell: Cell) -> impl Iterator<Item = &House> {
        self.slots(cell).iter().map(|slot| self.at(slot.house))
    }

    /// The cells that share a house with this one, without itself.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn peers(&self, cell: Cell) -> &CellSet {
        &self.0.peers[self.checked_index(cell)]
    }

    /// Whether two different cells share a house, so that they cannot hold the same digit.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn sees(&self, a: Cell, b: Cell) -> bool {
        self.peers(a).contains(b)
    }

    /// The cells that see every one of these cells; none of these is among them. All cells, of no cells.
    pub fn common_peers(&self, cells: CellSet) -> CellSet {
        let all: CellSet = if cells.is_empty() { self.size().all_cells().collect() } else { CellSet::EMPTY };
        cells.iter().map(|cell| *self.peers(cell)).reduce(CellSet::intersection).unwrap_or(all)
    }

    fn checked_index(&self, cell: Cell) -> usize {
        assert!(self.size().contains(cell), "the grid has no {cell}");
        self.size().index(cell)
    }
}

/// The rows and then the columns.
fn lines(size: Size) -> impl Iterator<Item = House> {
    let row = move |row: u8| (0..size.side()).map(|col| Cell::new(row, col)).collect();
    let column = move |col: u8| (0..size.side()).map(|row| Cell::new(row, col)).collect();
    let rows = (0..size.side()).map(move |at| House::new(HouseName::Row(at + 1), row(at)));
    let columns = (0..size.side()).map(move |at| House::new(HouseName::Column(at + 1), column(at)));
    rows.chain(columns)
}

fn region_fault(size: Size, region: char, cells: &[Cell]) -> Option<RegionFault> {
    if cells.len() != size.usize() {
        return Some(RegionFault::CellCount { region, size, cells: cells.to_vec() });
    }
    let pieces = pieces(cells);
    (pieces.len() > 1).then_some(RegionFault::InPieces { region, pieces })
}

/// The pieces that hang together along sides of cells, largest first.
fn pieces(cells: &[Cell]) -> Vec<Vec<Cell>> {
    let mut left: CellSet = cells.iter().copied().collect();
    let mut pieces = Vec::new();
    while let Some(first) = left.iter().next() {
        left.remove(first);
        let mut piece = vec![first];
        let mut looked_at = 0;
        while let Some(&cell) = piece.get(looked_at) {
            looked_at += 1;
            piece.extend(cell.neighbours().filter(|&next| left.remove(next)));
        }
        piece.sort_unstable();
        pieces.push(piece);
    }
    pieces.sort_by_key(|piece| std::cmp::Reverse(piece.len()));
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(side: u8) -> Size {
        Size::new(side).unwrap()
    }

    fn names(layout: &Layout, cell: Cell) -> Vec<String> {
        layout.houses_of(cell).map(|house| house.name.to_string()).collect()
    }

    fn regions(text: &str) -> Result<Layout, LayoutError> {
        let letters: Vec<char> = text.chars().filter(|letter| !letter.is_whitespace()).collect();
        Layout::with_regions(size(4), &letters)
    }

    #[test]
    fn a_cell_knows_its_houses_and_whom_it_sees() {
        let layout = Layout::classic(size(9)).unwrap().and_diagonals();
        assert_eq!(layout.houses().len(), 29);
        assert_eq!(names(&layout, Cell::new(3, 5)), ["row 4", "col 6", "box 5", "diagonal 2"]);
        assert_eq!(layout.peers(Cell::new(0, 1)).len(), 20);
        assert_eq!(layout.peers(Cell::new(4, 4)).len(), 32);
        assert!(layout.sees(Cell::new(0, 0), Cell::new(8, 8)));
        assert!(!layout.sees(Cell::new(0, 0), Cell::new(0, 0)));
        assert!(!layout.sees(Cell::new(0, 1), Cell::new(8, 8)));
    }

    #[test]
    fn boxes_are_rows_by_columns() {
        let six = Layout::classic(size(6)).unwrap();
        let box_2 = &six.house(&HouseName::Box(2)).unwrap().cells;
        assert_eq!(listed(box_2), "r1c4 r1c5 r1c6 r2c4 r2c5 r2c6");
        let wrong = Layout::with_boxes(size(6), BoxShape { rows: 2, columns: 2 }).unwrap_err();
        assert_eq!(wrong.to_string(), "a box of 2x2 has 4 cells, but at size 6 it needs 6");
        assert_eq!(Layout::classic(size(7)), None);
    }

    #[test]
    fn regions_are_equal_and_connected() {
        let layout = regions("AABB AABB CCDD CCDD").unwrap();
        assert_eq!(layout.regions().as_deref(), Some("AABBAABBCCDDCCDD"));
        assert_eq!(names(&layout, Cell::new(2, 1)), ["row 3", "col 2", "region C"]);
        let count = regions("AABB AABB CCCD CCDD").unwrap_err().to_string();
        assert_eq!(count, "region C has 5 cells, but should have 4; region D has 3 cells, but should have 4");
        let cut = regions("AABB AADB CBDD CCCD").unwrap_err();
        assert_eq!(cut.to_string(), "region B is in 2 pieces: r3c2 is cut off from the rest");
        let LayoutError::Regions(faults) = cut else { panic!("{cut}") };
        assert_eq!((faults[0].region(), listed(&faults[0].cells())), ('B', "r3c2".to_owned()));
    }

    #[test]
    fn extra_houses_have_as_many_cells_as_a_side() {
        let classic = || Layout::classic(size(4)).unwrap();
        let cells =
            |list: &[(u8, u8)]| list.iter().map(|&(row, col)| Cell::new(row, col)).collect::<Vec<_>>();
        let middle = cells(&[(2, 2), (1, 1), (1, 2), (2, 1)]);
        let layout = classic().and_house("middle", middle.clone()).unwrap();
        assert_eq!(names(&layout, Cell::new(1, 1)), ["row 2", "col 2", "box 1", "house middle"]);
        let order = |layout: &Layout| names(layout, Cell::new(1, 1)).split_off(3);
        assert_eq!(order(&layout.clone().and_diagonals()), ["diagonal 1", "house middle"]);
        let wrong = |layout: Layout, list| layout.and_house("middle", list).unwrap_err().to_string();
        assert_eq!(wrong(layout, middle.clone()), "there are two extra houses with the name of house middle");
        assert_eq!(
            wrong(classic(), middle[1..].to_vec()),
            "house middle has 3 different cells, but at size 4 it needs 4"
        );
        assert_eq!(
            wrong(classic(), cells(&[(0, 0), (1, 1), (0, 0), (2, 2)])),
            "house middle names r1c1 twice"
        );
        assert_eq!(
            wrong(classic(), cells(&[(0, 0), (1, 1), (0, 4), (2, 2)])),
            "house middle names r1c5, which a grid of size 4 does not have"
        );
    }
}
