//! How the digits of a house part its cells. Where each candidate of a house has its turn when its cells are filled in
//! every way, no set of its cells or digits says anything new inside it; and where that holds of the houses that it
//! crosses too, nothing new outside.

use std::cell::OnceCell;

use super::tables::Tables;
use crate::board::{DigitSet, HouseId, MAX_SIDE, bits};
use crate::step::Position;

/// For each house how its digits part its cells, looked at when it is first asked for.
#[derive(Debug, Default)]
pub(super) struct Parts(OnceCell<Vec<Parting>>);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Parting {
    /// Some candidate may have no turn.
    Open,
    /// Its cells are in parts, with as many digits each and no others.
    Parted,
    /// There are no parts but the whole.
    Whole,
}

impl Parts {
    /// Whether so many cells or digits of a house may be a set from which something follows.
    pub(super) fn may_have_set(
        &self,
        size: u8,
        house: HouseId,
        tables: &Tables,
        position: &Position,
    ) -> bool {
        let all = self.0.get_or_init(|| {
            let houses = position.layout().house_ids();
            houses.map(|house| parting(position.candidates_in(house), position.missing(house))).collect()
        });
        let is_open = |house: HouseId| all[house.place()] == Parting::Open;
        if tables.uneven {
            // Cells outside may see a part of a house by chance.
            all[house.place()] != Parting::Whole || position.missing(house).len() <= usize::from(size)
        } else {
            is_open(house) || tables.crossings_of(house).iter().any(|crossing| is_open(crossing.second))
        }
    }
}

/// How digits part cells that have these candidates, where so many are missing.
fn parting(candidates: &[DigitSet], missing: DigitSet) -> Parting {
    let missing = missing.bits();
    let (mut cells, mut all) = (Cells::default(), 0);
    for here in candidates.iter().map(|here| here.bits()).filter(|here| *here != 0) {
        cells.candidates[cells.count] = here;
        cells.count += 1;
        all |= here;
    }
    if all != missing || cells.count != missing.count_ones() as usize || !cells.share_out() {
        return Parting::Open;
    }
    let (mut rest, mut parting) = (missing, Parting::Whole);
    while rest != 0 {
        let first = rest & rest.wrapping_neg();
        let part = cells.onward(first);
        if part != cells.back(first) {
            return Parting::Open;
        }
        if part != missing {
            parting = Parting::Parted;
        }
        rest &= !part;
    }
    parting
}

/// The open cells of a house.
#[derive(Default)]
struct Cells {
    count: usize,
    candidates: [u32; MAX_SIDE as usize],
    /// For each a digit of its own.
    own: [u32; MAX_SIDE as usize],
}

impl Cells {
    /// Gives each cell a digit of its own; tells whether there are enough.
    fn share_out(&mut self) -> bool {
        let mut taken = 0;
        (0..self.count).all(|cell| {
            let free = self.candidates[cell] & !taken;
            self.own[cell] = free & free.wrapping_neg();
            let found = free != 0 || self.takes_another(cell, &mut 0);
            taken = self.own[..=cell].iter().fold(0, |all, own| all | own);
            found
        })
    }

    /// Gives a cell a digit that another has, which takes another one; `tried` are digits that are no use.
    fn takes_another(&mut self, cell: usize, tried: &mut u32) -> bool {
        bits(self.candidates[cell]).any(|digit| {
            let digit = 1 << digit;
            if *tried & digit != 0 {
                return false;
            }
            *tried |= digit;
            let owner = self.own.iter().position(|&own| own == digit);
            if owner.is_none_or(|owner| self.takes_another(owner, tried)) {
                self.own[cell] = digit;
                return true;
            }
            false
        })
    }

    /// These digits, those that their cells could hold in their place, and so on.
    fn onward(&self, mut digits: u32) -> u32 {
        self.until_no_more(|cell| {
            let more = if self.own[cell] & digits == 0 { 0 } else { self.candidates[cell] & !digits };
            digits |= more;
            more != 0
        });
        digits
    }

    /// These digits, those whose cells could hold one of them, and so on.
    fn back(&self, mut digits: u32) -> u32 {
        self.until_no_more(|cell| {
            let more = if self.candidates[cell] & digits == 0 { 0 } else { self.own[cell] & !digits };
            digits |= more;
            more != 0
        });
        digits
    }

    /// Looks at all cells until none gives more.
    fn until_no_more(&self, mut gives_more: impl FnMut(usize) -> bool) {
        while (0..self.count).fold(false, |any, cell| gives_more(cell) | any) {}
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
            let candidates: Vec<DigitSet> = cells.iter().map(|&here| DigitSet::from_bits(here)).collect();
            let is_open = parting(&candidates, DigitSet::from_bits(31)) == Parting::Open;
            prop_assert_eq!(is_open, turns(&cells, 0) != cells);
        }
    }

    #[test]
    fn parts_have_digits_of_their_own() {
        let parting = |cells: [u32; 4]| parting(&cells.map(DigitSet::from_bits), DigitSet::from_bits(0b1111));
        assert_eq!(parting([0b0011, 0b0011, 0b1100, 0b1100]), Parting::Parted);
        assert_eq!(parting([0b0011, 0b0110, 0b1100, 0b1001]), Parting::Whole);
        assert_eq!(parting([0b0011, 0b0011, 0b1110, 0b1100]), Parting::Open);
    }
}
