//! Where two houses cross in a digit: once it is out elsewhere in one of them, it is locked there, and out elsewhere in the
//! other.

use super::closure::Bases;
use crate::reason::links::number_of;
use crate::reason::numbers::Bits;

pub(super) struct Crossing<const W: usize> {
    pub(super) base: u16,
    /// How many candidates of the base lie in the other house.
    inside: u8,
    /// The others of the base: once they are out, the targets are.
    pub(super) others: Bits<W>,
    pub(super) targets: Bits<W>,
}

/// The crossings of all bases.
pub(super) struct Crossings<const W: usize> {
    /// By their bases.
    all: Vec<Crossing<W>>,
    /// For each base, where its crossings end.
    ends: Vec<usize>,
}

impl<const W: usize> Crossings<W> {
    pub(super) fn of(bases: &Bases<W>) -> Crossings<W> {
        let (mut all, mut ends) = (Vec::new(), Vec::new());
        for (at, (_, candidates)) in bases.all.iter().enumerate() {
            let meeting = candidates.iter().flat_map(|number| bases.of.at(number)).copied();
            let mut meeting: Vec<u16> = meeting.filter(|&other| usize::from(other) != at).collect();
            meeting.sort_unstable();
            for several in meeting.chunk_by(|one, other| one == other).filter(|same| same.len() > 1) {
                let other = bases.all[usize::from(several[0])].1;
                let (others, targets) = (*candidates - other, other - *candidates);
                if !targets.is_empty() {
                    let inside = several.len().to_le_bytes()[0];
                    all.push(Crossing { base: number_of(at), inside, others, targets });
                }
            }
            ends.push(all.len());
        }
        Crossings { all, ends }
    }

    pub(super) fn at(&self, number: u32) -> &Crossing<W> {
        &self.all[number as usize]
    }

    /// The number of a crossing in which all lies that is left of a base, so many candidates, and that puts out something
    /// which is not out yet.
    pub(super) fn locked(&self, base: usize, left: usize, out: &Bits<W>) -> Option<u32> {
        let tells = |at: &usize| {
            let crossing = &self.all[*at];
            left <= usize::from(crossing.inside)
                && crossing.others.is_subset(out)
                && !crossing.targets.is_subset(out)
        };
        let mut own = base.checked_sub(1).map_or(0, |before| self.ends[before])..self.ends[base];
        own.find(tells).and_then(|at| u32::try_from(at).ok())
    }
}
