//! What a trial in cases within cases can do without. It is looked as the checker does at such a trial, at one base at a
//! time; but on bits, since there are many bases and many cases.

use super::Found;
use super::closure::Bases;
use crate::reason::numbers::Bits;
use crate::reason::off::Patience;

/// So many cases are looked at: part of a second of work at size 16. Where that is not enough, some bases are not tried: it
/// is a trial in so many cases that none is told.
const MOST_LOOKED_AT: usize = 20_000;

impl Found {
    /// The same less the bases without which each case still comes to nothing: each is left out once, the last first, and
    /// so again, since what is left out may change what is split.
    pub(super) fn spared<const W: usize>(mut self, bases: &Bases<W>, patience: &Patience) -> Found {
        let mut looked_at = 0;
        loop {
            let before = self.bases.len();
            for at in (0..before).rev() {
                if looked_at >= MOST_LOOKED_AT || patience.is_over() {
                    return self;
                }
                let base = self.bases.remove(at);
                if !self.comes_to_nothing(bases, self.splits, &mut looked_at) {
                    self.bases.insert(at, base);
                } else if at < self.splits.into()
                    && self.comes_to_nothing(bases, self.splits - 1, &mut looked_at)
                {
                    self.splits -= 1;
                }
            }
            if self.bases.len() == before {
                return self;
            }
        }
    }

    /// Whether what is read still shows what it showed, with so many splits; counts the cases that are looked at.
    fn comes_to_nothing<const W: usize>(&self, bases: &Bases<W>, splits: u8, looked_at: &mut usize) -> bool {
        let mut is_read = vec![false; bases.all.len()];
        for &base in &self.bases {
            is_read[base] = true;
        }
        let mut reading = Reading { bases, read: &self.bases, is_read, looked_at };
        reading.comes_to_nothing(Bits::EMPTY, self.struck, self.bases.clone(), splits)
    }
}

/// Some bases that are read.
struct Reading<'a, const W: usize> {
    bases: &'a Bases<'a, W>,
    read: &'a [usize],
    is_read: Vec<bool>,
    looked_at: &'a mut usize,
}

impl<const W: usize> Reading<'_, W> {
    /// Whether one more candidate leaves a base with nothing, when these are looked at and all that lose something; or else
    /// each case of the first base that has several candidates left does, and so on within a case, so deep.
    fn comes_to_nothing(
        &mut self,
        mut out: Bits<W>,
        supposed: usize,
        mut waiting: Vec<usize>,
        splits: u8,
    ) -> bool {
        *self.looked_at += 1;
        let mut is_waiting = vec![false; self.is_read.len()];
        for &base in &waiting {
            is_waiting[base] = true;
        }
        let mut new = *self.bases.links.conflicts(supposed) - out;
        loop {
            out |= new;
            for &base in new.iter().flat_map(|number| self.bases.of.at(number)) {
                let base = usize::from(base);
                if self.is_read[base] && !std::mem::replace(&mut is_waiting[base], true) {
                    waiting.push(base);
                }
            }
            let Some(base) = waiting.pop() else { break };
            is_waiting[base] = false;
            let left = self.left(base, &out);
            if left.is_empty() {
                return true;
            }
            new = self.bases.links.common(&left) - out;
        }
        let Some(splits) = splits.checked_sub(1) else { return false };
        let several = self.read.iter().map(|&base| self.left(base, &out)).find(|left| left.len() > 1);
        several.is_some_and(|cases| {
            cases.iter().all(|case| self.comes_to_nothing(out, case, Vec::new(), splits))
        })
    }

    fn left(&self, base: usize, out: &Bits<W>) -> Bits<W> {
        self.bases.all[base].1 - *out
    }
}
