//! Looks with groups: houses whose places for a digit fall in two, and almost locked sets.

use super::almost;
use super::nodes::{Group, Nodes};
use crate::board::{Digit, HouseId, bits};
use crate::reason::links::number_of;
use crate::reason::lists::Lists;
use crate::reason::numbers::Bits;
use crate::reason::tables::{Crossing, Tables};
use crate::step::Position;

/// More nodes are not looked at.
const MOST_NODES: usize = 4096;

impl<const W: usize> Nodes<'_, W> {
    /// And houses whose places for a digit fall into those that a second house has too, and the others.
    pub(super) fn and_groups(mut self, tables: &Tables, position: &Position) -> Self {
        let side = position.layout().size().side();
        self.groups.reserve(self.links.len());
        for house in position.layout().house_ids() {
            let missing = position.missing_with(house, 3..=side);
            let crossings = tables.crossings_of(house);
            for (at, &Crossing { second, in_first, .. }) in crossings.iter().enumerate() {
                for digit in missing.iter() {
                    let places = position.places(house, digit);
                    let others = places & !in_first;
                    // The same parts may have been found the other way round.
                    let is_known = || crossings[..at].iter().any(|before| places & before.in_first == others);
                    if places == others || others == 0 || is_blind(others, house, tables) || is_known() {
                        continue;
                    }
                    let [all, inside] =
                        [house, second].map(|house| self.links.places(position, house, digit));
                    self.push_halves(house, digit, &(*all & *inside), &(*all - *inside));
                }
            }
        }
        self
    }

    /// And almost locked sets of so many cells, from and to.
    pub(super) fn and_sets(mut self, from: u8, to: u8, tables: &Tables, position: &Position) -> Self {
        let mut sides = Vec::new();
        self.groups.reserve(self.links.len());
        self.cells.reserve(self.links.len());
        self.sets = Lists::with_capacity(self.links.len(), 4 * self.links.len());
        for size in from..=to {
            almost::each(size, tables, position, |house, own, digits| {
                let cells = bits(own).map(|at| position.layout().at(house).cells[usize::from(at)]);
                let all = cells.fold(Bits::EMPTY, |all, cell| all | *self.links.of_cell(position, cell));
                let known = self.groups.len();
                sides.clear();
                for digit in digits.iter() {
                    let members = *self.links.places(position, house, digit) & all;
                    sides.extend(self.side(&members, &all));
                }
                if sides.len() > 1 && self.has_room(known, sides.len()) {
                    self.cells.push((house, own));
                    self.sets.push(|all| all.extend_from_slice(&sides));
                    self.link(&sides);
                } else {
                    self.forget(known);
                }
            });
        }
        self
    }

    /// Adds a look that parts the places of a digit in two: if the one part is out, the other is on. Nothing is added if
    /// either is seen by nothing else.
    fn push_halves(&mut self, house: HouseId, digit: Digit, one: &Bits<W>, other: &Bits<W>) {
        let (known, own) = (self.groups.len(), *one | *other);
        let sides = [one, other].map(|part| self.side(part, &own));
        if let [Some(one), Some(other)] = sides
            && self.has_room(known, 2)
        {
            self.parted.push((house, digit));
            self.halves.push([one, other]);
            self.link(&[one, other]);
        } else {
            self.forget(known);
        }
    }

    /// Whether there are numbers left for a look with so many nodes, where so many groups were known.
    fn has_room(&self, known: usize, nodes: usize) -> bool {
        self.links.len() + known + nodes <= MOST_NODES
            && self.parted.len() + self.cells.len() < usize::from(u16::MAX)
    }

    /// The node of a side of a look, whose candidates are `own`; `None` if nothing else sees it.
    fn side(&mut self, members: &Bits<W>, own: &Bits<W>) -> Option<u16> {
        let [first, last] = members.ends();
        if first == last {
            return (!self.links.conflicts(first).is_subset(own)).then(|| number_of(first));
        }
        let is_known = |(_, group): &(usize, &Group<W>)| group.members == *members;
        let (group, sees) = match self.groups_from(first).find(is_known) {
            Some((group, known)) => (group, known.sees),
            None => (self.groups.len(), self.links.common(members)),
        };
        if sees.is_subset(own) {
            return None;
        }
        if group == self.groups.len() {
            if self.last_from.is_empty() {
                self.last_from = vec![None; self.links.len()];
            }
            let before = self.last_from[first].replace(number_of(group));
            self.groups.push(Group { members: *members, sees, before });
        }
        Some(number_of(self.links.len() + group))
    }

    /// Links the candidates among the sides of a look.
    fn link(&mut self, sides: &[u16]) {
        let candidates = sides.iter().copied().map(usize::from).filter(|&side| side < self.links.len());
        candidates.for_each(|candidate| self.linked.insert(candidate));
    }

    /// Forgets all groups but so many.
    fn forget(&mut self, known: usize) {
        for group in self.groups.drain(known..).rev() {
            self.last_from[group.members.ends()[0]] = group.before;
        }
    }
}

/// Whether no cell outside a house sees all of these cells of it, a bit for each.
fn is_blind(places: u32, house: HouseId, tables: &Tables) -> bool {
    let within = |crossing: &Crossing| places & !crossing.in_first == 0;
    !tables.uneven && !places.is_power_of_two() && !tables.crossings_of(house).iter().any(within)
}
