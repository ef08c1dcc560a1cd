//! Choosing some of many masks so that together they have no more bits than they are.

use std::ops::RangeInclusive;

use crate::board::MAX_SIDE;

/// Masks of a house or a digit, each with its label, without a place of their own in memory.
#[derive(Default)]
pub(super) struct Masks {
    all: [(u8, u32); MAX_SIDE as usize],
    count: usize,
}

impl Masks {
    fn as_slice(&self) -> &[(u8, u32)] {
        &self.all[..self.count]
    }

    /// Takes instead of its own those of these masks, one for each cell of a house at most, that have so many bits.
    pub(super) fn take(&mut self, masks: impl Iterator<Item = (u8, u32)>, bits: RangeInclusive<u32>) {
        let mut count = 0;
        for (label, mask) in masks {
            // What is not taken is written over: there is no branch here that a processor would have to guess.
            self.all[count] = (label, mask);
            count += usize::from(bits.contains(&mask.count_ones()));
        }
        self.count = count;
    }
}

/// Calls `found` with each choice of `size` masks, by their labels, whose union has just `size` bits, in the order of
/// the masks. Masks of more bits must have been left out.
pub(super) fn choose(masks: &Masks, size: u8, mut found: impl FnMut(&[u8], u32)) {
    if masks.count >= usize::from(size) {
        let mut labels = [0; MAX_SIDE as usize];
        go_on(masks.as_slice(), size, 0, 0, &mut labels, &mut found);
    }
}

fn go_on(
    masks: &[(u8, u32)],
    size: u8,
    taken: u8,
    union: u32,
    labels: &mut [u8; MAX_SIDE as usize],
    found: &mut impl FnMut(&[u8], u32),
) {
    if taken == size {
        if union.count_ones() == u32::from(size) {
            found(&labels[..usize::from(size)], union);
        }
        return;
    }
    for (at, &(label, mask)) in masks.iter().enumerate() {
        if masks.len() - at < usize::from(size - taken) {
            return;
        }
        let with = union | mask;
        if with.count_ones() <= u32::from(size) {
            labels[usize::from(taken)] = label;
            go_on(&masks[at + 1..], size, taken + 1, with, labels, found);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Masks, choose};

    #[test]
    fn every_choice_is_found_once_and_in_order() {
        let mut masks = Masks::default();
        masks.take((0..).zip([0b011, 0b101, 0b110, 0b011, 0b1000, 0, 0b111]), 1..=2);
        let mut pairs = Vec::new();
        choose(&masks, 2, |labels, union| pairs.push((labels.to_vec(), union)));
        assert_eq!(pairs, [(vec![0, 3], 0b011)]);
        let mut triples = Vec::new();
        choose(&masks, 3, |labels, _| triples.push(labels.to_vec()));
        // With the one mask apart, two more would have to share two bits.
        assert_eq!(triples, [vec![0, 1, 2], vec![0, 1, 3], vec![0, 2, 3], vec![0, 3, 4], vec![1, 2, 3]]);
    }
}
