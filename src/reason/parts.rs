//! How the digits of a house part its cells. Where each candidate of a house has its turn when its cells are filled in
//! every way, its sets of cells and digits are parts of it, which say nothing new inside it; and outside only where a
//! part lies in a second house too.

use smallvec::SmallVec;

use super::tables::Tables;
use crate::board::{DigitSet, HouseId, MAX_SIDE, bits};
use crate::step::Position;

/// For each house how its digits part its cells, looked at when it is first asked for.
#[derive(Debug, Default)]
pub(super) struct Parts {
    houses: Vec<House>,
    /// The houses that may have a set.
    open: Vec<HouseId>,
    /// Whether they are those of the position that is looked at.
    are_known: bool,
}

/// What a house missed and where it could have each digit when it was looked at last, and how it was parted then.
#[derive(Clone, Debug)]
struct House {
    missing: DigitSet,
    places: [u32; MAX_SIDE as usize],
    /// Those of which something may follow; `None` if some candidate has no turn.
    parts: Option<SmallVec<[Part; 2]>>,
}

impl House {
    /// One that misses nothing.
    fn full() -> House {
        House { missing: DigitSet::EMPTY, places: [0; MAX_SIDE as usize], parts: Some(SmallVec::new()) }
    }
}

/// Cells that hold as many digits and no others.
type Part = (u32, DigitSet);

impl Parts {
    /// Another position is looked at.
    pub(super) fn turn(&mut self) {
        self.are_known = false;
    }

    /// The houses of which some cells or digits may be a set from which something follows, in their order.
    pub(super) fn open(&mut self, tables: &Tables, position: &Position) -> &[HouseId] {
        if !self.are_known {
            self.look_at(tables, position);
            self.are_known = true;
        }
        &self.open
    }

    fn look_at(&mut self, tables: &Tables, position: &Position) {
        self.houses.resize(position.layout().houses().len(), House::full());
        self.open.clear();
        for (id, house) in position.layout().house_ids().zip(&mut self.houses) {
            let (missing, places) = (position.missing(id), position.places_in(id));
            if missing != house.missing || *places != house.places[..places.len()] {
                house.missing = missing;
                house.places[..places.len()].copy_from_slice(places);
                let counts = |cells| tables.uneven || tables.crossings_around(id, cells).next().is_some();
                house.parts = parting(position.candidates_in(id), places, missing, counts);
            }
            let is_open = house.parts.as_ref().is_none_or(|parts| {
                let strikes = |&(cells, digits): &Part| tables.strikes_elsewhere(id, cells, digits, position);
                // Cells outside may see a part by chance.
                (tables.uneven && parts.len() > 1) || parts.iter().any(strikes)
            });
            if is_open {
                self.open.push(id);
            }
        }
    }
}

/// How the digits that are missing, which have these places, part cells that have these candidates: the parts whose cells
/// count. `None` if some candidate has no turn.
fn parting(
    candidates: &[DigitSet],
    places: &[u32],
    missing: DigitSet,
    counts: impl Fn(u32) -> bool,
) -> Option<SmallVec<[Part; 2]>> {
    let mut pairing = Pairing { candidates, owner: [0; MAX_SIDE as usize], taken: 0 };
    let mut all = 0;
    for (cell, here) in (0..).zip(candidates).filter(|(_, here)| !here.is_empty()) {
        if !pairing.takes_free_digit(cell) && !pairing.finds_digit(cell, &mut 0) {
            return None;
        }
        all |= here.bits();
    }
    if all != missing.bits() || all != pairing.taken {
        return None;
    }
    let owner = |digit: u8| pairing.owner[usize::from(digit)];
    let mut digit_of = [0; MAX_SIDE as usize];
    bits(all).for_each(|digit| digit_of[usize::from(owner(digit))] = usize::from(digit));
    // What the cell of a digit could hold in its place, and which cells could hold the digit of a cell.
    let instead = |digit: u8| candidates[usize::from(owner(digit))].bits();
    let holding = |cell: u8| places[digit_of[usize::from(cell)]];
    let (mut rest, mut parts) = (all, SmallVec::new());
    while rest != 0 {
        let first = rest & rest.wrapping_neg();
        let part = led_to(first, instead);
        let cells = bits(part).fold(0, |cells, digit| cells | 1 << owner(digit));
        // Whatever it leads to must lead back.
        if cells & !led_to(places[first.trailing_zeros() as usize], holding) != 0 {
            return None;
        }
        if counts(cells) {
            parts.push((cells, DigitSet::from_bits(part)));
        }
        rest &= !part;
    }
    Some(parts)
}

/// All that comes of a bit, each of which leads to others.
fn led_to(first: u32, onward: impl Fn(u8) -> u32) -> u32 {
    let (mut all, mut new) = (first, first);
    while let Some(bit) = bits(new).next() {
        let more = onward(bit) & !all;
        new = new & (new - 1) | more;
        all |= more;
    }
    all
}

/// A digit of its own for each cell, as far as it has come.
struct Pairing<'a> {
    candidates: &'a [DigitSet],
    /// For each digit that is taken, its cell.
    owner: [u8; MAX_SIDE as usize],
    taken: u32,
}

impl Pairing<'_> {
    /// Takes a digit for a cell that no other has.
    #[inline]
    fn takes_free_digit(&mut self, cell: u8) -> bool {
        let free = self.candidates[usize::from(cell)].bits() & !self.taken;
        if free != 0 {
            self.taken |= free & free.wrapping_neg();
            self.owner[free.trailing_zeros() as usize] = cell;
        }
        free != 0
    }

    /// Finds a digit for a cell by moving others; `tried` are digits that are no use.
    fn finds_digit(&mut self, cell: u8, tried: &mut u32) -> bool {
        bits(self.candidates[usize::from(cell)].bits()).map(usize::from).any(|digit| {
            let is_new = *tried & 1 << digit == 0;
            *tried |= 1 << digit;
            let other = self.owner[digit];
            let found = is_new && (self.takes_free_digit(other) || self.finds_digit(other, tried));
            if found {
                self.owner[digit] = cell;
            }
            found
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The digits that each of some cells has when all get digits of their own in every way, of those not taken.
    fn turns(cells: &[u32], taken: u32) -> Vec<u32> {
        let mut turns = vec![0; cells.len()];
        for digit in cells.first().into_iter().flat_map(|first| bits(first & !taken)).map(|at| 1 << at) {
            let later = self::turns(&cells[1..], taken | digit);
            if later.iter().all(|&here| here != 0) {
                turns[0] |= digit;
                turns[1..].iter_mut().zip(later).for_each(|(all, here)| *all |= here);
            }
        }
        turns
    }

    proptest! {
        #[test]
        fn a_house_is_open_where_a_candidate_has_no_turn(cells in proptest::collection::vec(1_u32..32, 5)) {
            prop_assert_eq!(parted(&cells).is_none(), turns(&cells, 0) != cells);
        }
    }

    #[test]
    fn parts_have_digits_of_their_own() {
        let part = |cells, digits| (cells, DigitSet::from_bits(digits));
        let two = vec![part(0b0101, 0b0011), part(0b1010, 0b1100)];
        assert_eq!(parted(&[0b0011, 0b1100, 0b0011, 0b1100]), Some(two));
        assert_eq!(parted(&[0b0011, 0b0110, 0b1100, 0b1001]), Some(vec![part(0b1111, 0b1111)]));
        assert_eq!(parted(&[0b0011, 0b0011, 0b1110, 0b1100]), None);
    }

    /// How as many digits part cells with these candidates.
    fn parted(cells: &[u32]) -> Option<Vec<Part>> {
        let candidates: Vec<DigitSet> = cells.iter().map(|&here| DigitSet::from_bits(here)).collect();
        let places =
            |digit: usize| (0..).zip(cells).fold(0, |places, (at, here)| places | (here >> digit & 1) << at);
        let places: Vec<u32> = (0..cells.len()).map(places).collect();
        parting(&candidates, &places, DigitSet::from_bits((1 << cells.len()) - 1), |_| true)
            .map(SmallVec::into_vec)
    }
}
