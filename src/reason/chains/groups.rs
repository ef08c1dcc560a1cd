//! Looks with groups: houses whose places for a digit fall in two, and almost locked sets.

use super::almost;
use super::nodes::{Group, Nodes};
use crate::board::{HouseId, bits};
use crate::reason::links::number_of;
use crate::reason::numbers::Bits;
use crate::reason::tables::{Crossing, Tables};
use crate::step::{Base, Position};

/// More nodes are not looked at.
const MOST_NODES: usize = 4096;

impl<const W: usize> Nodes<'_, W> {
    /// And houses whose places for a digit fall into those that a second house has too, and the others.
    pub(super) fn and_groups(mut self, tables: &Tables, position: &Position) -> Self {
        let side = position.layout().size().side();
        for &Crossing { first, second, in_first, .. } in &tables.crossings {
            for digit in position.missing_with(first, 3..=side).iter() {
                let places = position.places(first, digit);
                let others = places & !in_first;
                if places & in_first == 0 || others == 0 || is_blind(others, first, tables) {
                    continue;
                }
                let [all, inside] = [first, second].map(|house| self.links.places(position, house, digit));
                self.push_halves(Base::Place(first, digit), [all & inside, all - inside]);
            }
        }
        self
    }

    /// And almost locked sets of so many cells, from and to.
    pub(super) fn and_sets(mut self, from: u8, to: u8, tables: &Tables, position: &Position) -> Self {
        let mut sides = Vec::new();
        for size in from..=to {
            almost::each(size, tables, position, |house, own, digits| {
                let cells = || bits(own).map(|at| position.layout().at(house).cells[usize::from(at)]);
                let all = cells().fold(Bits::EMPTY, |all, cell| all | self.links.of_cell(position, cell));
                let links = self.links;
                let members = digits.iter().map(|digit| links.places(position, house, digit) & all);
                self.push_set(cells().map(Base::Cell), all, members, &mut sides);
            });
        }
        self
    }

    /// Adds a look that parts the candidates of a base in two: if the one part is out, the other is on. Nothing is added if
    /// either is seen by nothing else.
    fn push_halves(&mut self, base: Base, parts: [Bits<W>; 2]) {
        let own = parts[0] | parts[1];
        let sees = parts.map(|part| self.links.common(&part));
        if sees.iter().any(|sees| sees.is_subset(&own)) || !self.has_room(2) {
            return;
        }
        self.bases.push(base);
        self.ends.push(self.bases.len());
        let [one, other] = [0, 1].map(|at| self.node(parts[at], sees[at]));
        self.halves.push([one, other]);
    }

    /// Adds the look of an almost locked set, whose candidates are `own`, with a side for each of its digits: if one is
    /// out, each of the others is on. Sides that nothing else sees are left out. `seen` is what is worked with.
    fn push_set(
        &mut self,
        bases: impl Iterator<Item = Base>,
        own: Bits<W>,
        sides: impl Iterator<Item = Bits<W>>,
        seen: &mut Vec<(Bits<W>, Bits<W>)>,
    ) {
        seen.clear();
        for side in sides {
            let sees = self.links.common(&side);
            if !sees.is_subset(&own) {
                seen.push((side, sees));
            }
        }
        if seen.len() < 2 || !self.has_room(seen.len()) {
            return;
        }
        self.bases.extend(bases);
        self.ends.push(self.bases.len());
        let mut sets = std::mem::take(&mut self.sets);
        sets.push(|all| seen.iter().for_each(|&(members, sees)| all.push(self.node(members, sees))));
        self.sets = sets;
    }

    /// Whether there are numbers left for a look with so many new nodes.
    fn has_room(&self, nodes: usize) -> bool {
        self.len() + nodes <= MOST_NODES && self.ends.len() < usize::from(u16::MAX)
    }

    /// The node of these candidates.
    fn node(&mut self, members: Bits<W>, sees: Bits<W>) -> u16 {
        let first = members.iter().next().unwrap_or_default();
        if members.len() == 1 {
            self.linked.insert(first);
            return number_of(first);
        }
        if self.last_from.is_empty() {
            self.last_from = vec![None; self.links.len()];
        }
        let known = self.groups_from(first).find(|(_, group)| group.members == members);
        let group = if let Some((group, _)) = known {
            group
        } else {
            let before = self.last_from[first].replace(number_of(self.groups.len()));
            self.groups.push(Group { members, sees, before });
            self.groups.len() - 1
        };
        number_of(self.links.len() + group)
    }
}

/// Whether no cell outside a house sees all of these cells of it, a bit for each.
fn is_blind(places: u32, house: HouseId, tables: &Tables) -> bool {
    let within = |crossing: &Crossing| places & !crossing.in_first == 0;
    !tables.uneven && !places.is_power_of_two() && !tables.crossings_of(house).iter().any(within)
}
