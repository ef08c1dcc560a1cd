//! What follows from what, link by link.
//!
//! A candidate is supposed: what excludes it is out, what must then be true is on, and so on. Where something is both on
//! and out, the way to it and the way to what puts it out make a chain, of which both ends exclude what was supposed. All
//! candidates are supposed at once, a link at a time, so that the shortest chains are found first: of each node is kept
//! from which of them it came on, and from which it went out.

use super::chain::Chain;
use super::nodes::Nodes;
use super::way::Ways;
use crate::reason::numbers::Bits;

/// From which candidates a node came on, and from which it went out.
pub(super) struct Reached<const V: usize> {
    pub(super) on: Bits<V>,
    pub(super) out: Bits<V>,
}

/// Links between nodes.
pub(super) struct Net<'a, const W: usize> {
    pub(super) nodes: &'a Nodes<'a, W>,
    /// The nodes that exclude each other, of those of which some look says what is on if they are out.
    pub(super) excluding: Vec<[u16; 2]>,
}

/// What follows so far from some of the candidates, which have a bit each.
pub(super) struct Reach<const V: usize> {
    /// The number of the first of them.
    pub(super) first: usize,
    /// What is known of each node.
    pub(super) nodes: Vec<Reached<V>>,
    /// Those that a chain was found to strike.
    struck: Bits<V>,
}

impl<'a, const W: usize> Net<'a, W> {
    pub(super) fn new(nodes: &'a Nodes<'a, W>) -> Net<'a, W> {
        Net { nodes, excluding: nodes.excluding() }
    }

    /// Calls `found` with a chain for each candidate that one strikes; the shortest chains first. Ends after a length at
    /// which it has once been told that it is enough. So many words of candidates are supposed together.
    pub(super) fn each<const V: usize>(&self, longest: usize, mut found: impl FnMut(Chain<'_, W>) -> bool) {
        let firsts = (0..self.nodes.links.len()).step_by(Bits::<V>::MOST);
        let mut reaches: Vec<Reach<V>> = firsts.map(|first| self.begin(first)).collect();
        let mut ways = None;
        for length in 1..=longest {
            let mut done = false;
            reaches.retain_mut(|reach| {
                // Where nothing more comes on, nothing more goes out.
                let (both, goes_on) = match length % 2 {
                    0 => (self.put_out(reach), true),
                    _ => self.bring_on(reach),
                };
                let struck = both - reach.struck;
                for at in struck.iter() {
                    let ways = ways.get_or_insert_with(|| Ways::new(self));
                    let chain = ways.chain(reach, at, length).and_then(|links| Chain::new(self.nodes, links));
                    done |= chain.is_some_and(&mut found);
                }
                reach.struck |= struck;
                goes_on
            });
            if done || reaches.is_empty() {
                return;
            }
        }
    }

    /// What goes out at once, from the candidates from number `first` on.
    fn begin<const V: usize>(&self, first: usize) -> Reach<V> {
        let from = |node| Reached { on: Bits::EMPTY, out: self.nodes.sees(node).part(first / 64) };
        Reach { first, nodes: (0..self.nodes.len()).map(from).collect(), struck: Bits::EMPTY }
    }

    /// What is out brings more on; tells from which candidates something is both now, and whether there is more.
    fn bring_on<const V: usize>(&self, Reach { nodes, .. }: &mut Reach<V>) -> (Bits<V>, bool) {
        let (mut both, mut more) = (Bits::EMPTY, Bits::EMPTY);
        for ends in &self.nodes.halves {
            let [one, other] = ends.map(usize::from);
            let (by_one, by_other) = (nodes[one].out, nodes[other].out);
            both |= by_one & by_other;
            more |= (by_one - nodes[other].on) | (by_other - nodes[one].on);
            nodes[other].on |= by_one;
            nodes[one].on |= by_other;
        }
        for sides in self.nodes.sets.iter() {
            let (mut some, mut several) = (Bits::EMPTY, Bits::EMPTY);
            for &side in sides {
                let out = nodes[usize::from(side)].out;
                several |= some & out;
                some |= out;
            }
            both |= several;
            for side in sides.iter().copied().map(usize::from) {
                let by = several | (some - nodes[side].out);
                more |= by - nodes[side].on;
                nodes[side].on |= by;
            }
        }
        (both, !more.is_empty())
    }

    /// What is on puts more out; tells from which candidates something is both now.
    fn put_out<const V: usize>(&self, Reach { nodes, .. }: &mut Reach<V>) -> Bits<V> {
        let mut both = Bits::EMPTY;
        for ends in &self.excluding {
            let [one, other] = ends.map(usize::from);
            let (by_one, by_other) = (nodes[one].on, nodes[other].on);
            both |= by_one & by_other;
            nodes[other].out |= by_one;
            nodes[one].out |= by_other;
        }
        both
    }
}
