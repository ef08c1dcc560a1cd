//! Which candidates leave something with nothing, if all that follows from them by looking is followed. All are supposed
//! at once: of each candidate is kept from which of them it is out, and from which it came on.

use super::closure::Bases;
use crate::reason::numbers::Bits;

impl<const W: usize> Bases<'_, W> {
    /// The candidates of which each alone leaves a base with nothing.
    pub(super) fn refuted(&self) -> Bits<W> {
        let mut on: Vec<Bits<W>> = (0..self.links.len()).map(Bits::single).collect();
        let mut out: Vec<Bits<W>> =
            (0..self.links.len()).map(|number| *self.links.conflicts(number)).collect();
        let mut refuted = Bits::EMPTY;
        let all = Bits::range(0, self.links.len());
        loop {
            let mut is_new = false;
            for candidates in self.all.iter().map(|(_, candidates)| candidates) {
                let (mut some, mut several) = (Bits::EMPTY, Bits::EMPTY);
                candidates.iter().for_each(|candidate| {
                    let left = all - out[candidate];
                    several |= some & left;
                    some |= left;
                });
                refuted |= all - some;
                let one = some - several - refuted;
                if one.is_empty() {
                    continue;
                }
                candidates.iter().for_each(|last| {
                    let new = one - out[last] - on[last];
                    if !new.is_empty() {
                        is_new = true;
                        on[last] |= new;
                        self.links.conflicts(last).iter().for_each(|other| out[other] |= new);
                    }
                });
            }
            if !is_new {
                return refuted;
            }
        }
    }
}
