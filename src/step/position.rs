//! What a reader knows: the digits that stand, and for each open cell the digits that are still possible.

use super::Claim;
use crate::board::{self, Candidates, Cell, CellSet, Digit, DigitSet, Grid, HouseId, Layout};

/// The digits on the board and the candidates of the open cells, in views that are kept in step: the candidates of a
/// cell, those of the cells of a house, the places of a digit in a house, and what a house misses or has one place for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Position {
    layout: Layout,
    grid: Grid,
    candidates: Candidates,
    /// For each house and each digit, a bit for each cell of the house that can hold it.
    places: Vec<u32>,
    /// For each house and each of its cells, the cell's candidates.
    in_house: Vec<DigitSet>,
    /// For each house, the digits that it does not have.
    missing: Vec<DigitSet>,
    /// For each house, the digits that just one of its cells can hold.
    one_place: Vec<DigitSet>,
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
        let missing = board::missing(layout, grid);
        let candidates = Candidates::within(layout, grid, &missing);
        Position::with(layout, grid, candidates, missing)
    }

    /// The position of a grid in which nothing has been looked at: every open cell may hold every digit.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn unmarked(layout: &Layout, grid: &Grid) -> Position {
        Position::with(layout, grid, Candidates::all(grid), board::missing(layout, grid))
    }

    fn with(layout: &Layout, grid: &Grid, candidates: Candidates, missing: Vec<DigitSet>) -> Position {
        assert!(layout.size() == grid.size(), "the grid has the layout's size");
        let side = layout.size().usize();
        let houses = layout.houses().len();
        let mut places = vec![0; houses * side];
        let mut in_house = vec![DigitSet::EMPTY; houses * side];
        for (cell, here) in candidates.iter().filter(|(_, here)| !here.is_empty()) {
            for slot in layout.slots(cell) {
                let house = slot.house.place() * side;
                in_house[house + usize::from(slot.at)] = here;
                for digit in here.iter() {
                    places[house + digit.place()] |= 1 << slot.at;
                }
            }
        }
        Position {
            layout: layout.clone(),
            grid: grid.clone(),
            candidates,
            one_place: in_house.chunks_exact(side).map(in_one).collect(),
            places,
            in_house,
            missing,
            open: grid.size().cells() - grid.filled(),
            has_one_solution: false,
        }
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
        let mut candidates = self.candidates.clone();
        candidates.allow(cell, digit);
        let position = Position::with(&self.layout, &self.grid, candidates, self.missing.clone());
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

    /// The candidates of every cell.
    pub fn all_candidates(&self) -> &Candidates {
        &self.candidates
    }

    /// The candidates of a cell; none if it holds a digit.
    pub fn candidates(&self, cell: Cell) -> DigitSet {
        self.candidates.at(cell)
    }

    /// Where a house can still have a digit that it misses: a bit for each cell, in the order of the house's cells.
    pub fn places(&self, house: HouseId, digit: Digit) -> u32 {
        self.places[house.place() * self.layout.size().usize() + digit.place()]
    }

    /// Where a house can still have each digit that it misses: the digit's place, and the bits of [`Position::places`].
    pub fn places_of_missing(&self, house: HouseId) -> impl Iterator<Item = (u8, u32)> {
        let side = self.layout.size().usize();
        let places = &self.places[house.place() * side..][..side];
        self.missing(house).iter().map(|digit| (digit.value() - 1, places[digit.place()]))
    }

    /// The candidates of each cell of a house, in the order of the house's cells; none for a cell that holds a digit.
    pub fn candidates_in(&self, house: HouseId) -> &[DigitSet] {
        let side = self.layout.size().usize();
        &self.in_house[house.place() * side..][..side]
    }

    /// The digits that do not stand in a house.
    pub fn missing(&self, house: HouseId) -> DigitSet {
        self.missing[house.place()]
    }

    /// The houses that miss just one digit, each with that.
    pub fn nearly_full(&self) -> impl Iterator<Item = (HouseId, Digit)> {
        let houses = self.layout.house_ids().zip(&self.missing);
        houses.filter_map(|(house, missing)| Some((house, missing.only()?)))
    }

    /// The digits that a house misses and can have in one cell only.
    pub fn with_one_place(&self, house: HouseId) -> DigitSet {
        self.one_place[house.place()] & self.missing(house)
    }

    /// The cell of a house where it can still have a digit, if there is just one.
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
        bits(places).map(|at| cells[at]).collect()
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
        let there = self.candidates.strike(cell, digits);
        if there.is_empty() {
            return;
        }
        let side = self.layout.size().usize();
        for slot in self.layout.slots(cell) {
            let house = slot.house.place() * side;
            self.in_house[house + usize::from(slot.at)] -= there;
            let one_place = &mut self.one_place[slot.house.place()];
            for digit in there.iter() {
                let places = &mut self.places[house + digit.place()];
                *places &= !(1 << slot.at);
                if places.is_power_of_two() {
                    one_place.insert(digit);
                } else {
                    one_place.remove(digit);
                }
            }
        }
    }

    /// Writes a digit into an open cell, and strikes it from the cells that see it.
    ///
    /// # Panics
    /// If the cell holds a digit.
    pub fn place(&mut self, cell: Cell, digit: Digit) {
        assert!(self.grid.get(cell).is_none(), "{cell} is open");
        self.grid.set(cell, Some(digit));
        self.open -= 1;
        self.strike(cell, self.candidates.at(cell));
        for number in 0..self.layout.slots(cell).len() {
            let house = self.layout.slots(cell)[number].house;
            self.missing[house.place()].remove(digit);
            for at in bits(self.places(house, digit)) {
                self.strike(self.layout.at(house).cells[at], DigitSet::single(digit));
            }
        }
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
            if digits.len() == 1 {
                self.layout.peers(cell).iter().for_each(|peer| out(peer, digits));
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
                for cell in claim.cells().iter() {
                    if self.grid.get(cell).is_none() {
                        self.place(cell, digit);
                    }
                }
            } else {
                let mut struck = Vec::new();
                self.each_strike(std::slice::from_ref(claim), |cell, digits| struck.push((cell, digits)));
                for (cell, digits) in struck {
                    self.strike(cell, digits);
                }
            }
        }
    }
}

/// The digits that are in just one of these sets.
fn in_one(sets: &[DigitSet]) -> DigitSet {
    let (mut any, mut several) = (DigitSet::EMPTY, DigitSet::EMPTY);
    for &set in sets {
        several |= any & set;
        any |= set;
    }
    any - several
}

/// The places of the bits that are set, rising.
fn bits(mut word: u32) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let at = word.trailing_zeros() as usize;
        (word != 0).then(|| {
            word &= word - 1;
            at
        })
    })
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
                let grid = position.grid();
                let missing = board::missing(&layout, grid);
                let afresh = Position::with(&layout, grid, position.candidates.clone(), missing);
                prop_assert_eq!(&position, &afresh);
            }
        }
    }
}
