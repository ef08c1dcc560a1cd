//! A position of the general search: what is still possible, seen from the cells and from the houses.
//!
//! Both views are kept in step. So each candidate that goes shows at once where a cell comes down to one digit, or a
//! house to one place for a digit.

use super::houses::Houses;
use super::matching::{NoWay, Sharing, ones};
use super::net::{Net, Slot};
use crate::board::{Digit, DigitSet};

/// The weight that a cell has to begin with: as long as there were few contradictions, they shall not matter much.
const WEIGHT: u32 = 20;

/// A contradiction.
pub(super) struct Conflict;

/// What is still possible, and what has yet to be looked at.
pub(super) struct Position {
    /// For each cell the digits that it can still hold; then for each house the digits that it misses; then for each
    /// house and digit the places where a missing one can stand. All as bits.
    possible: Vec<u32>,
    /// Where the houses begin.
    houses: usize,
    /// Where the places begin.
    places: usize,
    /// Digits that have come down to one place, or cells to one digit, which others may not yet have lost.
    pub(super) singles: Vec<(usize, u32)>,
    /// The digits of each house that have lost a place.
    moved: Vec<u32>,
    /// The houses of these digits.
    pub(super) for_crossings: Houses,
    /// Houses then to look through for sets.
    pub(super) for_sets: Houses,
    /// For each house, a way to share its digits out.
    sharings: Vec<Sharing>,
    /// For each cell, how much its houses have had to do with contradictions.
    weights: Vec<u32>,
}

impl Position {
    /// Nothing is possible, until it begins.
    pub(super) fn new(net: &Net) -> Position {
        let houses = net.cells.len();
        let places = houses + net.house_count;
        Position {
            possible: vec![0; places + net.house_count * net.side],
            houses,
            places,
            singles: Vec::new(),
            moved: vec![0; net.house_count],
            for_crossings: Houses::new(net.house_count),
            for_sets: Houses::new(net.house_count),
            sharings: vec![Sharing::new(); net.house_count],
            weights: vec![WEIGHT; net.cells.len()],
        }
    }

    /// Takes up what the givens leave to the cells that see them.
    pub(super) fn begin(&mut self, net: &Net, givens: &[Option<Digit>]) -> Result<(), Conflict> {
        self.possible[self.houses..self.places].fill(net.digits);
        for (cell, given) in givens.iter().enumerate() {
            let digit = given.map_or(0, |digit| DigitSet::single(digit).bits());
            for slot in net.slots.at(cell) {
                let missing = &mut self.possible[self.houses + slot.house()];
                if *missing & digit != digit {
                    return Err(Conflict);
                }
                *missing &= !digit;
            }
        }
        for (cell, given) in givens.iter().enumerate() {
            let slots = net.slots.at(cell);
            if let Some(digit) = given {
                self.possible[cell] = DigitSet::single(*digit).bits();
                continue;
            }
            let left = slots.iter().fold(net.digits, |left, slot| left & self.missing(slot.house()));
            self.possible[cell] = left;
            self.see_cell(net, cell)?;
            for slot in slots {
                let places = self.places_mut(net, slot.house());
                ones(left).for_each(|digit| places[digit] |= slot.bit);
            }
        }
        for house in 0..net.house_count {
            self.moved[house] = self.missing(house);
            self.for_crossings.insert(house);
            let places = self.places(net, house);
            let few =
                ones(self.missing(house)).fold(0, |few, digit| few | at_most_one(places[digit]) << digit);
            self.see_places(net, house, few)?;
        }
        Ok(())
    }

    /// The digits that each cell can still hold, as bits.
    #[inline]
    pub(super) fn cells(&self) -> &[u32] {
        &self.possible[..self.houses]
    }

    /// For each cell, how much its houses have had to do with contradictions.
    pub(super) fn weights(&self) -> &[u32] {
        &self.weights
    }

    /// The digits that a house misses, as bits.
    #[inline]
    pub(super) fn missing(&self, house: usize) -> u32 {
        self.possible[self.houses + house]
    }

    /// The places that each digit has left in a house, as bits; of no use for one that the house does not miss.
    #[inline]
    pub(super) fn places(&self, net: &Net, house: usize) -> &[u32] {
        let from = self.places + house * net.side;
        &self.possible[from..from + net.side]
    }

    #[inline]
    fn places_mut(&mut self, net: &Net, house: usize) -> &mut [u32] {
        let from = self.places + house * net.side;
        &mut self.possible[from..from + net.side]
    }

    /// Strikes from the candidates of its cells what no way to share out the digits of a house needs; tells whether there
    /// was any. `open` are the places without a digit.
    pub(super) fn share_out(
        &mut self,
        net: &Net,
        house: usize,
        cells: &mut [u32],
        open: u32,
    ) -> Result<bool, NoWay> {
        let missing = self.missing(house);
        let from = self.places + house * net.side;
        self.sharings[house].share_out(cells, &self.possible[from..from + net.side], open, missing)
    }

    /// The missing digits of a house that have lost a place since this was last asked.
    pub(super) fn take_moved(&mut self, house: usize) -> u32 {
        std::mem::take(&mut self.moved[house]) & self.missing(house)
    }

    /// Puts what is possible on a stack.
    pub(super) fn save(&self, saved: &mut Vec<u32>) {
        saved.extend_from_slice(&self.possible);
    }

    /// Takes it from there again.
    pub(super) fn restore(&mut self, saved: &mut Vec<u32>) {
        let from = saved.len() - self.possible.len();
        self.possible.copy_from_slice(&saved[from..]);
        saved.truncate(from);
    }

    /// Forgets what has yet to be looked at.
    pub(super) fn forget(&mut self) {
        self.singles.clear();
        self.for_crossings.clear();
        self.for_sets.clear();
        self.moved.fill(0);
    }

    /// Takes candidates from a cell.
    #[inline]
    pub(super) fn strike(&mut self, net: &Net, cell: usize, digits: u32) -> Result<(), Conflict> {
        let gone = self.possible[cell] & digits;
        if gone == 0 { Ok(()) } else { self.strike_some(net, cell, gone) }
    }

    fn strike_some(&mut self, net: &Net, cell: usize, gone: u32) -> Result<(), Conflict> {
        self.possible[cell] &= !gone;
        self.see_cell(net, cell)?;
        self.leave_places(net, net.slots.at(cell), gone)
    }

    /// Gives a cell a digit.
    pub(super) fn settle(&mut self, net: &Net, cell: usize, digit: u32) -> Result<(), Conflict> {
        let slots = net.slots.at(cell);
        let others = self.possible[cell] & !digit;
        if self.possible[cell] == others {
            return Err(self.blame_all(net, slots));
        }
        if self.missing(slots[0].house()) & digit == 0 {
            // It was seen more than once, from the cell and from a house.
            return Ok(());
        }
        self.possible[cell] = digit;
        for slot in slots {
            self.possible[self.houses + slot.house()] &= !digit;
        }
        self.leave_places(net, slots, others)?;
        let number = digit.trailing_zeros() as usize;
        for slot in slots {
            let house = slot.house();
            for place in ones(self.places(net, house)[number] & !slot.bit) {
                self.strike(net, usize::from(net.house(house)[place]), digit)?;
            }
        }
        Ok(())
    }

    /// Takes these digits from these places.
    fn leave_places(&mut self, net: &Net, slots: &[Slot], digits: u32) -> Result<(), Conflict> {
        for slot in slots {
            let house = slot.house();
            let gone = digits & self.missing(house);
            if gone != 0 {
                self.moved[house] |= gone;
                self.for_crossings.insert(house);
                let places = self.places_mut(net, house);
                let mut few = 0;
                for digit in ones(gone) {
                    places[digit] &= !slot.bit;
                    few |= at_most_one(places[digit]) << digit;
                }
                if few != 0 {
                    self.see_places(net, house, few)?;
                }
            }
        }
        Ok(())
    }

    /// Notes if a cell has come down to one digit.
    #[inline]
    fn see_cell(&mut self, net: &Net, cell: usize) -> Result<(), Conflict> {
        let left = self.possible[cell];
        if at_most_one(left) == 1 {
            if left == 0 {
                return Err(self.blame_all(net, net.slots.at(cell)));
            }
            self.singles.push((cell, left));
        }
        Ok(())
    }

    /// Notes digits of a house that have come down to one place.
    fn see_places(&mut self, net: &Net, house: usize, digits: u32) -> Result<(), Conflict> {
        for digit in ones(digits) {
            let place = self.places(net, house)[digit];
            if place == 0 {
                return Err(self.blame(net, house));
            }
            let cell = net.house(house)[place.trailing_zeros() as usize];
            self.singles.push((usize::from(cell), 1 << digit));
        }
        Ok(())
    }

    /// Makes the cells of a house weigh more, for it has led into a contradiction.
    pub(super) fn blame(&mut self, net: &Net, house: usize) -> Conflict {
        for &cell in net.house(house) {
            self.weights[usize::from(cell)] += 1;
        }
        Conflict
    }

    fn blame_all(&mut self, net: &Net, slots: &[Slot]) -> Conflict {
        for slot in slots {
            self.blame(net, slot.house());
        }
        Conflict
    }
}

/// 1 if no more than one bit is set.
#[inline]
fn at_most_one(bits: u32) -> u32 {
    u32::from(bits & bits.wrapping_sub(1) == 0)
}
