//! The links of a chain, from what it strikes to where it meets.

use std::mem::replace;

use super::net::Net;
use crate::reason::lists::Lists;

/// A link: what goes out, what comes on, and by which look.
#[derive(Clone, Copy, Default)]
pub(super) struct Step {
    pub(super) off: u16,
    pub(super) on: u16,
    pub(super) look: u16,
}

/// The ways through a net.
pub(super) struct Ways<'a, const W: usize> {
    net: &'a Net<'a, W>,
    /// For each node, its place among those that are linked.
    places: Vec<u16>,
    /// For each node, the looks of which it is a side, rising.
    looks_of: Lists,
    /// For each node, with which way it came on last, and with which it went out.
    on: Vec<u32>,
    out: Vec<u32>,
    /// How many ways were looked for.
    count: u32,
    came: Came,
    sides: Vec<(u16, u16)>,
}

/// What came on: how, and after which before it. The first is what was supposed.
type Came = Vec<(Step, usize)>;

impl<'a, const W: usize> Ways<'a, W> {
    pub(super) fn new(net: &'a Net<'a, W>) -> Ways<'a, W> {
        let none = vec![0; net.nodes.len()];
        let looks_of = net.nodes.looks_of();
        let mut places = vec![0; net.nodes.len()];
        (0..).zip(&net.linked).for_each(|(place, &node)| places[usize::from(node)] = place);
        Ways {
            net,
            places,
            looks_of,
            on: none.clone(),
            out: none,
            count: 0,
            came: Vec::new(),
            sides: Vec::new(),
        }
    }

    /// The chain of so many links that strikes a candidate: a shortest way from it to `meeting`, and back on a shortest way
    /// to what puts that out.
    pub(super) fn chain(&mut self, struck: usize, meeting: usize, length: usize) -> Option<Vec<Step>> {
        let nodes = self.net.nodes;
        let (mut there, mut back) = (None, (length == 1).then_some(0));
        let first = nodes.put_out_by(struck);
        self.count += 1;
        self.came.clear();
        self.came.push(Default::default());
        let mut begin = 0;
        for link in 1..=length.div_ceil(2) {
            let end = self.came.len();
            for before in begin..end {
                let outs = if before == 0 {
                    &first
                } else {
                    self.net.outs.at(self.places[usize::from(self.came[before].0.on)].into())
                };
                for &off in outs {
                    if replace(&mut self.out[usize::from(off)], self.count) == self.count {
                        continue;
                    }
                    self.take_sides(off);
                    for &(on, look) in &self.sides {
                        if replace(&mut self.on[usize::from(on)], self.count) == self.count {
                            continue;
                        }
                        if usize::from(on) == meeting {
                            there = Some(self.came.len());
                        }
                        if back.is_none() && link <= length / 2 && nodes.excludes(meeting, on) {
                            back = Some(self.came.len());
                        }
                        self.came.push((Step { off, on, look }, before));
                    }
                }
                if let (Some(there), Some(back)) = (there, back) {
                    return Some(joined(&self.came, there, back));
                }
            }
            begin = end;
        }
        None
    }

    /// Takes what is on if a node is out, rising, each with the first look that says so.
    fn take_sides(&mut self, off: u16) {
        self.sides.clear();
        for &look in self.looks_of.at(off.into()) {
            let others = self.net.nodes.sides(look).iter().filter(|&&side| side != off);
            self.sides.extend(others.map(|&side| (side, look)));
        }
        self.sides.sort_unstable();
    }
}

/// The links that lead to one, and those that lead from another back to the beginning.
fn joined(all: &Came, there: usize, back: usize) -> Vec<Step> {
    let mut way = Vec::new();
    let mut at = there;
    while at > 0 {
        way.push(all[at].0);
        at = all[at].1;
    }
    way.reverse();
    at = back;
    while at > 0 {
        let Step { off, on, look } = all[at].0;
        way.push(Step { off: on, on: off, look });
        at = all[at].1;
    }
    way
}
