//! What chains may be made of: candidates, and groups of several of which at most one is true; and the looks that link
//! them.

use smallvec::{SmallVec, smallvec};

use super::chain::Chain;
use super::net::Net;
use crate::board::{Digit, HouseId, Layout, bits};
use crate::reason::links::{Links, Pair, number_of};
use crate::reason::lists::Lists;
use crate::reason::numbers::Bits;
use crate::step::Base;

/// Several candidates of which at most one is true.
pub(super) struct Group<const W: usize> {
    pub(super) members: Bits<W>,
    /// What is out if one of them is true.
    pub(super) sees: Bits<W>,
    /// The group before it that has the same first member.
    pub(super) before: Option<u16>,
}

/// Candidates and groups with the looks that link them.
pub(super) struct Nodes<'a, const W: usize> {
    pub(super) links: &'a Links<W>,
    layout: &'a Layout,
    /// The first looks: of two candidates each.
    pairs: &'a [Pair],
    /// As nodes they come after the candidates.
    pub(super) groups: Vec<Group<W>>,
    /// For each candidate, the last group of which it is the first member; made when the first group is.
    pub(super) last_from: Vec<Option<u16>>,
    /// The candidates that are a side of a look.
    pub(super) linked: Bits<W>,
    /// The sides of the looks that part a house or a cell in two; first those of the pairs.
    pub(super) halves: Vec<[u16; 2]>,
    /// What is read by those that are not pairs.
    pub(super) parted: Vec<(HouseId, Digit)>,
    /// The sides of the looks of almost locked sets, which come behind these.
    pub(super) sets: Lists,
    /// What is read by them: cells of a house, a bit for each.
    pub(super) cells: Vec<(HouseId, u32)>,
}

impl<'a, const W: usize> Nodes<'a, W> {
    /// With these bases of two candidates.
    pub(super) fn of_pairs(layout: &'a Layout, links: &'a Links<W>, pairs: &'a [Pair]) -> Nodes<'a, W> {
        let mut linked = Bits::EMPTY;
        let halves: Vec<_> = pairs.iter().map(|pair| pair.ends).collect();
        halves.iter().flatten().for_each(|&end| linked.insert(end.into()));
        let (groups, last_from, parted, cells) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        let sets = Lists::default();
        Nodes { links, layout, pairs, groups, last_from, linked, halves, parted, sets, cells }
    }

    pub(super) fn len(&self) -> usize {
        self.links.len() + self.groups.len()
    }

    /// The groups of which a candidate is the first member, the last one first.
    pub(super) fn groups_from(&self, first: usize) -> impl Iterator<Item = (usize, &Group<W>)> {
        let group = |number: u16| (usize::from(number), &self.groups[usize::from(number)]);
        let last = self.last_from.get(first).copied().flatten();
        std::iter::successors(last.map(group), move |(_, last)| last.before.map(group))
    }

    /// Calls `found` with a shortest chain for each candidate that one strikes, the shortest first, until it has been
    /// said at some length that it is enough.
    pub(super) fn each(&self, longest: usize, found: impl FnMut(Chain<'_, W>) -> bool) {
        let net = Net::new(self);
        if self.links.len() <= Bits::<2>::MOST {
            net.each::<2>(longest, found);
        } else {
            net.each::<4>(longest, found);
        }
    }

    /// The nodes that exclude each other, of those that are linked.
    pub(super) fn excluding(&self) -> Vec<[u16; 2]> {
        let mut pairs = Vec::with_capacity(4 * self.len());
        let mut rest = self.linked;
        self.linked.iter().for_each(|candidate| {
            rest.remove(candidate);
            let others = *self.links.conflicts(candidate) & rest;
            others.iter().for_each(|other| pairs.push([candidate, other].map(number_of)));
        });
        for (group, own) in self.groups.iter().enumerate() {
            let node = self.links.len() + group;
            own.sees.iter().for_each(|candidate| {
                if self.linked.contains(candidate) {
                    pairs.push([candidate, node].map(number_of));
                }
                for (other, seen) in self.groups_from(candidate) {
                    if other < group && seen.members.is_subset(&own.sees) {
                        pairs.push([self.links.len() + other, node].map(number_of));
                    }
                }
            });
        }
        pairs
    }

    /// The sides of a look.
    pub(super) fn sides(&self, look: u16) -> &[u16] {
        match usize::from(look).checked_sub(self.halves.len()) {
            Some(set) => self.sets.at(set),
            None => &self.halves[usize::from(look)],
        }
    }

    /// For each node, the looks that it is a side of, rising.
    pub(super) fn looks_of(&self) -> Lists {
        let halves = self.halves.iter().map(|sides| &sides[..]);
        let looks = halves.chain(self.sets.iter()).enumerate();
        let pairs = looks.flat_map(|(look, sides)| sides.iter().map(move |&side| (side, number_of(look))));
        Lists::of_pairs(self.len(), pairs)
    }

    /// Whether a node is out if another is on.
    pub(super) fn excludes(&self, node: usize, other: u16) -> bool {
        self.members(other).is_subset(self.sees(node))
    }

    /// What is out if a node is on.
    pub(super) fn sees(&self, node: usize) -> &Bits<W> {
        match node.checked_sub(self.links.len()) {
            Some(group) => &self.groups[group].sees,
            None => self.links.conflicts(node),
        }
    }

    pub(super) fn members(&self, node: u16) -> Bits<W> {
        match usize::from(node).checked_sub(self.links.len()) {
            Some(group) => self.groups[group].members,
            None => Bits::single(node.into()),
        }
    }

    pub(super) fn is_group(&self, node: u16) -> bool {
        usize::from(node) >= self.links.len()
    }

    /// What a look reads.
    pub(super) fn bases(&self, look: u16) -> SmallVec<[Base; 1]> {
        if let Some(&pair) = self.pairs.get(usize::from(look)) {
            return smallvec![self.links.base(pair)];
        }
        if let Some((house, digit)) = self.parted(look) {
            return smallvec![Base::Place(house, digit)];
        }
        let (house, own) = self.cells[usize::from(look) - self.halves.len()];
        bits(own).map(|at| Base::Cell(self.layout.at(house).cells[usize::from(at)])).collect()
    }

    /// How many bases a look reads.
    pub(super) fn reads(&self, look: u16) -> usize {
        let set = usize::from(look).checked_sub(self.halves.len());
        set.map_or(1, |set| self.cells[set].1.count_ones() as usize)
    }

    /// Whether two looks read the same bases.
    pub(super) fn read_the_same(&self, look: u16, other: u16) -> bool {
        look == other || self.parted(look).is_some_and(|parted| self.parted(other) == Some(parted))
    }

    /// Whether a look reads cells.
    pub(super) fn is_of_cells(&self, look: u16) -> bool {
        match self.pairs.get(usize::from(look)) {
            Some(pair) => pair.is_cell(),
            None => usize::from(look) >= self.halves.len(),
        }
    }

    /// The house and the digit of a look that parts more than two places.
    fn parted(&self, look: u16) -> Option<(HouseId, Digit)> {
        let parted = usize::from(look).checked_sub(self.pairs.len())?;
        self.parted.get(parted).copied()
    }
}
