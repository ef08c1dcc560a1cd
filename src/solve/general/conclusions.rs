//! The plain conclusions: a cell with one candidate holds it; a digit with one place in a house stands there; where all
//! places of a digit in one house lie in another house too, the rest of the other house cannot hold it; and no cell
//! holds what it has in no way to share out the digits of a house.

use super::matching::{MOST, NoWay, ones};
use super::net::Net;
use super::position::{Conflict, Position};

impl Position {
    /// Draws every plain conclusion.
    pub(super) fn conclude(&mut self, net: &Net) -> Result<(), Conflict> {
        let outcome = self.conclude_all(net);
        if outcome.is_err() {
            self.forget();
        }
        outcome
    }

    fn conclude_all(&mut self, net: &Net) -> Result<(), Conflict> {
        loop {
            if let Some((cell, digit)) = self.singles.pop() {
                self.settle(net, cell, digit)?;
            } else if let Some(house) = self.for_crossings.pop() {
                self.for_sets.insert(house);
                self.crossings(net, house)?;
            } else if let Some(house) = self.for_sets.pop() {
                self.sets(net, house)?;
            } else {
                return Ok(());
            }
        }
    }

    /// Where all places of a digit in the house lie in another house too, strikes it from the rest of that house.
    fn crossings(&mut self, net: &Net, house: usize) -> Result<(), Conflict> {
        for digit in ones(self.take_moved(house)) {
            let places = self.places(net, house)[digit];
            for crossing in net.crossings(house, places.trailing_zeros() as usize) {
                if places & !crossing.shared == 0 {
                    for place in ones(self.places(net, crossing.other)[digit] & crossing.beyond) {
                        self.strike(net, usize::from(net.house(crossing.other)[place]), 1 << digit)?;
                    }
                }
            }
        }
        Ok(())
    }

    /// Strikes from the cells of the house what they have in no way to share its digits out.
    fn sets(&mut self, net: &Net, house: usize) -> Result<(), Conflict> {
        let mut cells = [0; MOST];
        let mut open = 0;
        for (place, (bits, &cell)) in cells.iter_mut().zip(net.house(house)).enumerate() {
            *bits = self.cells()[usize::from(cell)];
            open |= u32::from(!bits.is_power_of_two()) << place;
        }
        // Among three cells there is no set that singles would not have found.
        if open.count_ones() < 4 {
            return Ok(());
        }
        let left = &mut cells[..net.side];
        match self.share_out(net, house, left, open) {
            Ok(false) => Ok(()),
            Ok(true) => {
                let mut cells = net.house(house).iter().zip(left);
                cells.try_for_each(|(&cell, left)| self.strike(net, usize::from(cell), !*left))
            }
            Err(NoWay) => Err(self.blame(net, house)),
        }
    }
}
