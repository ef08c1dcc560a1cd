//! A candidate of which each case of some bases, split one after the other, leaves a base with nothing.

use std::cmp::Reverse;

use super::Found;
use super::closure::{Bases, Closure};
use crate::reason::links::number_of;
use crate::reason::off::Patience;

/// So many candidates are supposed beside others while the fewest cases are looked for: half a second of work at size 16.
const MOST_SUPPOSED: usize = 120_000;

/// So many are, from then on, for each candidate that is tried to the end.
const MORE_SUPPOSED: usize = 8_000;

/// So many candidates are tried to the end.
const MOST_TRIED: usize = 8;

/// The most cases that one comes to.
const MOST_CASES: usize = 250;

/// What is known of a candidate in a case.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Known {
    /// It was not supposed yet.
    Nothing,
    /// It leaves a base with nothing.
    Refuted,
    /// So many are out with it.
    Out(u16),
}

/// What follows in a case.
type Followed<const W: usize> = Closure<W, true>;

/// A case of which nothing is known yet, with what is known of each candidate in it.
struct Case<const W: usize> {
    followed: Followed<W>,
    known: Vec<Known>,
}

/// A candidate that is supposed.
struct Attempt<const W: usize> {
    struck: usize,
    /// The bases that are split, in every case in this order.
    order: Vec<u16>,
    open: Vec<Case<W>>,
    /// How many cases come to nothing.
    closed: usize,
    /// It takes so many cases at least.
    bound: usize,
}

impl<const W: usize> Attempt<W> {
    /// Whether each case comes to nothing.
    fn is_closed(&self) -> bool {
        self.open.is_empty()
    }

    /// How many candidates are out in the case of which the least is known.
    fn reach(&self) -> usize {
        self.open.iter().map(|case| case.followed.out.len()).min().unwrap_or_default()
    }
}

/// The search for the candidate that comes to nothing in the fewest cases.
struct Search<'a, const W: usize> {
    bases: &'a Bases<'a, W>,
    start: Followed<W>,
    scratch: Followed<W>,
    supposed: usize,
    /// The most candidates that a base has.
    most: usize,
    patience: &'a Patience,
}

impl<const W: usize> Search<'_, W> {
    fn case(&self, followed: Followed<W>) -> Case<W> {
        Case { followed, known: vec![Known::Nothing; self.bases.links.len()] }
    }

    fn attempt(&self, struck: usize) -> Attempt<W> {
        let followed = self.bases.and(&self.start, struck);
        let order = Vec::new();
        if followed.is_empty() {
            return Attempt { struck, order, open: Vec::new(), closed: 1, bound: 1 };
        }
        Attempt { struck, order, open: vec![self.case(followed)], closed: 0, bound: 2 }
    }

    /// Supposes the candidates of the bases that have so many left in a case.
    fn look(&mut self, case: &mut Case<W>, count: usize) {
        for base in 0..self.bases.all.len() {
            if case.followed.count(base) != count {
                continue;
            }
            for number in self.bases.left(&case.followed, base).iter() {
                if case.known[number] == Known::Nothing {
                    self.supposed += 1;
                    self.scratch.become_like(&case.followed);
                    self.bases.suppose(&mut self.scratch, number);
                    case.known[number] = if self.scratch.is_empty() {
                        Known::Refuted
                    } else {
                        Known::Out(number_of(self.scratch.out.len()))
                    };
                }
            }
        }
    }

    /// Goes on with an attempt: splits the base that leaves the fewest cases open. At first only bases with two candidates
    /// left are looked at: nothing else takes so few cases.
    fn go_on(&mut self, attempt: &mut Attempt<W>) {
        let is_first_look = attempt.bound == attempt.closed + 2 * attempt.open.len();
        for count in 2..=self.most {
            for case in &mut attempt.open {
                self.look(case, count);
            }
            match self.best(attempt, count) {
                Some((open, base)) if open == 0 || count > 2 => return self.split(attempt, base),
                _ if is_first_look => {
                    attempt.bound += 1;
                    return;
                }
                _ => {}
            }
        }
        attempt.bound = usize::MAX;
    }

    /// The base that leaves the fewest cases open, of those that have no more left than that; and how many it leaves.
    fn best(&self, attempt: &Attempt<W>, count: usize) -> Option<(usize, usize)> {
        let cost = |base: usize| {
            let counts = || attempt.open.iter().map(|case| case.followed.count(base));
            if counts().any(|left| left > count) || counts().all(|left| left < 2) {
                return None;
            }
            let (mut open, mut cases, mut far) = (0, 0, 0);
            for case in &attempt.open {
                let left = self.bases.left(&case.followed, base);
                cases += left.len();
                if left.len() < 2 {
                    open += 1;
                    continue;
                }
                for number in left.iter() {
                    if let Known::Out(out) = case.known[number] {
                        open += 1;
                        far += usize::from(out);
                    }
                }
            }
            Some((open, cases, Reverse(far.checked_div(open).unwrap_or_default()), base))
        };
        let best = (0..self.bases.all.len()).filter_map(cost).min();
        best.map(|(open, .., base)| (open, base))
    }

    fn split(&mut self, attempt: &mut Attempt<W>, base: usize) {
        attempt.order.push(number_of(base));
        for case in std::mem::take(&mut attempt.open) {
            if case.followed.count(base) < 2 {
                attempt.open.push(case);
                continue;
            }
            for number in self.bases.left(&case.followed, base).iter() {
                if case.known[number] == Known::Refuted {
                    attempt.closed += 1;
                } else {
                    let followed = self.bases.and(&case.followed, number);
                    attempt.open.push(self.case(followed));
                }
            }
        }
        attempt.bound = attempt.closed + 2 * attempt.open.len();
    }

    /// Goes on with an attempt as long as so many cases may do, and until so many candidates were supposed.
    fn go_on_up_to(&mut self, attempt: &mut Attempt<W>, limit: usize, most: usize) {
        while !attempt.is_closed()
            && attempt.bound <= limit
            && self.supposed < most
            && !self.patience.is_over()
        {
            self.go_on(attempt);
        }
    }

    fn fewest(&mut self) -> Option<Found> {
        let mut attempts: Vec<Attempt<W>> =
            (0..self.bases.links.len()).map(|struck| self.attempt(struck)).collect();
        let most = MOST_SUPPOSED.min(self.patience.supposable);
        for limit in 1..=MOST_CASES {
            for attempt in &mut attempts {
                self.go_on_up_to(attempt, limit, most);
            }
            let found = attempts.iter().filter(|attempt| attempt.is_closed() && attempt.closed <= limit);
            let least = found.map(|attempt| self.read(attempt)).min_by_key(|found| found.bases.len());
            if least.is_some() {
                return least;
            }
            if self.supposed >= most {
                break;
            }
        }
        attempts.sort_by_key(|attempt| (attempt.bound, Reverse(attempt.reach())));
        attempts.iter_mut().take(MOST_TRIED).find_map(|attempt| {
            let most = self.patience.supposable.min(self.supposed + MORE_SUPPOSED);
            self.go_on_up_to(attempt, MOST_CASES, most);
            attempt.is_closed().then(|| self.read(attempt))
        })
    }

    fn of(&mut self, struck: usize) -> Option<Found> {
        let mut attempt = self.attempt(struck);
        self.go_on_up_to(&mut attempt, MOST_CASES, MOST_SUPPOSED.min(self.patience.supposable));
        attempt.is_closed().then(|| self.read(&attempt))
    }

    /// What is read: the bases that are split first, in their order.
    fn read(&self, attempt: &Attempt<W>) -> Found {
        let bases = self.bases;
        let mut reading =
            Reading { bases, order: &attempt.order, is_read: vec![false; bases.all.len()], read: Vec::new() };
        reading.case(&bases.and(&self.start, attempt.struck));
        let split = attempt.order.iter().copied().map(usize::from);
        let split: Vec<usize> = split.filter(|&base| reading.is_read[base]).collect();
        let rest = reading.read.into_iter().filter(|base| !split.contains(base));
        let bases = split.iter().copied().chain(rest).collect();
        Found { struck: attempt.struck, bases, splits: split.len().to_le_bytes()[0] }
    }
}

/// What is read of an attempt.
struct Reading<'a, const W: usize> {
    bases: &'a Bases<'a, W>,
    order: &'a [u16],
    is_read: Vec<bool>,
    read: Vec<usize>,
}

impl<const W: usize> Reading<'_, W> {
    fn add(&mut self, bases: impl IntoIterator<Item = usize>) {
        for base in bases {
            if !std::mem::replace(&mut self.is_read[base], true) {
                self.read.push(base);
            }
        }
    }

    fn case(&mut self, case: &Followed<W>) {
        if let Some(bases) = self.bases.contradiction(case) {
            return self.add(bases);
        }
        let split = self.order.iter().copied().map(usize::from).find(|&base| case.count(base) > 1);
        let Some(base) = split else { return };
        let out = self.bases.all[base].1 & case.out;
        self.add(self.bases.reasons(case, &out));
        self.add([base]);
        let left = self.bases.left(case, base);
        left.iter().for_each(|number| self.case(&self.bases.and(case, number)));
    }
}

/// The candidate that comes to nothing in the fewest cases, and of such the one for which the fewest bases are read. Where
/// that takes too long, one of those that took the fewest so far.
pub(super) fn fewest<const W: usize>(bases: &Bases<W>, patience: &mut Patience) -> Option<Found> {
    search(None, bases, patience)
}

/// This candidate, if it comes to nothing in so few cases that they are found.
pub(super) fn of<const W: usize>(struck: usize, bases: &Bases<W>, patience: &mut Patience) -> Option<Found> {
    search(Some(struck), bases, patience)
}

fn search<const W: usize>(struck: Option<usize>, bases: &Bases<W>, patience: &mut Patience) -> Option<Found> {
    let start = bases.nothing::<true>();
    let most = bases.all.iter().map(|(_, candidates)| candidates.len()).max().unwrap_or_default();
    let mut search = Search { bases, scratch: start.clone(), start, supposed: 0, most, patience };
    let found = match struck {
        Some(struck) => search.of(struck),
        None => search.fewest(),
    };
    let supposed = search.supposed;
    patience.supposable -= supposed.min(patience.supposable);
    // With fewer splits the checker looks in more ways, and what it can do without is left out there.
    found.map(|found| if found.splits > 1 { found.spared(bases, patience) } else { found })
}
