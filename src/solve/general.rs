//! The general search: assume a digit, draw the plain conclusions, go on or go back.
//!
//! The conclusions are: a cell with one candidate holds it; a digit with one place in a house stands there; where all
//! places of a digit in one house lie in another house too, the rest of the other house cannot hold it; and no cell
//! holds what it has in no way to share out the digits of a house. Houses that led into contradictions weigh more when
//! the next cell is chosen. All of it is decided by the position alone, so the same puzzle takes the same path on every
//! machine.

use std::sync::Arc;

use super::matching::{MOST, share_out};
use super::net::Net;
use super::way::Found;
use crate::board::{Cell, Digit, DigitSet, Grid};

/// A set of house numbers with something new to look at.
struct Dirty(Vec<u64>);

impl Dirty {
    fn new(count: usize) -> Dirty {
        Dirty(vec![0; count.div_ceil(64)])
    }

    fn insert(&mut self, house: usize) {
        self.0[house / 64] |= 1 << (house % 64);
    }

    fn pop(&mut self) -> Option<usize> {
        let (at, word) = self.0.iter_mut().enumerate().find(|(_, word)| **word != 0)?;
        let bit = word.trailing_zeros() as usize;
        *word &= *word - 1;
        Some(at * 64 + bit)
    }

    fn clear(&mut self) {
        self.0.fill(0);
    }
}

/// A contradiction.
struct Conflict;

/// A search through the solutions of one position.
pub(super) struct Search {
    net: Arc<Net>,
    /// The digits that each cell can still hold, as bits.
    candidates: Vec<u32>,
    /// The digits that each house has placed, as bits.
    placed: Vec<u32>,
    /// Cells that have come down to one candidate, which their peers have not yet lost.
    singles: Vec<u16>,
    /// Houses to look through for digits with one place.
    for_places: Dirty,
    /// Houses then to look through for digits that lie in a crossing.
    for_crossings: Dirty,
    /// Houses at last to look through for sets.
    for_sets: Dirty,
    /// For each cell, how much its houses have had to do with contradictions.
    weights: Vec<u32>,
    /// For each cell, the digits to try first.
    preferred: Vec<u32>,
    /// What was assumed, and the candidates and placed digits before it, end to end.
    assumed: Vec<(usize, u32)>,
    saved: Vec<u32>,
    /// Whether the current position is free of contradictions and not yet reported.
    open: bool,
    nodes: u64,
}

impl Search {
    /// A search for the solutions that have these digits.
    pub(super) fn new(net: Arc<Net>, givens: &Grid) -> Search {
        let mut search = Search {
            candidates: vec![net.digits; net.cells.len()],
            placed: vec![0; net.house_count],
            singles: Vec::new(),
            for_places: Dirty::new(net.house_count),
            for_crossings: Dirty::new(net.house_count),
            for_sets: Dirty::new(net.house_count),
            weights: vec![1; net.cells.len()],
            preferred: vec![0; net.cells.len()],
            assumed: Vec::new(),
            saved: Vec::new(),
            open: true,
            nodes: 0,
            net,
        };
        for (cell, digit) in givens.digits() {
            let number = search.net.number(cell);
            search.open &= search.keep(number, DigitSet::single(digit).bits()).is_ok();
        }
        search.open = search.open && search.conclude().is_ok();
        search
    }

    /// The same search, for the solutions without this digit in this cell; to be said before the first step.
    pub(super) fn without(mut self, cell: Cell, digit: Digit) -> Search {
        let number = self.net.number(cell);
        let others = self.net.digits & !DigitSet::single(digit).bits();
        self.open = self.open && self.keep(number, others).is_ok() && self.conclude().is_ok();
        self
    }

    /// The same search, which first tries the digits of this grid, so that the solutions near it come early.
    pub(super) fn near(mut self, grid: &Grid) -> Search {
        for (cell, digit) in grid.digits() {
            self.preferred[self.net.number(cell)] = DigitSet::single(digit).bits();
        }
        self
    }

    /// How many assumptions were made so far.
    pub(super) fn nodes(&self) -> u64 {
        self.nodes
    }

    /// Goes on to the next solution, unless that takes more than `budget` assumptions in all.
    pub(super) fn advance(&mut self, budget: u64) -> Found {
        loop {
            if !self.open {
                let Some((cell, bit)) = self.assumed.pop() else { return Found::Nothing };
                self.restore();
                let others = self.candidates[cell] & !bit;
                self.open = self.keep(cell, others).is_ok() && self.conclude().is_ok();
            } else if let Some((cell, bit)) = self.choose() {
                if self.nodes >= budget {
                    return Found::Budget;
                }
                self.nodes += 1;
                self.assumed.push((cell, bit));
                self.saved.extend_from_slice(&self.candidates);
                self.saved.extend_from_slice(&self.placed);
                self.open = self.keep(cell, bit).is_ok() && self.conclude().is_ok();
            } else {
                self.open = false;
                return Found::Solution(self.solution());
            }
        }
    }

    fn restore(&mut self) {
        let placed_from = self.saved.len() - self.placed.len();
        self.placed.copy_from_slice(&self.saved[placed_from..]);
        let candidates_from = placed_from - self.candidates.len();
        self.candidates.copy_from_slice(&self.saved[candidates_from..placed_from]);
        self.saved.truncate(candidates_from);
    }

    fn solution(&self) -> Grid {
        let mut grid = Grid::empty(self.net.size);
        for (&cell, &bits) in self.net.cells.iter().zip(&self.candidates) {
            grid.set(cell, DigitSet::from_bits(bits).only());
        }
        grid
    }

    /// The cell to decide next, with a digit to try there; `None` if each cell has one candidate.
    fn choose(&self) -> Option<(usize, u32)> {
        let mut best: Option<(usize, u64, u64)> = None;
        for (cell, (&bits, &weight)) in self.candidates.iter().zip(&self.weights).enumerate() {
            let count = u64::from(bits.count_ones());
            let weight = u64::from(weight);
            if count > 1 && best.is_none_or(|(_, least, most)| count * most < least * weight) {
                best = Some((cell, count, weight));
            }
        }
        let (cell, _, _) = best?;
        let bits = self.candidates[cell];
        let pool = if bits & self.preferred[cell] != 0 { bits & self.preferred[cell] } else { bits };
        Some((cell, pool & pool.wrapping_neg()))
    }

    /// Leaves a cell no candidates but these.
    #[inline]
    fn keep(&mut self, cell: usize, bits: u32) -> Result<(), Conflict> {
        let left = self.candidates[cell] & bits;
        if left == self.candidates[cell] { Ok(()) } else { self.change(cell, left) }
    }

    /// Leaves a cell fewer candidates than it had.
    fn change(&mut self, cell: usize, left: u32) -> Result<(), Conflict> {
        self.candidates[cell] = left;
        if left == 0 {
            let net = Arc::clone(&self.net);
            net.houses_of.at(cell).iter().for_each(|&house| self.blame(&net, usize::from(house)));
            return Err(Conflict);
        }
        if left.is_power_of_two() {
            self.singles.push(u16::try_from(cell).expect("at most 625 cells"));
        }
        for &house in self.net.houses_of.at(cell) {
            self.for_places.insert(usize::from(house));
        }
        Ok(())
    }

    /// Draws every plain conclusion.
    fn conclude(&mut self) -> Result<(), Conflict> {
        let outcome = self.conclude_all();
        if outcome.is_err() {
            self.singles.clear();
            self.for_places.clear();
            self.for_crossings.clear();
            self.for_sets.clear();
        }
        outcome
    }

    fn conclude_all(&mut self) -> Result<(), Conflict> {
        let net = Arc::clone(&self.net);
        loop {
            if let Some(cell) = self.singles.pop() {
                let cell = usize::from(cell);
                let bit = self.candidates[cell];
                for &house in net.houses_of.at(cell) {
                    self.placed[usize::from(house)] |= bit;
                }
                for &peer in net.peers.at(cell) {
                    self.keep(usize::from(peer), !bit)?;
                }
            } else if let Some(house) = self.for_places.pop() {
                self.for_crossings.insert(house);
                self.single_places(&net, house)?;
            } else if let Some(house) = self.for_crossings.pop() {
                self.for_sets.insert(house);
                self.crossings(&net, house)?;
            } else if let Some(house) = self.for_sets.pop() {
                self.sets(&net, house)?;
            } else {
                return Ok(());
            }
        }
    }

    /// Places each digit that has one place in the house.
    fn single_places(&mut self, net: &Net, house: usize) -> Result<(), Conflict> {
        if self.placed[house] == net.digits {
            return Ok(());
        }
        let cells = net.houses.at(house);
        let (mut once, mut twice) = (0, 0);
        for &cell in cells {
            let bits = self.candidates[usize::from(cell)];
            twice |= once & bits;
            once |= bits;
        }
        if once != net.digits {
            self.blame(net, house);
            return Err(Conflict);
        }
        let single = once & !twice & !self.placed[house];
        if single != 0 {
            for &cell in cells {
                let here = self.candidates[usize::from(cell)] & single;
                if here != 0 {
                    // Two digits with this one cell between them leave it nothing in the end.
                    self.keep(usize::from(cell), here & here.wrapping_neg())?;
                }
            }
        }
        Ok(())
    }

    /// Strikes from the cells of the house what they have in no way to share its digits out.
    fn sets(&mut self, net: &Net, house: usize) -> Result<(), Conflict> {
        let mut cells = [0; MOST];
        let mut left = [0; MOST];
        let mut count = 0;
        for cell in net.houses.at(house).iter().copied().map(usize::from) {
            let bits = self.candidates[cell];
            if !bits.is_power_of_two() {
                cells[count] = cell;
                left[count] = bits;
                count += 1;
            }
        }
        // Among three cells there is no set that singles would not have found.
        if count < 4 {
            return Ok(());
        }
        if share_out(&mut left[..count]).is_err() {
            self.blame(net, house);
            return Err(Conflict);
        }
        for (&cell, &bits) in cells.iter().zip(&left).take(count) {
            self.keep(cell, bits)?;
        }
        Ok(())
    }

    /// Makes a house weigh more, for it led into a contradiction.
    fn blame(&mut self, net: &Net, house: usize) {
        for &cell in net.houses.at(house) {
            self.weights[usize::from(cell)] += 1;
        }
    }

    /// Where all places of a digit in the house lie in another house too, strikes it from the rest of that house.
    fn crossings(&mut self, net: &Net, house: usize) -> Result<(), Conflict> {
        let open = net.digits & !self.placed[house];
        if open == 0 {
            return Ok(());
        }
        for crossing in net.crossings_of[house].clone() {
            let shared = self.either(net.shared.at(crossing));
            let locked = open & shared & !self.either(net.rest.at(crossing));
            if locked != 0 {
                for &cell in net.beyond.at(crossing) {
                    self.keep(usize::from(cell), !locked)?;
                }
            }
        }
        Ok(())
    }

    /// The candidates of all these cells together.
    fn either(&self, cells: &[u16]) -> u32 {
        cells.iter().fold(0, |bits, &cell| bits | self.candidates[usize::from(cell)])
    }
}
