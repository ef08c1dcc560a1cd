//! What follows from what, link by link.
//!
//! A candidate is supposed: what excludes it is out, what must then be true is on, and so on. Where something is both on
//! and out, the way to it and the way to what puts it out make a chain, of which both ends exclude what was supposed. All
//! candidates are supposed at once, a link at a time, so that the shortest chains are found first.

use crate::reason::numbers::Bits;

/// Links between nodes, of which the first are the candidates by their numbers.
pub(super) struct Net<const V: usize> {
    /// For each node, those that are out if it is on.
    pub(super) outs: Vec<Bits<V>>,
    /// For each node, those that are on if it is out.
    pub(super) strong: Vec<Bits<V>>,
    /// For each node, those that are on if it is.
    next: Vec<Bits<V>>,
}

/// What follows from a candidate so far.
struct Reach<const V: usize> {
    from: usize,
    on: Bits<V>,
    /// What came on last.
    new: Bits<V>,
    out: Bits<V>,
}

/// A link: what goes out, and what comes on.
pub(super) type Step = (usize, usize);

/// So much is done in one search: words of sets that are joined.
const BUDGET: usize = 1 << 29;

impl<const V: usize> Net<V> {
    pub(super) fn new(outs: Vec<Bits<V>>, strong: Vec<Bits<V>>) -> Net<V> {
        let next = outs.iter().map(|outs| {
            let mut next = Bits::EMPTY;
            outs.iter().for_each(|out| next |= strong[out]);
            next
        });
        Net { next: next.collect(), outs, strong }
    }

    /// Calls `found` with a shortest chain for each of the first `count` nodes that one strikes, the shortest chains
    /// first. Tells it the length; ends after a length at which it has once said that it is done.
    pub(super) fn each(&self, count: usize, longest: usize, mut found: impl FnMut(&[Step]) -> bool) {
        let starts = (0..count).filter(|&from| !self.next[from].is_empty());
        let reach = |from| Reach { from, on: self.next[from], new: self.next[from], out: self.outs[from] };
        let mut left: Vec<Reach<V>> = starts.map(reach).collect();
        let mut work = 0;
        for length in 1..=longest {
            let mut done = false;
            left.retain_mut(|reach| {
                if work > BUDGET || length > 1 && !self.go_on(reach, length, &mut work) {
                    return false;
                }
                let Some(meeting) = (reach.on & reach.out).iter().next() else { return true };
                if let Some(chain) = self.chain(reach.from, meeting, length) {
                    done |= found(&chain);
                }
                false
            });
            if done || left.is_empty() {
                return;
            }
        }
    }

    /// One link on: by turns what came on puts more out, and what is out brings more on. Whether there is anything new.
    fn go_on(&self, reach: &mut Reach<V>, length: usize, work: &mut usize) -> bool {
        if length.is_multiple_of(2) {
            let before = reach.out;
            for node in reach.new.iter() {
                reach.out |= self.outs[node];
                *work += V;
            }
            return before != reach.out;
        }
        let mut next = Bits::EMPTY;
        for node in reach.new.iter() {
            next |= self.next[node];
            *work += V;
        }
        reach.new = next - reach.on;
        reach.on |= reach.new;
        !reach.new.is_empty()
    }

    /// The chain of so many links that strikes a node: one way from it to `meeting`, and back on the way to what puts
    /// that out.
    fn chain(&self, from: usize, meeting: usize, length: usize) -> Option<Vec<Step>> {
        let mut there = self.way(from, length.div_ceil(2), |on| on == meeting)?;
        if length > 1 {
            let back = self.way(from, length / 2, |on| self.outs[on].contains(meeting))?;
            there.extend(back.into_iter().rev().map(|(off, on)| (on, off)));
        }
        Some(there)
    }

    /// A shortest way of at most so many links from a node that is on to one that is wanted.
    fn way(&self, from: usize, most: usize, wanted: impl Fn(usize) -> bool) -> Option<Vec<Step>> {
        // Each that is on: how it came, and after which.
        let mut all: Vec<(Step, usize)> = vec![((from, from), 0)];
        let (mut on, mut out) = (Bits::EMPTY, Bits::EMPTY);
        let (mut begin, mut end) = (0, 1);
        for _ in 0..most {
            for before in begin..end {
                let outs = self.outs[all[before].0.1] - out;
                out |= outs;
                for off in outs.iter() {
                    let new = self.strong[off] - on;
                    on |= new;
                    for node in new.iter() {
                        all.push(((off, node), before));
                        if wanted(node) {
                            return Some(back_to_front(&all));
                        }
                    }
                }
            }
            (begin, end) = (end, all.len());
        }
        None
    }
}

/// The links that lead to the last one.
fn back_to_front(all: &[(Step, usize)]) -> Vec<Step> {
    let mut way = Vec::new();
    let mut at = all.len() - 1;
    while at > 0 {
        way.push(all[at].0);
        at = all[at].1;
    }
    way.reverse();
    way
}
