//! The links of chains as they are told: each follows from those that it is said to follow from, by one thing that is read.

use gridsetter::board::{Cell, Digit, Layout};
use gridsetter::step::{Base, Deduction, Position};
use gridsetter::words::{Depth, LinkName, Thread, Voice, tell, thread};

use crate::walks::each_step;

type Candidate = (Cell, Digit);

fn conflict(layout: &Layout, a: Candidate, b: Candidate) -> bool {
    a != b && (a.0 == b.0 || a.1 == b.1 && layout.sees(a.0, b.0))
}

/// What a base or the cells of a set read.
fn candidates(before: &Position, bases: &[&Base]) -> Vec<Candidate> {
    let of = |base: &&Base| -> Vec<Candidate> {
        match **base {
            Base::Cell(cell) => before.candidates(cell).iter().map(|digit| (cell, digit)).collect(),
            Base::Place(house, digit) => {
                before.cells(house, digit).iter().map(|cell| (cell, digit)).collect()
            }
            Base::Swap(_) => Vec::new(),
        }
    };
    bases.iter().flat_map(of).collect()
}

/// The groups of candidates of which one is true: one group, or one a digit for the cells of a set.
fn groups(leaves: &[Candidate]) -> Vec<Vec<Candidate>> {
    let mut cells: Vec<Cell> = leaves.iter().map(|(cell, _)| *cell).collect();
    cells.dedup();
    if cells.len() == 1 {
        return vec![leaves.to_vec()];
    }
    let mut digits: Vec<Digit> = leaves.iter().map(|(_, digit)| *digit).collect();
    digits.sort_unstable();
    digits.dedup();
    let of = |digit| leaves.iter().copied().filter(|one| one.1 == digit).collect();
    digits.into_iter().map(of).collect()
}

/// Whether something is out by what is supposed or by links.
fn is_out(layout: &Layout, thread: &Thread, from_start: bool, from: &[LinkName], at: Candidate) -> bool {
    let by_start = from_start
        && if thread.is_so {
            thread.supposed.iter().any(|&one| conflict(layout, one, at))
        } else {
            thread.supposed.contains(&at)
        };
    by_start
        || thread.links.iter().filter(|link| from.contains(&link.name)).any(|link| {
            groups(&link.leaves).iter().any(|group| group.iter().all(|&one| conflict(layout, one, at)))
        })
}

fn check(before: &Position, step: &Deduction, thread: &Thread) {
    let layout = before.layout();
    for (at, link) in thread.links.iter().enumerate() {
        let told = |name: &LinkName| thread.links[..at].iter().any(|link| link.name == *name);
        assert!(link.from.iter().all(told), "{thread:?}");
        assert!(link.from_start || !link.from.is_empty(), "{thread:?}");
        let out = |&one: &Candidate| is_out(layout, thread, link.from_start, &link.from, one);
        let leaves = |read: &[&Base]| {
            let all = candidates(before, read);
            link.leaves.iter().all(|one| all.contains(one))
                && all.iter().all(|one| link.leaves.contains(one) || out(one))
        };
        let is_own =
            |base: &&Base| matches!(base, Base::Cell(cell) if link.leaves.iter().any(|(at, _)| at == cell));
        let own: Vec<&Base> = step.bases.iter().filter(is_own).collect();
        let is_set = own.len() > 1 && own.len() == groups(&link.leaves).len() && leaves(&own);
        let is_base = step.bases.iter().any(|base| leaves(&[base]));
        assert!(is_set || is_base, "{link:?} of {thread:?} {step:?}");
    }
    let struck = before.strikes(&step.claims);
    match &thread.end {
        Some(end) => {
            let out = |&one: &Candidate| is_out(layout, thread, end.from_start, &end.from, one);
            assert!(!end.out.is_empty() && end.out.iter().all(out), "{thread:?}");
            assert!(thread.supposed.iter().all(|(cell, digit)| {
                struck.iter().any(|(at, digits)| at == cell && digits.contains(*digit))
            }));
        }
        None => assert!(!thread.is_so),
    }
}

#[test]
fn each_link_follows_from_those_that_it_is_said_to_follow_from() {
    let (mut chains, mut branched) = (0, 0);
    each_step(6, |before, step, earlier| {
        let Some(thread) = thread(before, step) else { return };
        check(before, step, &thread);
        chains += 1;
        let has_branches = thread.links.iter().any(|link| link.name.to_string().starts_with('a'));
        let text = tell(&Voice::default(), Depth::Why, before, step, earlier);
        assert_eq!(text.contains("In branch a, "), has_branches, "{text}");
        branched += usize::from(has_branches);
    });
    assert!(chains > 50 && branched > 10, "{chains} chains, {branched} with branches");
}
