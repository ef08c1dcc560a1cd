//! A step that may be seen, and the witnesses that a reader needs for it.

use std::cmp::Reverse;

use super::view::{Fact, View};
use super::{HIGHEST_LEVEL, Scanned, TWO_FACTS_LEVEL};
use crate::board::{Cell, CellSet, Digit, HouseId};
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
    /// Cells in which a digit of its bases may be or not: nothing is told of them.
    pub(super) untold: CellSet,
}

impl Idea {
    /// The step with its witnesses; `None` if some candidate is passed over for which there is none.
    pub(super) fn complete(self, view: &View) -> Option<Scanned> {
        let mut open = self.closed(view);
        let mut witnesses = Vec::with_capacity(open.len());
        let mut facts: Vec<&Fact> = Vec::new();
        let mut houses = self.houses.clone();
        if let Some(fact) = view.facts.iter().find(|fact| Some(fact.step) == self.settles) {
            facts.push(fact);
            let (by_fact, rest) = open.into_iter().partition(|&at| fact.closes_own(at));
            open = rest;
            witnesses.extend(told_by(by_fact, By::Step(fact.step)));
        }
        let mut told = told_by_digits(view, &open);
        while let Some((house, here)) = widest_house(&self.houses, &told) {
            let before = witnesses.len();
            witnesses.extend(here.iter().map(|told| Witness {
                cell: told.at.0,
                digit: told.at.1,
                by: vec![By::Cell(told.by)],
            }));
            let is_told = |at: (Cell, Digit)| witnesses[before..].iter().any(|it| (it.cell, it.digit) == at);
            open.retain(|at| !is_told(*at));
            told.retain(|told| !is_told(told.at));
            if !houses.contains(&house) {
                houses.push(house);
            }
        }
        let others = fewest(&view.facts, &open)?;
        let closes_own = others.iter().any(|fact| open.iter().any(|&at| fact.closes_own(at)));
        for fact in others {
            let (told, rest) = open.into_iter().partition(|&(cell, digit)| fact.bars(cell, digit));
            open = rest;
            witnesses.extend(told_by(told, By::Step(fact.step)));
            facts.push(fact);
        }
        witnesses.sort_by_key(|witness| (witness.cell, witness.digit));
        let by_facts = match facts.len() {
            0 => 1,
            1 if closes_own => 3,
            1 => 2,
            2 => TWO_FACTS_LEVEL,
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
            held: view.held_with(&self.claims),
            step: Deduction {
                pattern: self.pattern,
                method: Method::Scanning,
                seen: Some(seen),
                houses: houses.into(),
                claims: self.claims.into(),
                bases: self.bases.into(),
                witnesses,
                splits: 0,
            },
        })
    }

    /// The candidates that its bases pass over and that its claims deny: where in a set each digit can be is not
    /// told.
    fn closed(&self, view: &View) -> Vec<(Cell, Digit)> {
        let known = &view.known;
        let mut closed = Vec::with_capacity(known.layout().size().usize());
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
                Base::Swap(_) => {}
            }
        }
        let stays = |&(cell, digit): &(Cell, Digit)| {
            let claimed = |claim: &Claim| claim.cells().contains(cell) && claim.digits().contains(digit);
            self.untold.contains(cell) || self.claims.iter().any(claimed)
        };
        closed.retain(|at| !stays(at));
        closed.sort_unstable();
        closed.dedup();
        closed
    }
}

fn told_by(closed: Vec<(Cell, Digit)>, by: By) -> impl Iterator<Item = Witness> {
    closed.into_iter().map(move |(cell, digit)| Witness { cell, digit, by: vec![by] })
}

/// The fewest facts that close all of these candidates; of the facts of which one is enough, one that closes no cell of
/// its own, then the oldest. `None` if all together do not.
fn fewest<'a>(facts: &'a [Fact], open: &[(Cell, Digit)]) -> Option<Vec<&'a Fact>> {
    let bars = |fact: &&Fact, at: &(Cell, Digit)| fact.bars(at.0, at.1);
    if !open.iter().all(|at| facts.iter().any(|fact| bars(&fact, at))) {
        return None;
    }
    let alone = facts.iter().filter(|fact| open.iter().all(|at| bars(fact, at)));
    match alone.min_by_key(|fact| open.iter().any(|&at| fact.closes_own(at))) {
        Some(fact) if !open.is_empty() => Some(vec![fact]),
        _ => (0..=open.len()).find_map(|most| some(facts, open, most)),
    }
}

/// So many facts at most that close all of these candidates.
fn some<'a>(facts: &'a [Fact], open: &[(Cell, Digit)], most: usize) -> Option<Vec<&'a Fact>> {
    let Some(&(cell, digit)) = open.first() else { return Some(Vec::new()) };
    let mut ways = facts.iter().filter(|fact| most > 0 && fact.bars(cell, digit));
    ways.find_map(|fact| {
        let rest: Vec<_> = open.iter().copied().filter(|&(cell, digit)| !fact.bars(cell, digit)).collect();
        let others = some(facts, &rest, most - 1)?;
        Some([vec![fact], others].concat())
    })
}

/// A candidate that is closed, and the cell that closes it in a house.
#[derive(Clone, Copy)]
struct Told {
    house: HouseId,
    at: (Cell, Digit),
    by: Cell,
}

/// How digits that stand close some of these candidates: house by house.
fn told_by_digits(view: &View, open: &[(Cell, Digit)]) -> Vec<Told> {
    let View { sight, known, .. } = view;
    let layout = known.layout();
    let mut all = Vec::with_capacity(3 * open.len());
    for &(cell, digit) in open.iter().filter(|&&(cell, digit)| !sight.candidates(cell).contains(digit)) {
        for house in layout.slots(cell).iter().map(|slot| slot.house) {
            if !sight.missing(house).contains(digit) {
                let holds = |other: &&Cell| sight.grid().get(**other) == Some(digit);
                let holder = layout.at(house).cells.iter().find(holds);
                all.extend(holder.map(|&by| Told { house, at: (cell, digit), by }));
            }
        }
    }
    all.sort_by_key(|told| told.house);
    all
}

/// What is told by the house whose digits close the most of these candidates: by a house of the idea before another one.
fn widest_house<'a>(own: &[HouseId], told: &'a [Told]) -> Option<(HouseId, &'a [Told])> {
    let houses = told.chunk_by(|a, b| a.house == b.house).map(|here| (here[0].house, here));
    houses.max_by_key(|(house, here)| (own.contains(house), here.len(), Reverse(*house)))
}
