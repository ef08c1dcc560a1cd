//! The links of a chain, from what it strikes to where it meets.

use super::net::{Net, Reach};
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
    nodes: &'a Nodes<'a, W>,
    /// For each node, those that it excludes.
    excluded: Lists,
    /// For each node, the looks of which it is a side.
    looks_of: Lists,
    /// For each node, by which links of a way it may go out, and by which come on, so that the way leads where it should: a
    /// bit for each link.
    goes_out: Vec<u16>,
    comes_on: Vec<u16>,
}

impl<'a, const W: usize> Ways<'a, W> {
    pub(super) fn new(net: &Net<'a, W>) -> Ways<'a, W> {
        let nodes = net.nodes;
        let both_ways = net.excluding.iter().flat_map(|&[one, other]| [(one, other), (other, one)]);
        let none = vec![0; nodes.len()];
        Ways {
            nodes,
            excluded: Lists::of_pairs(nodes.len(), both_ways),
            looks_of: nodes.looks_of(),
            goes_out: none.clone(),
            comes_on: none,
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
        let mut nodes = reach.on.iter().zip(&reach.out);
        let meeting = nodes.position(|(on, out)| on.contains(struck) && out.contains(struck))?;
        let mut chain = self.way(reach, struck, vec![number_of(meeting)], length.div_ceil(2))?;
        let back = self.way(reach, struck, self.excluded.at(meeting).to_vec(), length / 2)?;
        chain.extend(back.iter().rev().map(|&Step { off, on, look }| Step { off: on, on: off, look }));
        Some(chain)
    }

    /// The first way of so many links, no fewer lead there, from a candidate to one of some nodes.
    fn way<const V: usize>(
        &mut self,
        reach: &Reach<V>,
        struck: usize,
        mut ends: Vec<u16>,
        links: usize,
    ) -> Option<Vec<Step>> {
        let is_on = |node: u16| reach.on[usize::from(node)].contains(struck);
        let is_out = |node: u16| reach.out[usize::from(node)].contains(struck);
        self.goes_out.fill(0);
        self.comes_on.fill(0);
        ends.retain(|&end| is_on(end));
        let mut before: Vec<u16> = Vec::new();
        for link in (0..links).rev() {
            before.clear();
            for on in ends.drain(..) {
                self.comes_on[usize::from(on)] |= 1 << link;
                for &look in self.looks_of.at(on.into()) {
                    let others = self.nodes.sides(look).iter().filter(|&&side| side != on && is_out(side));
                    before.extend(others.filter(|&&off| is_new(&mut self.goes_out, off, link)));
                }
            }
            if link > 0 {
                for &off in &before {
                    let excluded = self.excluded.at(off.into()).iter().filter(|&&on| is_on(on));
                    ends.extend(excluded.filter(|&&on| is_new(&mut self.comes_on, on, link - 1)));
                }
            }
        }
        // The first link may put out what sees the candidate, each later one what excludes what came on before it.
        before.retain(|&off| self.nodes.sees(off.into()).contains(reach.first + struck));
        let mut way: Vec<Step> = Vec::with_capacity(links);
        for link in 0..links {
            let off = match way.last() {
                None => before.iter().min(),
                Some(last) => self
                    .excluded
                    .at(last.on.into())
                    .iter()
                    .filter(|&&off| has(&self.goes_out, off, link))
                    .min(),
            };
            let off = *off?;
            let sides = self
                .looks_of
                .at(off.into())
                .iter()
                .flat_map(|&look| self.nodes.sides(look).iter().map(move |&side| (side, look)));
            let (on, look) = sides.filter(|&(on, _)| on != off && has(&self.comes_on, on, link)).min()?;
            way.push(Step { off, on, look });
        }
        Some(way)
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
