//! What chains may be made of: candidates, the places of a digit where two houses cross, and the digits of almost locked
//! sets; and the bases that link them.

use std::ops::Range;

use super::almost;
use super::chain::{Chain, Link};
use super::net::{Net, Step};
use crate::reason::links::Links;
use crate::reason::numbers::Bits;
use crate::reason::tables::Tables;
use crate::step::{Base, Position};

/// More nodes are not looked at.
const MOST_NODES: usize = 4096;

/// Several candidates of which at most one is true, or one candidate.
struct Node<const W: usize> {
    members: Bits<W>,
    /// What is out if one of them is true.
    sees: Bits<W>,
}

/// What makes one node true if another is not.
struct Look {
    bases: Range<usize>,
    /// Its sides, in `sides`.
    sides: Range<usize>,
}

pub(super) struct Nodes<'a, const W: usize> {
    links: &'a Links<W>,
    /// Groups of several candidates; as nodes they come after the candidates.
    groups: Vec<Node<W>>,
    /// For each candidate, the groups of which it is the first; made when the first group is.
    groups_from: Vec<Vec<usize>>,
    looks: Vec<Look>,
    bases: Vec<Base>,
    sides: Vec<usize>,
}

impl<'a, const W: usize> Nodes<'a, W> {
    /// With the bases of two candidates that count.
    pub(super) fn of_pairs(links: &'a Links<W>, counts: impl Fn(&Base) -> bool) -> Nodes<'a, W> {
        let mut nodes = Nodes {
            links,
            groups: Vec::new(),
            groups_from: Vec::new(),
            looks: Vec::new(),
            bases: Vec::new(),
            sides: Vec::new(),
        };
        for (base, one, other) in links.pairs().iter().filter(|(base, _, _)| counts(base)) {
            let (bases, sides) = (nodes.bases.len(), nodes.sides.len());
            nodes.bases.push(base.clone());
            nodes.sides.extend([*one, *other]);
            nodes.looks.push(Look { bases: bases..bases + 1, sides: sides..sides + 2 });
        }
        nodes
    }

    /// And houses whose places for a digit fall into those that a second house has too, and the others.
    pub(super) fn and_groups(mut self, tables: &Tables, position: &Position) -> Nodes<'a, W> {
        let mut parts = Vec::new();
        for crossing in &tables.crossings {
            let cells = &position.layout().at(crossing.first).cells;
            for digit in position.missing(crossing.first).iter() {
                let places = position.places(crossing.first, digit);
                let (inside, outside) = (places & crossing.in_first, places & !crossing.in_first);
                if places.count_ones() > 2 && inside != 0 && outside != 0 {
                    let part = |mut places: u32| {
                        let mut bits = Bits::EMPTY;
                        while places != 0 {
                            let cell = cells[places.trailing_zeros() as usize];
                            bits.insert(self.links.number(position, cell, digit));
                            places &= places - 1;
                        }
                        bits
                    };
                    parts.clear();
                    parts.extend([part(inside), part(outside)].map(|part| (part, self.links.common(&part))));
                    self.push(&[Base::Place(crossing.first, digit)], &mut parts);
                }
            }
        }
        self
    }

    /// And almost locked sets of so many cells, from and to.
    pub(super) fn and_sets(
        mut self,
        from: usize,
        to: usize,
        tables: &Tables,
        position: &Position,
    ) -> Nodes<'a, W> {
        let (mut bases, mut sides) = (Vec::new(), Vec::new());
        for size in from..=to {
            almost::each(size, tables, position, |cells, digits| {
                bases.clear();
                bases.extend(cells.iter().map(|&cell| Base::Cell(cell)));
                sides.clear();
                sides.extend(digits.iter().map(|digit| {
                    let mut bits = Bits::EMPTY;
                    let holds = cells.iter().filter(|&&cell| position.candidates(cell).contains(digit));
                    holds.for_each(|&cell| bits.insert(self.links.number(position, cell, digit)));
                    (bits, self.links.common(&bits))
                }));
                self.push(&bases, &mut sides);
            });
        }
        self
    }

    /// Adds a look with these sides, each with what it sees: if one is out, each of the others is on. Sides that nothing
    /// else sees are left out.
    fn push(&mut self, bases: &[Base], sides: &mut Vec<(Bits<W>, Bits<W>)>) {
        let mut own = Bits::EMPTY;
        for (side, _) in sides.iter() {
            own |= *side;
        }
        sides.retain(|(_, sees)| !(*sees - own).is_empty());
        if sides.len() < 2 || self.links.len() + self.groups.len() + sides.len() > MOST_NODES {
            return;
        }
        let (first_base, first_side) = (self.bases.len(), self.sides.len());
        self.bases.extend_from_slice(bases);
        for &(members, sees) in sides.iter() {
            let node = self.node(members, sees);
            self.sides.push(node);
        }
        self.looks.push(Look { bases: first_base..self.bases.len(), sides: first_side..self.sides.len() });
    }

    /// The node of these candidates.
    fn node(&mut self, members: Bits<W>, sees: Bits<W>) -> usize {
        let first = members.iter().next().unwrap_or_default();
        if members.len() == 1 {
            return first;
        }
        if self.groups_from.is_empty() {
            self.groups_from = vec![Vec::new(); self.links.len()];
        }
        let count = self.links.len();
        let known = self.groups_from[first].iter().find(|&&group| self.groups[group].members == members);
        count
            + known.copied().unwrap_or_else(|| {
                self.groups_from[first].push(self.groups.len());
                self.groups.push(Node { members, sees });
                self.groups.len() - 1
            })
    }

    /// Calls `found` with a shortest chain for each candidate that one strikes, the shortest first, until it has been
    /// said at some length that it is enough.
    pub(super) fn each(&self, longest: usize, found: impl FnMut(Chain<W>) -> bool) {
        match self.links.len() + self.groups.len() {
            0..=256 => self.search::<4>(longest, found),
            257..=512 => self.search::<8>(longest, found),
            513..=1024 => self.search::<16>(longest, found),
            _ => self.search::<64>(longest, found),
        }
    }

    fn search<const V: usize>(&self, longest: usize, mut found: impl FnMut(Chain<W>) -> bool) {
        let count = self.links.len() + self.groups.len();
        let mut strong = vec![Bits::<V>::EMPTY; count];
        let mut linked = Bits::<V>::EMPTY;
        for look in &self.looks {
            let mut all = Bits::EMPTY;
            let sides = &self.sides[look.sides.clone()];
            for &side in sides {
                all.insert(side);
            }
            linked |= all;
            for &side in sides {
                let mut others = all;
                others.remove(side);
                strong[side] |= others;
            }
        }
        let outs = (0..count).map(|node| {
            let sees = self.sees(node);
            let mut outs = sees.widened() & linked;
            if !self.groups.is_empty() {
                for group in sees.iter().flat_map(|first| &self.groups_from[first]) {
                    if self.groups[*group].members.is_subset(sees) {
                        outs.insert(self.links.len() + group);
                    }
                }
            }
            outs
        });
        let net = Net::new(outs.collect(), strong);
        net.each(self.links.len(), longest, |steps| found(self.chain(steps)));
    }

    fn sees(&self, node: usize) -> &Bits<W> {
        match node.checked_sub(self.links.len()) {
            Some(group) => &self.groups[group].sees,
            None => self.links.conflicts(node),
        }
    }

    fn members(&self, node: usize) -> Bits<W> {
        if let Some(group) = node.checked_sub(self.links.len()) {
            return self.groups[group].members;
        }
        let mut single = Bits::EMPTY;
        single.insert(node);
        single
    }

    fn chain(&self, steps: &[Step]) -> Chain<W> {
        let link = |&(off, on): &Step| {
            let joins = |look: &&Look| {
                let sides = &self.sides[look.sides.clone()];
                sides.contains(&off) && sides.contains(&on)
            };
            let look = self.looks.iter().find(joins)?;
            let rest = self.sides[look.sides.clone()].iter().filter(|&&side| side != off && side != on);
            Some(Link {
                bases: self.bases[look.bases.clone()].to_vec(),
                off: self.members(off),
                on: self.members(on),
                rest: rest.map(|&side| self.members(side)).collect(),
            })
        };
        Chain(steps.iter().filter_map(link).collect())
    }
}
