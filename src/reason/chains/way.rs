//! The links of a chain, from what it strikes to where it meets.

use super::net::{Net, Reach, Reached};
use super::nodes::Nodes;
use crate::reason::links::number_of;
use crate::reason::lists::Lists;

/// A link: what goes out, what comes on, and by which look.
#[derive(Clone, Copy)]
pub(super) struct Step {
    pub(super) off: u16,
    pub(super) on: u16,
    pub(super) look: u16,
}

/// The ways through a net.
pub(super) struct Ways<'a, const W: usize> {
    excluded: Excluded<'a, W>,
    /// For each node, the looks of which it is a side.
    looks_of: Lists,
    /// For each node, by which links of a way it may go out, and by which come on, so that the way leads where it should: a
    /// bit for each link.
    goes_out: Vec<u16>,
    comes_on: Vec<u16>,
    /// What came on by the link that is looked at, and what went out before it.
    ends: Vec<u16>,
    before: Vec<u16>,
}

impl<'a, const W: usize> Ways<'a, W> {
    pub(super) fn new(net: &Net<'a, W>) -> Ways<'a, W> {
        let count = net.nodes.len();
        Ways {
            excluded: Excluded::of(net),
            looks_of: net.nodes.looks_of(),
            goes_out: vec![0; count],
            comes_on: vec![0; count],
            ends: Vec::with_capacity(count),
            before: Vec::with_capacity(count),
        }
    }

    /// The chain of so many links that strikes a candidate, where it is known what follows from that: a shortest way from it
    /// to the first node that is both on and out, and back on a shortest way to what puts that out.
    pub(super) fn chain<const V: usize>(
        &mut self,
        reach: &Reach<V>,
        struck: usize,
        length: usize,
    ) -> Option<Vec<Step>> {
        let meets = |from: &Reached<V>| from.on.contains(struck) && from.out.contains(struck);
        let meeting = reach.nodes.iter().position(meets)?;
        self.ends.clear();
        self.ends.push(number_of(meeting));
        let mut chain = Vec::with_capacity(length);
        self.way(reach, struck, length.div_ceil(2), &mut chain)?;
        self.ends.clear();
        self.ends.extend(self.excluded.at(number_of(meeting)));
        let there = chain.len();
        self.way(reach, struck, length / 2, &mut chain)?;
        chain[there..].reverse();
        chain[there..].iter_mut().for_each(|link| (link.off, link.on) = (link.on, link.off));
        Some(chain)
    }

    /// Adds to a chain the first way of so many links, no fewer lead there, from a candidate to one of the `ends`.
    fn way<const V: usize>(
        &mut self,
        reach: &Reach<V>,
        struck: usize,
        links: usize,
        chain: &mut Vec<Step>,
    ) -> Option<()> {
        let Ways { excluded, looks_of, goes_out, comes_on, ends, before } = self;
        let nodes = excluded.nodes;
        let is_on = |node: u16| reach.nodes[usize::from(node)].on.contains(struck);
        let is_out = |node: u16| reach.nodes[usize::from(node)].out.contains(struck);
        goes_out.fill(0);
        comes_on.fill(0);
        ends.retain(|&end| is_on(end));
        for link in (0..links).rev() {
            before.clear();
            for on in ends.drain(..) {
                comes_on[usize::from(on)] |= 1 << link;
                for &look in looks_of.at(on.into()) {
                    let others = nodes.sides(look).iter().filter(|&&side| side != on && is_out(side));
                    before.extend(others.filter(|&&off| is_new(goes_out, off, link)));
                }
            }
            if link > 0 {
                for &off in &*before {
                    let excluded = excluded.at(off).filter(|&on| is_on(on));
                    ends.extend(excluded.filter(|&on| is_new(comes_on, on, link - 1)));
                }
            }
        }
        // The first link may put out what sees the candidate, each later one what excludes what came on before it.
        before.retain(|&off| nodes.sees(off.into()).contains(reach.first + struck));
        let mut last = None;
        for link in 0..links {
            let off = match last {
                None => before.iter().copied().min(),
                Some(on) => excluded.at(on).filter(|&off| has(goes_out, off, link)).min(),
            }?;
            let looks = looks_of.at(off.into()).iter();
            let sides = looks.flat_map(|&look| nodes.sides(look).iter().map(move |&side| (side, look)));
            let (on, look) = sides.filter(|&(on, _)| on != off && has(comes_on, on, link)).min()?;
            chain.push(Step { off, on, look });
            last = Some(on);
        }
        Some(())
    }
}

/// What each node excludes, of those that are a side of a look.
struct Excluded<'a, const W: usize> {
    nodes: &'a Nodes<'a, W>,
    /// For each node, the groups.
    groups: Lists,
}

impl<'a, const W: usize> Excluded<'a, W> {
    fn of(net: &Net<'a, W>) -> Excluded<'a, W> {
        let nodes = net.nodes;
        let with_groups = net.excluding.iter().filter(|&&[_, last]| nodes.is_group(last));
        let both_ways = with_groups.flat_map(|&[one, group]| {
            let back = nodes.is_group(one).then_some((group, one));
            std::iter::once((one, group)).chain(back)
        });
        Excluded { nodes, groups: Lists::of_pairs(nodes.len(), both_ways) }
    }

    fn at(&self, node: u16) -> impl Iterator<Item = u16> {
        let candidates = (*self.nodes.sees(node.into()) & self.nodes.linked).iter().map(number_of);
        candidates.chain(self.groups.at(node.into()).iter().copied())
    }
}

/// Whether a node has the bit of a link.
fn has(marks: &[u16], node: u16, link: usize) -> bool {
    marks[usize::from(node)] & 1 << link != 0
}

/// Gives a node the bit of a link. Whether it did not have that yet.
fn is_new(marks: &mut [u16], node: u16, link: usize) -> bool {
    let mark = &mut marks[usize::from(node)];
    let before = *mark;
    *mark |= 1 << link;
    *mark != before
}
