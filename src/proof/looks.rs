//! The two looks of the proof.

use std::collections::{BTreeMap, BTreeSet};

use smallvec::SmallVec;

use crate::board::{Cell, Digit, HouseId, Layout};

/// In how many ways it is looked.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Looks {
    /// At one base at a time.
    One,
    /// Also at several together.
    Both,
}

/// A digit in a cell.
pub(super) type Candidate = (Cell, Digit);

/// Those of one base: seldom more than have room here.
pub(super) type Candidates = SmallVec<[Candidate; 8]>;

/// Whether two candidates cannot both be true, by the rule that no cell and no house holds two.
fn conflict(layout: &Layout, a: Candidate, b: Candidate) -> bool {
    match (a.0 == b.0, a.1 == b.1) {
        (true, same_digit) => !same_digit,
        (false, same_digit) => same_digit && layout.sees(a.0, b.0),
    }
}

/// Whether one candidate of each base being true leaves no room for `supposed`; bases are split into cases as deep as
/// `splits`.
pub(super) fn refuted(
    layout: &Layout,
    bases: &[Candidates],
    supposed: Candidate,
    splits: u8,
    looks: Looks,
) -> bool {
    // Mostly that is all, and nothing need be copied.
    let is_out = |at: &Candidate| conflict(layout, *at, supposed);
    if bases.iter().any(|base| base.iter().all(is_out)) {
        return true;
    }
    let less = |base: &Candidates| base.iter().copied().filter(|at| !is_out(at)).collect();
    let mut bases: Vec<Candidates> = bases.iter().map(less).collect();
    if contradict(layout, &mut bases, looks) {
        return true;
    }
    let Some(cases) = splits.checked_sub(1).and_then(|_| bases.iter().find(|base| base.len() > 1)) else {
        return false;
    };
    cases.iter().all(|&case| refuted(layout, &bases, case, splits - 1, looks))
}

/// Repeats the looks, which leave less of the bases, until one has nothing left or no more can be seen.
fn contradict(layout: &Layout, bases: &mut [Candidates], looks: Looks) -> bool {
    loop {
        if bases.iter().any(Candidates::is_empty) {
            return true;
        }
        let before = left(bases);
        for at in 0..bases.len() {
            // It does not close itself.
            let all = std::mem::take(&mut bases[at]);
            close(layout, bases, &all);
            bases[at] = all;
        }
        if left(bases) == before && looks == Looks::Both {
            for grouping in groupings(layout, bases) {
                if fill(layout, bases, grouping) {
                    return true;
                }
            }
        }
        if left(bases) == before {
            return false;
        }
    }
}

fn left(bases: &[Candidates]) -> usize {
    bases.iter().map(Candidates::len).sum()
}

/// Takes out what conflicts with all of `all`, one of which is true.
fn close(layout: &Layout, bases: &mut [Candidates], all: &[Candidate]) {
    for base in bases.iter_mut() {
        base.retain(|&mut at| !all.iter().all(|&one| conflict(layout, at, one)));
    }
}

/// A way to part candidates into groups of which each holds but one that is true.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Grouping {
    /// The cells of a house.
    Cells(HouseId),
    /// The digits of a house.
    Digits(HouseId),
    /// For one digit, the rows.
    Rows(Digit),
    /// For one digit, the columns.
    Columns(Digit),
    /// For one digit, the boxes or regions.
    Blocks(Digit),
}

impl Grouping {
    /// The group of a candidate; `None` if it lies in none.
    fn group(self, layout: &Layout, (cell, digit): Candidate) -> Option<usize> {
        let line = |own: Digit, at: u8| (own == digit).then_some(usize::from(at));
        match self {
            Grouping::Cells(house) => {
                layout.slots(cell).iter().find(|slot| slot.house == house).map(|slot| usize::from(slot.at))
            }
            Grouping::Digits(house) => layout.at(house).set().contains(cell).then(|| digit.place()),
            Grouping::Rows(own) => line(own, cell.row()),
            Grouping::Columns(own) => line(own, cell.col()),
            Grouping::Blocks(own) => {
                let block = layout.slots(cell).iter().find(|slot| layout.at(slot.house).name.is_block());
                block.filter(|_| own == digit).map(|slot| slot.house.place())
            }
        }
    }
}

/// The groupings in which two bases or more could lie that have several candidates: the first of each lies there.
fn groupings(layout: &Layout, bases: &[Candidates]) -> Vec<Grouping> {
    let mut found = Vec::new();
    let several = bases.iter().filter(|base| base.len() > 1);
    for &(cell, digit) in several.filter_map(|base| base.first()) {
        for slot in layout.slots(cell) {
            found.extend([Grouping::Cells(slot.house), Grouping::Digits(slot.house)]);
        }
        found.extend([Grouping::Rows(digit), Grouping::Columns(digit), Grouping::Blocks(digit)]);
    }
    found.sort_unstable();
    let shared = found.chunk_by(|a, b| a == b).filter(|same| same.len() > 1);
    shared.map(|same| same[0]).collect()
}

/// Looks for bases with no candidate in common that fill as many groups, and takes out what conflicts with all of a
/// filled group. Tells whether some bases have fewer groups than they are.
fn fill(layout: &Layout, bases: &mut [Candidates], grouping: Grouping) -> bool {
    let groups_of = |base: &Candidates| -> Option<Vec<usize>> {
        let mut groups = base.iter().map(|&at| grouping.group(layout, at)).collect::<Option<Vec<usize>>>()?;
        groups.sort_unstable();
        groups.dedup();
        Some(groups)
    };
    // A base in one group is passed over, since the first look has done it justice, and so is one that shares a candidate
    // with a base before it.
    let mut inside: Vec<(usize, Vec<usize>)> = Vec::new();
    for at in 0..bases.len() {
        let apart =
            |&(other, _): &(usize, Vec<usize>)| !bases[other].iter().any(|one| bases[at].contains(one));
        if let Some(groups) = groups_of(&bases[at])
            && groups.len() > 1
            && inside.iter().all(apart)
        {
            inside.push((at, groups));
        }
    }
    // One base that fills a group is one from which nothing new follows.
    if inside.len() < 2 {
        return false;
    }
    let Some(owners) = match_all(&inside) else { return true };
    for start in 0..inside.len() {
        let Some(tight) = tight_around(start, &inside, &owners) else { continue };
        let members: Vec<Candidate> = tight.iter().flat_map(|&at| bases[inside[at].0].clone()).collect();
        for (&group, _) in owners.iter().filter(|(_, base)| tight.contains(base)) {
            let here = |one: &Candidate| grouping.group(layout, *one) == Some(group);
            let all: Vec<Candidate> = members.iter().copied().filter(here).collect();
            close(layout, bases, &all);
        }
    }
    false
}

/// For each group that is taken, the base that takes it.
type Owners = BTreeMap<usize, usize>;

/// Gives each base a group of its own; `None` if there are too few groups.
fn match_all(inside: &[(usize, Vec<usize>)]) -> Option<Owners> {
    let mut owners = Owners::new();
    let all = (0..inside.len()).all(|base| find_group(base, inside, &mut owners, &mut BTreeSet::new()));
    all.then_some(owners)
}

/// Finds a group for a base, if need be by moving others.
fn find_group(
    base: usize,
    inside: &[(usize, Vec<usize>)],
    owners: &mut Owners,
    tried: &mut BTreeSet<usize>,
) -> bool {
    for &group in &inside[base].1 {
        let can_take = tried.insert(group)
            && match owners.get(&group).copied() {
                Some(other) => find_group(other, inside, owners, tried),
                None => true,
            };
        if can_take {
            owners.insert(group, base);
            return true;
        }
    }
    false
}

/// The fewest bases around this one that fill as many groups as they are, if there are such.
fn tight_around(start: usize, inside: &[(usize, Vec<usize>)], owners: &Owners) -> Option<Vec<usize>> {
    let mut members = vec![start];
    let mut looked_at = 0;
    while let Some(&member) = members.get(looked_at) {
        looked_at += 1;
        for group in &inside[member].1 {
            let owner = *owners.get(group)?;
            if !members.contains(&owner) {
                members.push(owner);
            }
        }
    }
    Some(members)
}
