//! What follows from what, link by link.
//!
//! A candidate is supposed: what excludes it is out, what must then be true is on, and so on. Where something is both on
//! and out, the way to it and the way to what puts it out make a chain, of which both ends exclude what was supposed. All
//! candidates are supposed at once, a link at a time, so that the shortest chains are found first: of each node is kept
//! from which of them it came on, and from which it went out.

use super::nodes::Nodes;
use crate::reason::links::number_of;
use crate::reason::lists::Lists;
use crate::reason::numbers::Bits;

/// Links between nodes.
pub(super) struct Net<'a, const W: usize> {
    pub(super) nodes: &'a Nodes<'a, W>,
    /// The nodes of which some look says what is on if they are out, rising.
    pub(super) linked: Vec<u16>,
    /// For each of these, those that are out if it is on, rising.
    pub(super) outs: Lists,
}

/// What follows so far from some of the candidates, which have a bit each.
struct Reach<const V: usize> {
    /// The number of the first of them.
    first: usize,
    nodes: Vec<Reached<V>>,
    /// Those that a chain was found to strike.
    struck: Bits<V>,
}

/// From which of the candidates a node came on, and from which it went out.
#[derive(Clone, Copy, Default)]
struct Reached<const V: usize> {
    on: Bits<V>,
    out: Bits<V>,
}

impl<'a, const W: usize> Net<'a, W> {
    pub(super) fn new(nodes: &'a Nodes<'a, W>) -> Net<'a, W> {
        let mut linked = Vec::with_capacity(nodes.len());
        nodes.linked.iter().for_each(|node| linked.push(number_of(node)));
        linked.extend((nodes.links.len()..nodes.len()).map(number_of));
        let groups = nodes.has_groups().then(|| nodes.groups_out());
        let mut outs = Lists::with_capacity(linked.len(), 4 * linked.len());
        for node in linked.iter().copied().map(usize::from) {
            outs.push(|outs| {
                (*nodes.sees(node) & nodes.linked).iter().for_each(|out| outs.push(number_of(out)));
                outs.extend(groups.iter().flat_map(|groups| groups.at(node)));
            });
        }
        Net { nodes, linked, outs }
    }

    /// The nodes that are linked, rising, each with those that are out if it is on.
    fn linked(&self) -> impl Iterator<Item = (usize, &[u16])> {
        self.linked.iter().copied().map(usize::from).zip(self.outs.iter())
    }

    /// Calls `found` with each candidate that a chain strikes, with a node at which it meets, and with how many links it
    /// has; the shortest chains first. Ends after a length at which it has once been told that it is enough. So many words
    /// of candidates are supposed together.
    pub(super) fn each<const V: usize>(
        &self,
        longest: usize,
        mut found: impl FnMut(usize, usize, usize) -> bool,
    ) {
        let firsts = (0..self.nodes.links.len()).step_by(Bits::<V>::MOST);
        let mut reaches: Vec<Reach<V>> = firsts.map(|first| self.begin(first)).collect();
        for length in 1..=longest {
            let mut done = false;
            reaches.retain_mut(|reach| {
                let (both, goes_on) =
                    if length.is_multiple_of(2) { self.put_out(reach) } else { (self.bring_on(reach), true) };
                let struck = both - reach.struck;
                for at in struck.iter() {
                    let both = |node: &Reached<V>| (node.on & node.out).contains(at);
                    if let Some(meeting) = reach.nodes.iter().position(both) {
                        done |= found(reach.first + at, meeting, length);
                    }
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
        let mut nodes = vec![Reached::default(); self.nodes.len()];
        for node in self.linked.iter().copied().map(usize::from) {
            nodes[node].out = self.nodes.sees(node).part(first / 64);
        }
        Reach { first, nodes, struck: Bits::EMPTY }
    }

    /// What is out brings more on. Tells from which candidates something is both.
    fn bring_on<const V: usize>(&self, reach: &mut Reach<V>) -> Bits<V> {
        let mut both = Bits::EMPTY;
        for &[one, other] in &self.nodes.halves {
            let [one, other] = [one, other].map(usize::from);
            let [out, out_too] = [one, other].map(|end| reach.nodes[end].out);
            reach.nodes[one].on |= out_too;
            reach.nodes[other].on |= out;
            both |= out & out_too;
        }
        for sides in self.nodes.sets.iter() {
            let (mut some, mut several) = (Bits::EMPTY, Bits::EMPTY);
            for &side in sides {
                let out = reach.nodes[usize::from(side)].out;
                several |= some & out;
                some |= out;
            }
            both |= several;
            for &side in sides {
                let Reached { on, out } = &mut reach.nodes[usize::from(side)];
                *on |= several | (some - *out);
            }
        }
        both
    }

    /// What is on puts more out. Tells from which candidates something is both, and whether more is out from any.
    fn put_out<const V: usize>(&self, reach: &mut Reach<V>) -> (Bits<V>, bool) {
        let (mut both, mut new) = (Bits::EMPTY, Bits::EMPTY);
        for (node, outs) in self.linked() {
            let by = outs.iter().fold(Bits::EMPTY, |by, &other| by | reach.nodes[usize::from(other)].on);
            let Reached { on, out } = &mut reach.nodes[node];
            new |= by - *out;
            *out |= by;
            both |= by & *on;
        }
        (both, !new.is_empty())
    }
}
