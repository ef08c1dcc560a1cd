//! What a reader knows: the digits that stand, and for each open cell the digits that are still possible.

use std::ops::RangeInclusive;

use smallvec::SmallVec;

use super::Claim;
use super::marks::{Counts, Marks};
use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, HouseId, Layout, bits};

/// More cells that lose something by one claim are rare.
const FEW: usize = 8;

/// The digits on the board and the candidates of the open cells, in views of each house that are kept in step: the
/// candidates of its cells, the places of its digits, and what it misses or has one place for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Position {
    layout: Layout,
    grid: Grid,
    /// In the order of the layout's houses, the rows first.
    houses: Vec<Marks>,
    /// For each row how many candidates its cells have.
    rows: Vec<Counts>,
    /// For each digit the cells that could hold it.
    cells: Vec<CellSet>,
    /// The houses that miss just one digit, rising.
    nearly_full: Vec<HouseId>,
    /// How many cells are open.
    open: usize,
    /// Whether it is known that it leads to just one solution of a puzzle, all of whose givens stand in it.
    has_one_solution: bool,
}

impl Position {
    /// The position of a grid in which each digit has been struck from the cells that see it.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn new(layout: &Layout, grid: &Grid) -> Position {
        Position::with(layout, grid, |position, cell| {
            let missing = layout.slots(cell).iter().map(|slot| position.missing(slot.house));
            missing.fold(layout.size().digits(), DigitSet::intersection)
        })
    }

    /// The position of a grid in which nothing has been looked at: every open cell may hold every digit.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn unmarked(layout: &Layout, grid: &Grid) -> Position {
        Position::with(layout, grid, |_, _| layout.size().digits())
    }

    /// The position of a grid, where so can be told what an open cell may hold when it is known what the houses miss.
    fn with(layout: &Layout, grid: &Grid, candidates: impl Fn(&Position, Cell) -> DigitSet) -> Position {
        assert!(layout.size() == grid.size(), "the grid has the layout's size");
        let mut position = Position {
            layout: layout.clone(),
            grid: grid.clone(),
            houses: vec![Marks::empty(layout.size()); layout.houses().len()],
            rows: vec![Counts::default(); layout.size().usize()],
            cells: vec![CellSet::EMPTY; layout.size().usize()],
            nearly_full: Vec::new(),
            open: grid.size().cells(),
            has_one_solution: false,
        };
        layout.size().all_cells().for_each(|cell| {
            if let Some(digit) = grid[cell] {
                position.open -= 1;
                for slot in layout.slots(cell) {
                    position.houses[slot.house.place()].missing.remove(digit);
                }
            }
        });
        let misses_one = |house: &HouseId| position.missing(*house).only().is_some();
        position.nearly_full = layout.house_ids().filter(misses_one).collect();
        layout.size().all_cells().filter(|&cell| grid[cell].is_none()).for_each(|cell| {
            let candidates = candidates(&position, cell);
            position.rows[usize::from(cell.row())].fill(cell.col(), candidates.len().to_le_bytes()[0]);
            for slot in layout.slots(cell) {
                position.houses[slot.house.place()].mark(slot.at, candidates);
            }
        });
        for (row, marks) in (0..layout.size().side()).zip(&position.houses) {
            for (cells, &places) in position.cells.iter_mut().zip(marks.all_places(layout.size().usize())) {
                cells.insert_row(row, places);
            }
        }
        position
    }

    /// The same, with the knowledge that it belongs to a puzzle with just one solution, all of whose givens stand in it.
    /// Who says so must have counted.
    #[must_use]
    pub fn with_one_solution(self) -> Position {
        Position { has_one_solution: true, ..self }
    }

    /// Whether it is known that there is just one solution. Unknown it is, unless somebody said so.
    pub fn has_one_solution(&self) -> bool {
        self.has_one_solution
    }

    /// The same, where an open cell may also hold this digit.
    ///
    /// # Panics
    /// If the grid has no such cell.
    #[must_use]
    pub fn allowing(&self, cell: Cell, digit: Digit) -> Position {
        let position = Position::with(&self.layout, &self.grid, |_, other| {
            let allowed = if other == cell { DigitSet::single(digit) } else { DigitSet::EMPTY };
            self.candidates(other) | allowed
        });
        Position { has_one_solution: self.has_one_solution, ..position }
    }

    /// The layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The digits that stand.
    pub fn grid(&self) -> &Grid {
        &self.grid
    }

    /// The candidates of a cell; none if it holds a digit.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn candidates(&self, cell: Cell) -> DigitSet {
        assert!(self.layout.size().contains(cell), "the grid has no {cell}");
        self.houses[usize::from(cell.row())].cell(cell.col())
    }

    /// Where a house can still have a digit that it misses: a bit for each cell, in the order of the house's cells.
    pub fn places(&self, house: HouseId, digit: Digit) -> u32 {
        self.houses[house.place()].places(digit)
    }

    /// Where a house can still have each digit, see [`Position::places`]; none for a digit that it has.
    pub fn places_in(&self, house: HouseId) -> &[u32] {
        self.houses[house.place()].all_places(self.layout.size().usize())
    }

    /// The candidates of each cell of a house, in the order of the house's cells; none for a cell that holds a digit.
    pub fn candidates_in(&self, house: HouseId) -> &[DigitSet] {
        self.houses[house.place()].candidates(self.layout.size().usize())
    }

    /// The cells of a house that have so many candidates, one at least: a bit for each, in the order of the house's cells.
    #[inline]
    pub fn cells_with(&self, house: HouseId, counts: RangeInclusive<u8>) -> u32 {
        match self.rows.get(house.place()) {
            Some(row) => row.with(counts),
            None => self.counted_cells(house, &counts),
        }
    }

    fn counted_cells(&self, house: HouseId, counts: &RangeInclusive<u8>) -> u32 {
        let has = |cell: &Cell| counts.contains(&self.rows[usize::from(cell.row())].at(cell.col()));
        let cells = self.layout.at(house).cells.iter().zip(0..);
        cells.fold(0, |all, (cell, at)| all | u32::from(has(cell)) << at)
    }

    /// The digits that do not stand in a house.
    pub fn missing(&self, house: HouseId) -> DigitSet {
        self.houses[house.place()].missing
    }

    /// The houses that miss just one digit, each with that.
    pub fn nearly_full(&self) -> impl Iterator<Item = (HouseId, Digit)> {
        self.nearly_full.iter().filter_map(|&house| Some((house, self.missing(house).only()?)))
    }

    /// The digits that so many cells of a house can hold, one at least.
    pub fn digits_with(&self, house: HouseId, counts: RangeInclusive<u8>) -> DigitSet {
        self.houses[house.place()].digits_with(counts)
    }

    /// The digits that a house misses and can have in so many cells, one at least.
    pub fn missing_with(&self, house: HouseId, counts: RangeInclusive<u8>) -> DigitSet {
        self.digits_with(house, counts) & self.missing(house)
    }

    /// The cell of a house where it can still have a digit, if there is just one.
    #[inline]
    pub fn only_cell(&self, house: HouseId, digit: Digit) -> Option<Cell> {
        let places = self.places(house, digit);
        places.is_power_of_two().then(|| self.layout.at(house).cells[places.trailing_zeros() as usize])
    }

    /// The cells of a house where it can still have a digit.
    pub fn cells(&self, house: HouseId, digit: Digit) -> CellSet {
        self.cells_at(house, self.places(house, digit))
    }

    /// The cells of a house in the places of these bits, see [`Position::places`].
    pub fn cells_at(&self, house: HouseId, places: u32) -> CellSet {
        let cells = &self.layout.at(house).cells;
        bits(places).map(|at| cells[usize::from(at)]).collect()
    }

    /// The cells that could hold a digit.
    pub fn cells_with_candidate(&self, digit: Digit) -> &CellSet {
        &self.cells[digit.place()]
    }

    /// How many cells are open.
    pub fn open(&self) -> usize {
        self.open
    }

    /// Whether every cell holds a digit.
    pub fn is_finished(&self) -> bool {
        self.open == 0
    }

    /// Strikes candidates from a cell.
    pub fn strike(&mut self, cell: Cell, digits: DigitSet) {
        for digit in (self.candidates(cell) & digits).iter() {
            self.rows[usize::from(cell.row())].fall(cell.col());
            for slot in self.layout.slots(cell) {
                self.houses[slot.house.place()].strike(slot.at, digit);
            }
            self.cells[digit.place()].remove(cell);
        }
    }

    /// Writes a digit into an open cell, and strikes it from the cells that see it.
    ///
    /// # Panics
    /// If the cell holds a digit.
    pub fn place(&mut self, cell: Cell, digit: Digit) {
        assert!(self.grid.get(cell).is_none(), "{cell} is open");
        self.grid.set(cell, Some(digit));
        let slots = self.layout.slots(cell);
        for here in self.candidates(cell).iter() {
            self.cells[here.place()].remove(cell);
            for slot in slots {
                self.houses[slot.house.place()].strike(slot.at, here);
            }
        }
        self.rows[usize::from(cell.row())].clear(cell.col());
        self.open -= 1;
        for slot in slots {
            let marks = &mut self.houses[slot.house.place()];
            let was_missing = marks.missing.remove(digit);
            if marks.missing.is_empty() {
                self.nearly_full.retain(|&house| house != slot.house);
            } else if was_missing && marks.missing.only().is_some() {
                let at = self.nearly_full.partition_point(|&house| house < slot.house);
                self.nearly_full.insert(at, slot.house);
            }
        }
        let seeing = self.cells[digit.place()] & *self.layout.peers(cell);
        self.cells[digit.place()] -= seeing;
        seeing.iter().for_each(|cell| {
            self.rows[usize::from(cell.row())].fall(cell.col());
            for slot in self.layout.slots(cell) {
                self.houses[slot.house.place()].strike(slot.at, digit);
            }
        });
    }

    /// Whether each two of these cells share a house.
    fn see_each_other(&self, cells: CellSet) -> bool {
        cells.iter().all(|cell| (cells - CellSet::single(cell)).is_subset(self.layout.peers(cell)))
    }

    /// Calls `strike` with each candidate that a reader strikes after these claims: what the claims say, and what
    /// follows from them by the rule that no house holds a digit twice. The same may come more than once.
    pub fn each_strike(&self, claims: &[Claim], mut strike: impl FnMut(Cell, DigitSet)) {
        let mut out = |cell: Cell, digits: DigitSet| {
            let there = self.candidates(cell) & digits;
            if !there.is_empty() {
                strike(cell, there);
            }
        };
        for claim in claims {
            match *claim {
                Claim::Is { cells, digits } => self.strikes_of_set(cells, digits, &mut out),
                Claim::IsNot { cells, digits } => cells.iter().for_each(|cell| out(cell, digits)),
                Claim::Within { house, digits, cells } => {
                    for digit in digits.iter() {
                        let all = self.cells(house, digit);
                        let single = DigitSet::single(digit);
                        (all - cells).iter().for_each(|cell| out(cell, single));
                        if !(all & cells).is_empty() {
                            self.layout.common_peers(all & cells).iter().for_each(|cell| out(cell, single));
                        }
                    }
                    if cells.len() == digits.len() {
                        self.strikes_of_set(cells, digits, &mut out);
                    }
                }
            }
        }
    }

    fn strikes_of_set(&self, cells: CellSet, digits: DigitSet, out: &mut impl FnMut(Cell, DigitSet)) {
        for cell in cells.iter() {
            out(cell, self.candidates(cell) - digits);
            if let Some(digit) = digits.only() {
                let seeing = *self.layout.peers(cell) & self.cells[digit.place()];
                seeing.iter().for_each(|peer| out(peer, digits));
            }
        }
        if digits.len() > 1 && cells.len() == digits.len() && self.see_each_other(cells) {
            self.layout.common_peers(cells).iter().for_each(|cell| out(cell, digits));
        }
    }

    /// The candidates that a reader strikes after these claims, see [`Position::each_strike`]; each cell once, in
    /// reading order.
    pub fn strikes(&self, claims: &[Claim]) -> Vec<(Cell, DigitSet)> {
        let mut found: Vec<(Cell, DigitSet)> = Vec::new();
        self.each_strike(claims, |cell, digits| found.push((cell, digits)));
        found.sort_unstable_by_key(|(cell, _)| *cell);
        found.dedup_by(|(cell, more), (last, digits)| {
            let same = cell == last;
            if same {
                *digits |= *more;
            }
            same
        });
        found
    }

    /// Whether a reader strikes anything after these claims.
    pub fn strikes_any(&self, claims: &[Claim]) -> bool {
        let mut any = false;
        self.each_strike(claims, |_, _| any = true);
        any
    }

    /// Takes note of claims: strikes what they rule out, and writes the digits that they place.
    pub fn apply(&mut self, claims: &[Claim]) {
        for claim in claims {
            if let Some(digit) = claim.digits().only().filter(|_| claim.places()) {
                let mut cells = claim.cells();
                while let Some(cell) = cells.first() {
                    cells.remove(cell);
                    if self.grid.get(cell).is_none() {
                        self.place(cell, digit);
                    }
                }
            } else {
                let mut struck = SmallVec::<[_; FEW]>::new();
                self.each_strike(std::slice::from_ref(claim), |cell, digits| struck.push((cell, digits)));
                for (cell, digits) in struck {
                    self.strike(cell, digits);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_views_are_kept_in_step(
            digits in proptest::collection::vec(0_u8..12, 16),
            changes in proptest::collection::vec((0_usize..16, 0_u32..16, any::<bool>()), 0..12),
        ) {
            let size = Size::new(4).unwrap();
            let layout = Layout::classic(size).unwrap().and_diagonals();
            let cells: Vec<Cell> = size.all_cells().collect();
            let mut grid = Grid::empty(size);
            for (&cell, digit) in cells.iter().zip(digits) {
                grid.set(cell, Digit::new(digit).filter(|digit| digit.value() <= size.side()));
            }
            let mut position = Position::new(&layout, &grid);
            for (at, bits, places) in changes {
                let digits = DigitSet::from_bits(bits);
                match digits.iter().next() {
                    Some(digit) if places && position.grid()[cells[at]].is_none() => position.place(cells[at], digit),
                    _ => position.strike(cells[at], digits),
                }
                let afresh = Position::with(&layout, position.grid(), |_, cell| position.candidates(cell));
                prop_assert_eq!(&position, &afresh);
            }
            for (house, count) in layout.house_ids().flat_map(|house| (1..=4_u8).map(move |count| (house, count))) {
                let few = |left: u32| (1..=count.into()).contains(&left.count_ones());
                let counted = |left: &mut dyn Iterator<Item = u32>| {
                    left.zip(0..).fold(0, |all, (left, at)| all | u32::from(few(left)) << at)
                };
                let cells = counted(&mut position.candidates_in(house).iter().map(|here| here.bits()));
                prop_assert_eq!(position.cells_with(house, 1..=count), cells);
                let digits = counted(&mut position.places_in(house).iter().copied());
                prop_assert_eq!(position.digits_with(house, 1..=count).bits(), digits);
            }
        }
    }
}
