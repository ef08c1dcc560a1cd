//! A chain that was found, and the step that it makes.

use smallvec::{SmallVec, smallvec};

use super::nodes::Nodes;
use super::way::Step;
use crate::board::{Cell, CellSet, Digit, DigitSet};
use crate::ladder::Pattern;
use crate::reason::numbers::Bits;
use crate::step::{Base, Claim, Deduction};

/// More bases, and more cells that lose something, are rare.
const FEW: usize = 8;

/// Links of which each puts out the beginning of the next one.
pub(super) struct Chain<'a, const W: usize> {
    nodes: &'a Nodes<'a, W>,
    links: Vec<Step>,
    /// What goes out first, and what comes on last.
    ends: [u16; 2],
}

impl<'a, const W: usize> Chain<'a, W> {
    /// `None` if there are no links.
    pub(super) fn new(nodes: &'a Nodes<'a, W>, links: Vec<Step>) -> Option<Chain<'a, W>> {
        let ends = [links.first()?.off, links.last()?.on];
        Some(Chain { nodes, links, ends })
    }

    /// The candidate that it is about: the first of those with which it begins.
    pub(super) fn about(&self) -> Option<(Cell, Digit)> {
        let first = self.nodes.members(self.ends[0]).iter().next()?;
        Some(self.nodes.links.at(first))
    }

    /// Whether it passes more than once by the same bases.
    pub(super) fn repeats(&self) -> bool {
        let (nodes, links) = (self.nodes, &self.links);
        (1..links.len())
            .any(|at| links[..at].iter().any(|before| nodes.read_the_same(before.look, links[at].look)))
    }

    /// How many bases it reads.
    pub(super) fn reads(&self) -> usize {
        self.links.iter().map(|link| self.nodes.reads(link.look)).sum()
    }

    /// Whether it has a joint of several candidates, and is not just so many sets.
    pub(super) fn is_grouped(&self, sets: usize) -> bool {
        let nodes = self.nodes;
        self.links.iter().any(|link| nodes.is_group(link.off) || nodes.is_group(link.on))
            && (self.links.len() > sets || !self.links.iter().all(|link| nodes.is_of_cells(link.look)))
    }

    /// All that it strikes: what is in conflict with both of its ends; and if these exclude each other, so that it is a
    /// loop, what is in conflict with both sides of any of its joints.
    pub(super) fn strikes(&self) -> Bits<W> {
        let nodes = self.nodes;
        let both = |one: u16, other: u16| *nodes.sees(one.into()) & *nodes.sees(other.into());
        let [begin, end] = self.ends;
        let mut struck = both(begin, end);
        if self.links.len() > 1 && nodes.excludes(end.into(), begin) {
            for (link, next) in self.links.iter().zip(self.links.iter().skip(1)) {
                struck |= both(link.on, next.off);
            }
            // In a loop each almost locked set loses but one of its two digits that are linked.
            for link in &self.links {
                let rest = nodes.sides(link.look).iter().filter(|side| ![link.off, link.on].contains(side));
                rest.for_each(|&side| struck |= *nodes.sees(side.into()));
            }
        }
        struck
    }

    /// What it says: that a digit stands, if both ends are this one candidate, or what it strikes.
    fn claims(&self, struck: &Bits<W>) -> SmallVec<[Claim; 1]> {
        let [begin, end] = self.ends;
        if begin == end && !self.nodes.is_group(begin) {
            let (cell, digit) = self.nodes.links.at(begin.into());
            return smallvec![Claim::Is { cells: CellSet::single(cell), digits: DigitSet::single(digit) }];
        }
        not(struck.iter().map(|number| self.nodes.links.at(number)))
    }

    /// The step, with its bases in the order of the chain.
    pub(super) fn into_step(self, pattern: Pattern, struck: &Bits<W>) -> Deduction {
        let claims = self.claims(struck);
        let mut bases: SmallVec<[Base; FEW]> = SmallVec::new();
        for base in self.links.iter().flat_map(|link| self.nodes.bases(link.look)) {
            if !bases.contains(&base) {
                bases.push(base);
            }
        }
        Deduction::with_marks(pattern, [], claims, bases)
    }
}

/// That these candidates are not true: cells that lose the same digits together.
pub(in crate::reason) fn not(struck: impl Iterator<Item = (Cell, Digit)>) -> SmallVec<[Claim; 1]> {
    let mut cells: SmallVec<[(Cell, DigitSet); FEW]> = SmallVec::new();
    for (cell, digit) in struck {
        match cells.last_mut() {
            Some((last, digits)) if *last == cell => _ = digits.insert(digit),
            _ => cells.push((cell, DigitSet::single(digit))),
        }
    }
    let mut groups: SmallVec<[(DigitSet, CellSet); 2]> = SmallVec::new();
    for (cell, digits) in cells {
        match groups.iter_mut().find(|(same, _)| *same == digits) {
            Some((_, all)) => _ = all.insert(cell),
            None => groups.push((digits, CellSet::single(cell))),
        }
    }
    groups.into_iter().map(|(digits, cells)| Claim::IsNot { cells, digits }).collect()
}
