//! Grouped chains against their definition, by trying every way to go on from every candidate.

use std::collections::BTreeSet;

use gridsetter::board::Cell;
use gridsetter::ladder::Pattern;
use gridsetter::reason::Reasoner;
use gridsetter::step::{Base, Position};

use crate::chains::{conflict, fewest_bases, go_through, places, sets};
use crate::puzzles::{self, Plan};
use crate::random;
use crate::room::Candidate;

/// So many links are tried by brute force.
const MOST_LINKS: usize = 3;
/// Almost locked sets make a pattern of their own as long as there are no more.
const MOST_SETS: usize = 3;

/// What is read, and its sides: if one is out, each of the others is on.
struct Look {
    bases: Vec<Base>,
    sides: Vec<Vec<Candidate>>,
}

fn exclude(position: &Position, some: &[Candidate], others: &[Candidate]) -> bool {
    some.iter().all(|&one| others.iter().all(|&other| conflict(position, one, other)))
}

/// Cells and houses with two candidates, and houses whose places lie partly in a second house.
fn halves(position: &Position) -> Vec<Look> {
    let layout = position.layout();
    let cells = layout.size().all_cells().map(Base::Cell);
    let mut found = Vec::new();
    for base in cells {
        if let [one, other] = places(position, &base)[..] {
            found.push(Look { bases: vec![base], sides: vec![vec![one], vec![other]] });
        }
    }
    for house in layout.house_ids() {
        for digit in layout.size().digits().iter() {
            let base = Base::Place(house, digit);
            let all = places(position, &base);
            if let [one, other] = all[..] {
                found.push(Look { bases: vec![base], sides: vec![vec![one], vec![other]] });
                continue;
            }
            for second in layout.house_ids().filter(|&second| second != house) {
                let shared =
                    layout.at(house).cells.iter().filter(|&cell| layout.at(second).cells.contains(cell));
                let (inside, outside): (Vec<_>, Vec<_>) =
                    all.iter().copied().partition(|(cell, _)| layout.at(second).cells.contains(cell));
                if shared.count() > 1 && !inside.is_empty() && !outside.is_empty() {
                    found.push(Look { bases: vec![base.clone()], sides: vec![inside, outside] });
                }
            }
        }
    }
    found
}

/// Almost locked sets of two cells or more, with the sides that something outside sees.
fn looks_of_sets(position: &Position) -> Vec<Look> {
    let look = |set: Vec<(_, Vec<Candidate>)>| {
        let cells: BTreeSet<Cell> =
            set.iter().flat_map(|(_, own)| own.iter().map(|(cell, _)| *cell)).collect();
        let is_outside = |at: &Candidate| !cells.contains(&at.0);
        let others: Vec<Candidate> = puzzles::candidates(position).into_iter().filter(is_outside).collect();
        let is_seen = |own: &Vec<Candidate>| others.iter().any(|&other| exclude(position, &[other], own));
        let sides = set.into_iter().map(|(_, own)| own).filter(is_seen).collect();
        Look { bases: cells.into_iter().map(Base::Cell).collect(), sides }
    };
    sets(position).into_iter().map(look).filter(|look| look.bases.len() > 1).collect()
}

/// One link: the look, what is out, and what is on.
type Link<'a> = (&'a Look, &'a [Candidate], &'a [Candidate]);

/// Whether links are a grouped chain: one that has a joint of several candidates, passes by nothing twice, and is not
/// just a few almost locked sets.
fn is_grouped(links: &[Link]) -> bool {
    let bases: BTreeSet<&Vec<Base>> = links.iter().map(|(look, ..)| &look.bases).collect();
    let of_sets = links.iter().all(|(look, ..)| matches!(look.bases[0], Base::Cell(_)));
    bases.len() == links.len()
        && links.iter().any(|(_, out, on)| out.len() > 1 || on.len() > 1)
        && (links.len() > MOST_SETS || !of_sets)
}

/// The fewest links after which what was supposed is put out; and whether any chain of so many, and whether each, is a
/// grouped one.
struct Fewest {
    links: usize,
    any: bool,
    each: bool,
}

/// Follows every chain of at most so many links from a candidate that is true.
fn follow<'a>(
    position: &Position,
    looks: &'a [Look],
    supposed: Candidate,
    most: usize,
    links: &mut Vec<Link<'a>>,
    fewest: &mut Fewest,
) {
    let supposed_alone = [supposed];
    let on = links.last().map_or(&supposed_alone[..], |(_, _, on)| on);
    if !links.is_empty() && exclude(position, on, &[supposed]) {
        if links.len() < fewest.links {
            *fewest = Fewest { links: links.len(), any: false, each: true };
        }
        if links.len() == fewest.links {
            fewest.any |= is_grouped(links);
            fewest.each &= is_grouped(links);
        }
    }
    if links.len() == most.min(fewest.links) {
        return;
    }
    for look in looks {
        for (at, out) in look.sides.iter().enumerate().filter(|(_, out)| exclude(position, on, out)) {
            for (_, next) in look.sides.iter().enumerate().filter(|(other, _)| *other != at) {
                links.push((look, out, next));
                follow(position, looks, supposed, most, links, fewest);
                links.pop();
            }
        }
    }
}

fn fewest(position: &Position, looks: &[Look], supposed: Candidate, most: usize) -> Fewest {
    let mut fewest = Fewest { links: usize::MAX, any: false, each: false };
    follow(position, looks, supposed, most, &mut Vec::new(), &mut fewest);
    fewest
}

/// Holds what is found against all chains of few links, with almost locked sets of fewer still.
fn check(reasoner: &Reasoner, position: &Position, links_of_sets: usize, tally: &mut [usize; 2]) {
    let pattern = Pattern::GroupedChain;
    let place = || format!("{} ({})", position.grid(), random::describe(position.layout()));
    let found = fewest_bases(reasoner, pattern, position);
    let mut looks = halves(position);
    let (mut any, mut each) = (usize::MAX, usize::MAX);
    for at in puzzles::candidates(position) {
        let fewest = fewest(position, &looks, at, MOST_LINKS);
        any = any.min(if fewest.any { fewest.links } else { usize::MAX });
        if fewest.each {
            each = each.min(fewest.links);
            tally[0] += 1;
            assert!(found.contains_key(&at), "{at:?} not found: {}", place());
        }
    }
    if each <= MOST_LINKS {
        // Without almost locked sets each link reads one base.
        let bases = reasoner.by(pattern, position, None).unwrap().bases.len();
        assert!((any..=each).contains(&bases), "{bases} bases, not {any} to {each}: {}", place());
    }
    looks.extend(looks_of_sets(position));
    for at in puzzles::candidates(position) {
        if fewest(position, &looks, at, links_of_sets).each {
            tally[1] += 1;
            assert!(found.contains_key(&at), "{at:?} not found, with sets: {}", place());
        }
    }
}

fn hold_against_definition(seed: u64, plan: Plan) -> [usize; 2] {
    let mut tally = [0; 2];
    go_through(seed, plan, |reasoner, position, _| {
        let small = position.layout().size().side() <= 6;
        check(reasoner, position, if small { 3 } else { 2 }, &mut tally);
    });
    println!(
        "candidates struck by brute force: {} by grouped chains, {} with sets among their links",
        tally[0], tally[1]
    );
    tally
}

#[test]
fn grouped_chains_are_those_of_their_definition() {
    hold_against_definition(74, &[(4, 6, 4), (6, 4, 3), (9, 4, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn grouped_chains_are_those_of_their_definition_at_length() {
    let [halves, sets] = hold_against_definition(75, &[(4, 60, 6), (6, 60, 4), (8, 20, 2), (9, 60, 2)]);
    assert!(halves > 1000 && sets > 500, "{halves} {sets}");
}
