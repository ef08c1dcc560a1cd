//! A step that may be seen, and the witnesses that a reader needs for it.

use super::view::{Fact, View};
use super::{HIGHEST_LEVEL, Scanned};
use crate::board::{Cell, Digit, HouseId};
use crate::ladder::Pattern;
use crate::step::{Base, By, Claim, Deduction, Method, Seen, Witness};

/// A step without its witnesses.
pub(super) struct Idea {
    pub(super) pattern: Pattern,
    pub(super) seen: Seen,
    /// Its level if no fact is needed.
    pub(super) level: u8,
    pub(super) houses: Vec<HouseId>,
    pub(super) claims: Vec<Claim>,
    pub(super) bases: Vec<Base>,
    /// The step number of a set that resolves: what it closes is told by it, also where a digit would do.
    pub(super) settles: Option<usize>,
}

impl Idea {
    /// The step with its witnesses; `None` if some candidate is passed over for which there is none.
    pub(super) fn complete(self, view: &View) -> Option<Scanned> {
        let mut open = self.closed(view);
        let mut witnesses = Vec::new();
        let mut facts: Vec<&Fact> = Vec::new();
        let mut houses = self.houses.clone();
        if let Some(fact) = view.facts.iter().find(|fact| Some(fact.step) == self.settles) {
            facts.push(fact);
            let outside = |&(cell, digit): &(Cell, Digit)| {
                fact.cells().contains(cell) && !fact.digits().contains(digit)
            };
            let (by_fact, rest) = open.into_iter().partition(outside);
            open = rest;
            witnesses.extend(told_by(by_fact, By::Step(fact.step)));
        }
        while let Some((house, told)) = widest_house(view, &self.houses, &open) {
            open.retain(|at| !told.iter().any(|(closed, _)| closed == at));
            witnesses.extend(told.into_iter().map(|((cell, digit), by)| Witness {
                cell,
                digit,
                by: vec![By::Cell(by)],
            }));
            if !houses.contains(&house) {
                houses.push(house);
            }
        }
        while !open.is_empty() {
            let closes = |fact: &Fact| open.iter().filter(|&&(cell, digit)| fact.bars(cell, digit)).count();
            // A fact already in use comes first, then the one that closes most, then the oldest.
            let used = |fact: &Fact| facts.iter().any(|used| used.step == fact.step);
            let fact = view
                .facts
                .iter()
                .filter(|fact| closes(fact) > 0)
                .max_by_key(|fact| (used(fact), closes(fact), std::cmp::Reverse(fact.step)))?;
            let (told, rest) = open.into_iter().partition(|&(cell, digit)| fact.bars(cell, digit));
            open = rest;
            witnesses.extend(told_by(told, By::Step(fact.step)));
            if !used(fact) {
                facts.push(fact);
            }
        }
        witnesses.sort_by_key(|witness| (witness.cell, witness.digit));
        let closes_cell = |fact: &&Fact| {
            let other = |witness: &Witness| {
                witness.by == [By::Step(fact.step)]
                    && fact.cells().contains(witness.cell)
                    && !fact.digits().contains(witness.digit)
            };
            Some(fact.step) != self.settles && witnesses.iter().any(other)
        };
        let by_facts = match facts.len() {
            0 => 1,
            1 if facts.iter().any(closes_cell) => 3,
            1 => 2,
            2 => 4,
            _ => HIGHEST_LEVEL,
        };
        let resolves = |fact: &&Fact| {
            self.claims.iter().all(|claim| {
                claim.places()
                    && claim.cells().is_subset(&fact.cells())
                    && claim.digits().is_subset(fact.digits())
            })
        };
        let seen = if facts.iter().any(resolves) { Seen::Settling } else { self.seen };
        Some(Scanned {
            level: self.level.max(by_facts),
            looks: houses.len() + facts.len(),
            held: 0,
            step: Deduction {
                pattern: self.pattern,
                method: Method::Scanning,
                seen: Some(seen),
                houses,
                claims: self.claims,
                bases: self.bases,
                witnesses,
            },
        })
    }

    /// The candidates that its bases pass over.
    fn closed(&self, view: &View) -> Vec<(Cell, Digit)> {
        let known = &view.known;
        let mut closed = Vec::new();
        for base in &self.bases {
            match *base {
                Base::Cell(cell) => {
                    let out = known.layout().size().digits() - known.candidates(cell);
                    closed.extend(out.iter().map(|digit| (cell, digit)));
                }
                Base::Place(house, digit) => {
                    let cells = known.layout().at(house).cells.iter().copied();
                    let out = |cell: &Cell| {
                        known.grid().get(*cell).is_none() && !known.candidates(*cell).contains(digit)
                    };
                    closed.extend(cells.filter(out).map(|cell| (cell, digit)));
                }
            }
        }
        closed.sort_unstable();
        closed.dedup();
        closed
    }
}

fn told_by(closed: Vec<(Cell, Digit)>, by: By) -> impl Iterator<Item = Witness> {
    closed.into_iter().map(move |(cell, digit)| Witness { cell, digit, by: vec![by] })
}

/// A candidate that is closed, and the cell that closes it.
type Told = ((Cell, Digit), Cell);

/// The house whose digits close the most of these candidates, with the cells that close them: a house of the idea
/// before another one.
fn widest_house(view: &View, own: &[HouseId], open: &[(Cell, Digit)]) -> Option<(HouseId, Vec<Told>)> {
    let layout = view.known.layout();
    let mut told: Vec<(HouseId, Vec<Told>)> = Vec::new();
    for &(cell, digit) in open.iter().filter(|&&(cell, digit)| !view.sight.candidates(cell).contains(digit)) {
        for slot in layout.slots(cell) {
            let holder = layout
                .at(slot.house)
                .cells
                .iter()
                .find(|&&other| view.sight.grid().get(other) == Some(digit));
            let Some(&holder) = holder else { continue };
            match told.iter_mut().find(|(house, _)| *house == slot.house) {
                Some((_, cells)) => cells.push(((cell, digit), holder)),
                None => told.push((slot.house, vec![((cell, digit), holder)])),
            }
        }
    }
    told.into_iter()
        .max_by_key(|(house, cells)| (own.contains(house), cells.len(), std::cmp::Reverse(*house)))
}
