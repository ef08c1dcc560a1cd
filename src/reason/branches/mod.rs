//! A candidate is supposed and all that follows by looking is followed: until something has nothing left, or until both
//! candidates of a base come to the same. As long as a reader can keep it together it is a branching chain; beyond that it
//! is a trial. Where that shows nothing, a trial splits bases into cases, one within the other.

mod agree;
mod cases;
mod closure;
mod crossings;
mod refuted;
mod spare;

use super::chains::not;
use super::links::{Linked, Links, Wide};
use super::nearest::Offers;
use super::numbers::Bits;
use super::off::Patience;
use crate::board::{Cell, Digit, DigitSet};
use crate::ladder::Pattern;
use crate::step::{Deduction, MOST_BASES, Position};
use closure::Bases;

/// So many pairs of candidates are supposed together in one search.
const MOST_PAIRS: usize = 100_000;

/// Something that is struck.
struct Found {
    struck: usize,
    /// What is read, the base that is split first.
    bases: Vec<usize>,
    splits: u8,
}

impl Found {
    /// Whether a reader can keep it together: else it is a trial.
    fn is_chain(&self) -> bool {
        self.bases.len() <= MOST_BASES
    }

    fn into_step<const W: usize>(self, pattern: Pattern, bases: &Bases<W>) -> Deduction {
        let read = self.bases.iter().map(|&base| bases.all[base].0.clone());
        let claims = not([bases.links.at(self.struck)].into_iter());
        Deduction { splits: self.splits, ..Deduction::with_marks(pattern, [], claims, read) }
    }
}

/// The steps of a branching chain or of a trial.
pub(super) fn find(
    pattern: Pattern,
    position: &Position,
    linked: &Linked,
    patience: &mut Patience,
    offers: &mut impl Offers<Deduction>,
) {
    match linked.of(position) {
        None => {}
        Some(Wide::Narrow(links)) => search(pattern, position, links, patience, offers),
        Some(Wide::Middle(links)) => search(pattern, position, links, patience, offers),
        Some(Wide::Broad(links)) => search(pattern, position, links, patience, offers),
    }
}

fn search<const W: usize>(
    pattern: Pattern,
    position: &Position,
    links: &Links<W>,
    patience: &mut Patience,
    offers: &mut impl Offers<Deduction>,
) {
    let bases = &Bases::new(links, position);
    let candidates = || 0..links.len();
    let own = |found: &Found| found.is_chain() == (pattern == Pattern::BranchingChain);
    let mut all: Vec<Found> = contradictions(bases, candidates()).filter(own).collect();
    if all.is_empty() || offers.takes_all() {
        all.extend(agree::agreements(bases, patience).into_iter().filter(own));
    }
    if all.is_empty() && pattern == Pattern::Trial {
        all.extend(in_pairs(bases, candidates(), patience).or_else(|| cases::fewest(bases, patience)));
    }
    let least = all.iter().map(|found| found.bases.len()).min();
    let takes_all = offers.takes_all();
    for found in all.into_iter().filter(|found| takes_all || Some(found.bases.len()) == least) {
        let (cell, digit) = links.at(found.struck);
        offers.offer(cell, DigitSet::single(digit), || found.into_step(pattern, bases));
    }
}

/// The trials of one candidate, which is struck by each of them. None where a branching chain strikes it.
pub(super) fn trials(
    struck: (Cell, Digit),
    position: &Position,
    linked: &Linked,
    patience: &mut Patience,
) -> Vec<Deduction> {
    match linked.of(position) {
        None => Vec::new(),
        Some(Wide::Narrow(links)) => trials_of(struck, position, links, patience),
        Some(Wide::Middle(links)) => trials_of(struck, position, links, patience),
        Some(Wide::Broad(links)) => trials_of(struck, position, links, patience),
    }
}

fn trials_of<const W: usize>(
    (cell, digit): (Cell, Digit),
    position: &Position,
    links: &Links<W>,
    patience: &mut Patience,
) -> Vec<Deduction> {
    let mut here = links.of_cell(position, cell).iter();
    let Some(struck) = here.find(|&number| links.at(number).1 == digit) else { return Vec::new() };
    let bases = &Bases::new(links, position);
    let agreed = agree::agreements(bases, patience).into_iter().filter(|found| found.struck == struck);
    let mut all: Vec<Found> = contradictions(bases, struck..=struck).chain(agreed).collect();
    if all.is_empty() {
        all.extend(in_pairs(bases, struck..=struck, patience).or_else(|| cases::of(struck, bases, patience)));
    } else if all.iter().any(Found::is_chain) {
        all.clear();
    }
    all.into_iter().map(|found| found.into_step(Pattern::Trial, bases)).collect()
}

/// Those of some candidates that leave a base with nothing.
fn contradictions<const W: usize>(
    bases: &Bases<W>,
    candidates: impl Iterator<Item = usize>,
) -> impl Iterator<Item = Found> {
    let nothing = bases.nothing::<false>();
    let mut closure = nothing.clone();
    // Those that leave no base with nothing: what follows from one that is on followed from what was supposed too.
    let mut cleared = Bits::EMPTY;
    let found = move |struck| {
        if cleared.contains(struck) {
            return None;
        }
        closure.become_like(&nothing);
        bases.suppose(&mut closure, struck);
        let contradiction = bases.contradiction(&closure);
        if contradiction.is_none() {
            cleared |= *closure.is_on();
        }
        Some(Found { struck, bases: contradiction?, splits: 0 })
    };
    candidates.filter_map(found)
}

/// The first of some candidates after which each of the two that a base has left leaves a base with nothing.
fn in_pairs<const W: usize>(
    bases: &Bases<W>,
    candidates: impl Iterator<Item = usize>,
    patience: &mut Patience,
) -> Option<Found> {
    let most = MOST_PAIRS.min(patience.supposable);
    let mut pairs = 0;
    for struck in candidates {
        let closure = &bases.closure(struck);
        for base in 0..bases.all.len() {
            let left: Vec<usize> = bases.left(closure, base).iter().collect();
            let [one, other] = left[..] else { continue };
            if pairs == most || patience.is_over() {
                return None;
            }
            pairs += 1;
            patience.supposable -= 1;
            let first = bases.and(closure, one);
            let Some(by_one) = bases.contradiction(&first) else { continue };
            let second = bases.and(closure, other);
            let Some(by_other) = bases.contradiction(&second) else { continue };
            let before = bases.reasons(closure, &(bases.all[base].1 & closure.out));
            let mut read = vec![base];
            for base in before.into_iter().chain(by_one).chain(by_other) {
                if !read.contains(&base) {
                    read.push(base);
                }
            }
            return Some(Found { struck, bases: read, splits: 1 });
        }
    }
    None
}
