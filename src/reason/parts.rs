//! How the digits of a house part its cells. Where each candidate of a house has its turn when all its cells are filled
//! in every way, no set of its cells or digits says anything new inside it; and where that holds of the houses that it
//! crosses too, nothing new outside.

use std::cell::OnceCell;

use super::tables::Tables;
use crate::board::{Digit, DigitSet, HouseId, MAX_SIDE, bits};
use crate::step::Position;

/// For each house how its digits part its cells, looked at when it is first asked for.
#[derive(Debug, Default)]
pub(super) struct Parts(OnceCell<Vec<Parting>>);

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Parting {
    /// Some candidate has no turn.
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
        let of_all = || position.layout().house_ids().map(|house| parting(house, position)).collect();
        let all = self.0.get_or_init(of_all);
        let is_open = |house: HouseId| all[house.place()] == Parting::Open;
        if tables.uneven {
            return all[house.place()] != Parting::Whole
                || position.missing(house).len() <= usize::from(size);
        }
        is_open(house) || tables.crossings_of(house).iter().any(|crossing| is_open(crossing.second))
    }
}

fn parting(house: HouseId, position: &Position) -> Parting {
    let candidates = position.candidates_in(house);
    let missing = position.missing(house);
    let cells = position.cells_with(house, 1..=position.layout().size().side());
    let all = candidates.iter().fold(DigitSet::EMPTY, |all, &here| all | here);
    if all != missing || cells.count_ones() as usize != missing.len() {
        return Parting::Open;
    }
    let mut pairing = Pairing { candidates, owner: [0; MAX_SIDE as usize], taken: 0 };
    if !bits(cells).all(|cell| pairing.finds_digit(cell, &mut 0)) {
        return Parting::Open;
    }
    let mut digit_of = [0; MAX_SIDE as usize];
    for digit in bits(missing.bits()) {
        digit_of[usize::from(pairing.owner[usize::from(digit)])] = digit;
    }
    let mut rest = missing.bits();
    let mut parting = Parting::Whole;
    while rest != 0 {
        let first = 1 << rest.trailing_zeros();
        // What the cell of a digit could hold in its place, and so on; and who could have the digit, and so on.
        let onward =
            closure(first, |digit| candidates[usize::from(pairing.owner[usize::from(digit)])].bits());
        let back = closure(first, |digit| {
            let places = Digit::new(digit + 1).map_or(0, |digit| position.places(house, digit));
            bits(places).fold(0, |all, cell| all | 1 << digit_of[usize::from(cell)])
        });
        if onward != back {
            return Parting::Open;
        }
        if onward != missing.bits() {
            parting = Parting::Parted;
        }
        rest &= !onward;
    }
    parting
}

/// What comes of a bit, each of which leads to others.
fn closure(first: u32, onward: impl Fn(u8) -> u32) -> u32 {
    let (mut all, mut new) = (first, first);
    while new != 0 {
        let more = onward(new.trailing_zeros().to_le_bytes()[0]) & !all;
        new = (new & (new - 1)) | more;
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
    /// Finds a digit for a cell, if need be by moving others; `tried` are digits that are no use.
    fn finds_digit(&mut self, cell: u8, tried: &mut u32) -> bool {
        let here = self.candidates[usize::from(cell)].bits();
        let free = here & !self.taken;
        if free != 0 {
            let digit = free.trailing_zeros();
            self.taken |= 1 << digit;
            self.owner[digit as usize] = cell;
            return true;
        }
        for digit in bits(here).map(usize::from) {
            if *tried & (1 << digit) == 0 {
                *tried |= 1 << digit;
                if self.finds_digit(self.owner[digit], tried) {
                    self.owner[digit] = cell;
                    return true;
                }
            }
        }
        false
    }
}
