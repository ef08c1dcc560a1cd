//! The digits of one house shared out among its open cells.

/// The most cells, and digits, that a house has.
pub(super) const MOST: usize = 25;

/// There is no way to share the digits out.
pub(super) struct NoWay;

/// Takes from each cell the candidates that it has in no sharing out of the digits: `candidates` are those of the open
/// cells of a house, and together they have as many digits as there are cells. So every naked and every hidden set of
/// the house is used, of whatever length.
///
/// One way to share the digits out is found first. Every other way comes from it by passing digits on in rings; and a
/// cell can take another's digit in such a ring just if each can reach the other by passing digits on.
pub(super) fn share_out(candidates: &mut [u32]) -> Result<(), NoWay> {
    let Sharing { holds, holder, .. } = Sharing::of(candidates).ok_or(NoWay)?;
    // Edges lead from a cell to the holders of its candidates, and back.
    let mut out = [0_u32; MOST];
    let mut back = [0_u32; MOST];
    for (cell, &bits) in candidates.iter().enumerate() {
        for digit in ones(bits) {
            out[cell] |= 1 << holder[digit];
            back[holder[digit]] |= 1 << cell;
        }
    }
    let mut left = (1_u32 << candidates.len()) - 1;
    while let Some(start) = ones(left).next() {
        let ring = reachable(&out, start, left) & reachable(&back, start, left);
        let among_them = ones(ring).fold(0, |bits, cell| bits | holds[cell]);
        for cell in ones(ring) {
            candidates[cell] &= among_them;
        }
        left &= !ring;
    }
    Ok(())
}

/// A way to give each cell one of its candidates, no digit twice.
struct Sharing {
    /// The digit of each cell, as a bit; 0 if it has none yet.
    holds: [u32; MOST],
    /// The cell of each digit that is not free.
    holder: [usize; MOST],
    free: u32,
}

impl Sharing {
    fn of(candidates: &[u32]) -> Option<Sharing> {
        let mut sharing = Sharing {
            holds: [0; MOST],
            holder: [0; MOST],
            free: candidates.iter().fold(0, |all, bits| all | bits),
        };
        for cell in 0..candidates.len() {
            sharing.provide(candidates, cell)?;
        }
        Some(sharing)
    }

    /// Gives a cell a digit: a free one, or one whose holder can be given another, and so on.
    fn provide(&mut self, candidates: &[u32], cell: usize) -> Option<()> {
        // The cells in line for a digit, and who could then have the digit that each of them holds.
        let mut line = [cell; MOST];
        let mut length = 1;
        let mut heir = [cell; MOST];
        let mut seen = 0;
        let mut next = 0;
        while next < length {
            let at = line[next];
            next += 1;
            if let Some(digit) = ones(candidates[at] & self.free).next() {
                self.free &= !(1 << digit);
                self.pass_on(&heir, at, digit);
                return Some(());
            }
            for digit in ones(candidates[at] & !seen) {
                let holder = self.holder[digit];
                heir[holder] = at;
                line[length] = holder;
                length += 1;
            }
            seen |= candidates[at];
        }
        None
    }

    /// Gives a digit to a cell, the digit that it held to its heir, and so on.
    fn pass_on(&mut self, heir: &[usize; MOST], mut cell: usize, mut digit: usize) {
        loop {
            let before = std::mem::replace(&mut self.holds[cell], 1 << digit);
            self.holder[digit] = cell;
            match ones(before).next() {
                Some(passed) => (cell, digit) = (heir[cell], passed),
                None => return,
            }
        }
    }
}

/// The cells that can be reached along edges within some cells, with the start.
fn reachable(edges: &[u32; MOST], start: usize, within: u32) -> u32 {
    let mut seen = 1 << start;
    let mut front = seen;
    while let Some(at) = ones(front).next() {
        let fresh = edges[at] & within & !seen;
        seen |= fresh;
        front = (front | fresh) & !(1 << at);
    }
    seen
}

/// The places of the bits that are set.
fn ones(mut bits: u32) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let place = bits.trailing_zeros();
        bits &= bits.wrapping_sub(1);
        (place < u32::BITS).then_some(place as usize)
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

    proptest! {
        #[test]
        fn leaves_what_some_way_uses(mut candidates in (1_usize..7).prop_flat_map(|n| {
            proptest::collection::vec(1_u32..1 << n, n)
        })) {
            let expected = by_trying(&candidates);
            let possible = share_out(&mut candidates).is_ok();
            prop_assert_eq!(possible, !expected.contains(&0));
            if possible {
                prop_assert_eq!(candidates, expected);
            }
        }
    }
}
