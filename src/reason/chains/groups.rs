//! Looks with groups: houses whose places for a digit fall in two, and almost locked sets.

use super::almost;
use super::nodes::{Group, Nodes};
use crate::board::{Digit, HouseId, bits};
use crate::reason::links::number_of;
use crate::reason::numbers::Bits;
use crate::reason::tables::{Crossing, Tables};
use crate::step::Position;

/// More nodes are not looked at.
const MOST_NODES: usize = 4096;

impl<const W: usize> Nodes<'_, W> {
    /// And houses whose places for a digit fall into those that a second house has too, and the others.
    pub(super) fn and_groups(mut self, tables: &Tables, position: &Position) -> Self {
        let side = position.layout().size().side();
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
                    self.push_halves(house, digit, [all & inside, all - inside]);
                }
            }
        }
        self
    }

    /// And almost locked sets of so many cells, from and to.
    pub(super) fn and_sets(mut self, from: u8, to: u8, tables: &Tables, position: &Position) -> Self {
        let mut sides = Vec::new();
        for size in from..=to {
            almost::each(size, tables, position, |house, own, digits| {
                let cells = bits(own).map(|at| position.layout().at(house).cells[usize::from(at)]);
                let all = cells.fold(Bits::EMPTY, |all, cell| all | self.links.of_cell(position, cell));
                let links = self.links;
                let members = digits.iter().map(|digit| links.places(position, house, digit) & all);
                self.push_set((house, own), all, members, &mut sides);
            });
        }
        self
    }

    /// Adds a look that parts the places of a digit in two: if the one part is out, the other is on. Nothing is added if
    /// either is seen by nothing else.
    fn push_halves(&mut self, house: HouseId, digit: Digit, parts: [Bits<W>; 2]) {
        let own = parts[0] | parts[1];
        let sides = parts.map(|part| self.side(part));
        if sides.iter().any(|side| side.sees.is_subset(&own)) || !self.has_room(2) {
            return;
        }
        self.parted.push((house, digit));
        let ends = sides.map(|side| self.node(side));
        self.halves.push(ends);
    }

    /// Adds the look of an almost locked set, whose candidates are `own`, with a side for each of its digits: if one is
    /// out, each of the others is on. Sides that nothing else sees are left out. `seen` is what is worked with.
    fn push_set(
        &mut self,
        cells: (HouseId, u32),
        own: Bits<W>,
        sides: impl Iterator<Item = Bits<W>>,
        seen: &mut Vec<Side<W>>,
    ) {
        seen.clear();
        seen.extend(sides.map(|side| self.side(side)).filter(|side| !side.sees.is_subset(&own)));
        if seen.len() < 2 || !self.has_room(seen.len()) {
            return;
        }
        self.cells.push(cells);
        let mut sets = std::mem::take(&mut self.sets);
        sets.push(|all| seen.drain(..).for_each(|side| all.push(self.node(side))));
        self.sets = sets;
    }

    /// Whether there are numbers left for a look with so many new nodes.
    fn has_room(&self, nodes: usize) -> bool {
        self.len() + nodes <= MOST_NODES && self.parted.len() + self.cells.len() < usize::from(u16::MAX)
    }

    /// What is known of these candidates.
    fn side(&self, members: Bits<W>) -> Side<W> {
        let first = members.ends()[0];
        if members.only().is_some() {
            return Side { members, sees: *self.links.conflicts(first), node: Some(first) };
        }
        match self.groups_from(first).find(|(_, group)| group.members == members) {
            Some((group, known)) => Side { members, sees: known.sees, node: Some(self.links.len() + group) },
            None => Side { members, sees: self.links.common(&members), node: None },
        }
    }

    /// The node of a side.
    fn node(&mut self, side: Side<W>) -> u16 {
        let Side { members, sees, node } = side;
        let first = members.ends()[0];
        let node = node.unwrap_or_else(|| {
            if self.last_from.is_empty() {
                self.last_from = vec![None; self.links.len()];
            }
            let before = self.last_from[first].replace(number_of(self.groups.len()));
            self.first_of_groups.insert(first);
            self.groups.push(Group { members, sees, before });
            self.len() - 1
        });
        if node == first {
            self.linked.insert(first);
        }
        number_of(node)
    }
}

/// What a side of a look may be: candidates, what they see, and the node that they are if they are one yet.
struct Side<const W: usize> {
    members: Bits<W>,
    sees: Bits<W>,
    node: Option<usize>,
}

/// Whether no cell outside a house sees all of these cells of it, a bit for each.
fn is_blind(places: u32, house: HouseId, tables: &Tables) -> bool {
    let within = |crossing: &Crossing| places & !crossing.in_first == 0;
    !tables.uneven && !places.is_power_of_two() && !tables.crossings_of(house).iter().any(within)
}
