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
    /// For each node, the looks of which it is a side, rising.
    looks_of: Lists,
}

/// What came on: how, and after which before it. The first is what was supposed.
type Came = Vec<(Step, usize)>;

impl<'a, const W: usize> Ways<'a, W> {
    pub(super) fn new(net: &'a Net<'a, W>) -> Ways<'a, W> {
        Ways { net, looks_of: net.nodes.looks_of() }
    }

    /// The chain of so many links that strikes a candidate: a shortest way from it to `meeting`, and back on a shortest way
    /// to what puts that out.
    pub(super) fn chain(&self, struck: usize, meeting: usize, length: usize) -> Option<Vec<Step>> {
        let nodes = self.net.nodes;
        let (mut there, mut back) = (None, (length == 1).then_some(0));
        let (mut is_on, mut is_out) = (vec![false; nodes.len()], vec![false; nodes.len()]);
        let mut all: Came = Vec::with_capacity(64);
        all.push(Default::default());
        let (mut first, mut sides) = (Vec::new(), Vec::new());
        self.net.add_outs(struck, &mut first);
        let mut begin = 0;
        for link in 1..=length.div_ceil(2) {
            let end = all.len();
            for before in begin..end {
                let outs = if before == 0 { &first } else { self.net.outs.at(all[before].0.on.into()) };
                for &off in outs.iter().filter(|&&off| !replace(&mut is_out[usize::from(off)], true)) {
                    self.sides(off, &mut sides);
                    for &(on, look) in
                        sides.iter().filter(|(on, _)| !replace(&mut is_on[usize::from(*on)], true))
                    {
                        if usize::from(on) == meeting {
                            there = Some(all.len());
                        }
                        if back.is_none() && link <= length / 2 && nodes.excludes(meeting, on) {
                            back = Some(all.len());
                        }
                        all.push((Step { off, on, look }, before));
                    }
                }
                if let (Some(there), Some(back)) = (there, back) {
                    return Some(joined(&all, there, back));
                }
            }
            begin = end;
        }
        None
    }

    /// What is on if a node is out, rising, each with the first look that says so.
    fn sides(&self, off: u16, sides: &mut Vec<(u16, u16)>) {
        sides.clear();
        for &look in self.looks_of.at(off.into()) {
            let others = self.net.nodes.sides(look).iter().filter(|&&side| side != off);
            sides.extend(others.map(|&side| (side, look)));
        }
        sides.sort_unstable();
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
