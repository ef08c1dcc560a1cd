//! Candidates that are out whichever of a base's two candidates is true.

use super::Found;
use super::closure::{Bases, Closure};
use crate::reason::numbers::Bits;
use crate::reason::off::Patience;

/// A closure, and of each candidate that is out in it what is read for that: a bit for each base.
struct Side<const W: usize> {
    closure: Closure<W>,
    /// So many words for each node.
    read: Vec<u64>,
    words: usize,
}

impl<const W: usize> Side<W> {
    fn new(bases: &Bases<W>, supposed: usize) -> Side<W> {
        let closure = bases.closure(supposed);
        let words = bases.all.len().div_ceil(64);
        let mut read = Vec::with_capacity(closure.len() * words);
        for node in 0..closure.len() {
            let begin = read.len();
            read.resize(begin + words, 0);
            let Some((base, before)) = bases.read(&closure, node) else { continue };
            read[begin + base / 64] |= 1 << (base % 64);
            for before in before.iter().map(|number| closure.out_by(number)) {
                for word in 0..words {
                    read[begin + word] |= read[before * words + word];
                }
            }
        }
        Side { closure, read, words }
    }

    /// What is read for a candidate that is out.
    fn read_for(&self, out: usize) -> &[u64] {
        &self.read[self.closure.out_by(out) * self.words..][..self.words]
    }
}

/// For each candidate that some base strikes whichever of its two candidates is true, the shortest reason. None where
/// nobody waits any more.
pub(super) fn agreements<const W: usize>(bases: &Bases<W>, patience: &Patience) -> Vec<Found> {
    let refuted = bases.refuted();
    let mut sides: Vec<Option<Side<W>>> = (0..bases.links.len()).map(|_| None).collect();
    // For each candidate, how much is read at least, and the base.
    let mut best = vec![(u32::MAX, 0); bases.links.len()];
    for (base, (_, candidates)) in bases.all.iter().enumerate() {
        let Some([one, other]) = candidates.both().filter(|_| (*candidates & refuted).is_empty()) else {
            continue;
        };
        if patience.is_over() {
            return Vec::new();
        }
        for number in [one, other] {
            sides[number].get_or_insert_with(|| Side::new(bases, number));
        }
        let (Some(one), Some(other)) = (&sides[one], &sides[other]) else { continue };
        for struck in (one.closure.out & other.closure.out).iter() {
            let both = one.read_for(struck).iter().zip(other.read_for(struck));
            let read = 1 + both.map(|(one, other)| (one | other).count_ones()).sum::<u32>();
            if read < best[struck].0 {
                best[struck] = (read, base);
            }
        }
    }
    let found = |(struck, &(read, base)): (usize, &(u32, usize))| {
        let [one, other] = bases.all[base].1.both().filter(|_| read < u32::MAX)?;
        let mut all = vec![base];
        for side in [one, other].iter().filter_map(|&number| sides[number].as_ref()) {
            for base in bases.reasons(&side.closure, &Bits::single(struck)) {
                if !all.contains(&base) {
                    all.push(base);
                }
            }
        }
        Some(Found { struck, bases: all, splits: 1 })
    };
    best.iter().enumerate().filter_map(found).collect()
}
