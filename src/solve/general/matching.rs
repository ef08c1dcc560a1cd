//! The digits of one house shared out among its cells.

/// The most cells, and digits, that a house has.
pub(super) const MOST: usize = 25;

/// There is no way to share the digits out.
pub(super) struct NoWay;

/// No digit, or no cell.
const NONE: u8 = 32;

/// A way to give each cell of a house one of its candidates, no digit twice. It is kept from one look at the house to the
/// next, for it mostly still holds or nearly so; what is found does not depend on it.
#[derive(Clone)]
pub(super) struct Sharing {
    /// The digit of each cell.
    holds: [u8; MOST],
    /// The cell of each digit.
    holder: [u8; MOST],
}

impl Sharing {
    pub(super) fn new() -> Sharing {
        Sharing { holds: [NONE; MOST], holder: [NONE; MOST] }
    }

    /// Takes from each cell the candidates that it has in no sharing out of the digits: so every naked and every hidden
    /// set of the house is used, of whatever length. Tells whether there were any. `cells` are the candidates of each
    /// cell; `digits`, the same from the other side, are the places of each digit. Only the `open` cells are looked at, which
    /// have the `missing` digits and no others.
    ///
    /// One way to share the digits out is found first. Every other way comes from it by passing digits on in rings; and a
    /// cell can take another's digit in such a ring just if each can reach the other by passing digits on.
    pub(super) fn share_out(
        &mut self,
        cells: &mut [u32],
        digits: &[u32],
        mut open: u32,
        mut missing: u32,
    ) -> Result<bool, NoWay> {
        self.mend(cells)?;
        let (all_open, all_missing) = (open, missing);
        let mut changed = false;
        while open != 0 {
            let start = open.trailing_zeros() as usize;
            let taking = self.digits_ahead(cells, start, missing);
            let giving = self.cells_behind(digits, start, open);
            if giving == all_open && taking == all_missing {
                return Ok(false);
            }
            let mut ring = 0;
            let mut held = 0;
            for cell in ones(giving) {
                let digit = 1 << self.holds[cell];
                if taking & digit != 0 {
                    ring |= 1 << cell;
                    held |= digit;
                }
            }
            for cell in ones(ring) {
                changed |= cells[cell] & !held != 0;
                cells[cell] &= held;
            }
            open &= !ring;
            missing &= !held;
        }
        Ok(changed)
    }

    /// The digits that a cell comes to by taking what it can, from the cell that holds that, and so on.
    fn digits_ahead(&self, cells: &[u32], start: usize, within: u32) -> u32 {
        reach(1 << self.holds[start], within, |digit| cells[usize::from(self.holder[digit])])
    }

    /// The cells that come to what a cell holds in this way.
    fn cells_behind(&self, digits: &[u32], start: usize, within: u32) -> u32 {
        reach(1 << start, within, |cell| digits[usize::from(self.holds[cell])])
    }

    /// Makes it a way again for what the cells can hold now.
    fn mend(&mut self, cells: &[u32]) -> Result<(), NoWay> {
        let mut idle = 0_u32;
        for ((at, &bits), held) in cells.iter().enumerate().zip(&mut self.holds) {
            if u64::from(bits) >> *held & 1 == 0 {
                if *held != NONE {
                    self.holder[usize::from(*held)] = NONE;
                    *held = NONE;
                }
                idle |= 1 << at;
            }
        }
        ones(idle).try_for_each(|cell| self.provide(cells, cell).ok_or(NoWay))
    }

    /// Gives a cell a digit: a free one, or one whose holder can be given another, and so on.
    fn provide(&mut self, cells: &[u32], cell: usize) -> Option<()> {
        // The cells in line for a digit, and who could then have the digit that each of them holds.
        let mut line = [0_u8; MOST];
        let mut heir = [0_u8; MOST];
        line[0] = number(cell);
        let mut length = 1;
        let mut seen = 0;
        let mut next = 0;
        while next < length {
            let at = line[next];
            next += 1;
            for digit in ones(cells[usize::from(at)] & !seen) {
                let holder = self.holder[digit];
                if holder == NONE {
                    self.pass_on(&heir, at, digit);
                    return Some(());
                }
                heir[usize::from(holder)] = at;
                line[length] = holder;
                length += 1;
            }
            seen |= cells[usize::from(at)];
        }
        None
    }

    /// Gives a digit to a cell, the digit that it held to its heir, and so on.
    fn pass_on(&mut self, heir: &[u8; MOST], mut cell: u8, mut digit: usize) {
        loop {
            let before = std::mem::replace(&mut self.holds[usize::from(cell)], number(digit));
            self.holder[digit] = cell;
            if before == NONE {
                return;
            }
            (cell, digit) = (heir[usize::from(cell)], usize::from(before));
        }
    }
}

fn number(place: usize) -> u8 {
    u8::try_from(place).expect("at most 25 places")
}

/// What can be reached by steps within some bits, with the start.
#[inline]
fn reach(start: u32, within: u32, step: impl Fn(usize) -> u32) -> u32 {
    let mut seen = start;
    let mut front = start;
    while front != 0 && seen != within {
        let fresh = step(front.trailing_zeros() as usize) & within & !seen;
        seen |= fresh;
        front = front & (front - 1) | fresh;
    }
    seen
}

/// The places of the bits that are set.
#[inline]
pub(super) fn ones(mut bits: u32) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        if bits == 0 {
            return None;
        }
        let place = bits.trailing_zeros() as usize;
        bits &= bits - 1;
        Some(place)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// What is left by trying every way.
    fn by_trying(candidates: &[u32]) -> Vec<u32> {
        fn go(candidates: &[u32], chosen: &mut Vec<u32>, left: &mut [u32]) {
            let Some(&bits) = candidates.get(chosen.len()) else {
                left.iter_mut().zip(chosen).for_each(|(left, bit)| *left |= *bit);
                return;
            };
            for bit in ones(bits).map(|place| 1 << place) {
                if !chosen.contains(&bit) {
                    chosen.push(bit);
                    go(candidates, chosen, left);
                    chosen.pop();
                }
            }
        }
        let mut left = vec![0; candidates.len()];
        go(candidates, &mut Vec::new(), &mut left);
        left
    }

    /// The same candidates by digit.
    fn places(candidates: &[u32]) -> Vec<u32> {
        let holding =
            |digit| (0..).zip(candidates).fold(0, |all, (cell, bits)| all | (bits >> digit & 1) << cell);
        (0..candidates.len()).map(holding).collect()
    }

    proptest! {
        #[test]
        fn leaves_what_some_way_uses(houses in (1_usize..7).prop_flat_map(|n| {
            proptest::collection::vec(proptest::collection::vec(1_u32..1 << n, n), 1..6)
        })) {
            // One after the other, with what is kept from the one before.
            let mut sharing = Sharing::new();
            for mut candidates in houses {
                let expected = by_trying(&candidates);
                let given = candidates.clone();
                let all = (1 << given.len()) - 1;
                let outcome = sharing.share_out(&mut candidates, &places(&given), all, all);
                prop_assert_eq!(outcome.is_ok(), !expected.contains(&0));
                if let Ok(changed) = outcome {
                    prop_assert_eq!(changed, candidates != given);
                    prop_assert_eq!(&candidates, &expected);
                }
            }
        }
    }
}
