//! Single-digit chains: link after link, every one that fits.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, CellSet, Digit, HouseId};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::step::{Base, Claim, Deduction};

use super::Look;
use super::wings::only;

/// A house, and its places for the digit in two parts.
type Link = (HouseId, Vec<Cell>, Vec<Cell>);

/// The shortest chains that strike something and can spare no house.
pub fn all(look: &Look) -> BTreeSet<Vec<Base>> {
    let mut of_all: Vec<(Digit, Vec<Link>, Vec<Vec<usize>>)> = Vec::new();
    for digit in look.digits().iter() {
        let links = links(look, digit);
        let chains = (0..links.len()).map(|link| vec![link]).collect();
        of_all.push((digit, links, chains));
    }
    loop {
        let mut found = BTreeSet::new();
        for (digit, links, chains) in &mut of_all {
            *chains = longer(look, links, chains);
            for step in chains.iter().filter_map(|chain| step(look, *digit, links, chain)) {
                if proof::superfluous(look.0, &step).is_empty() {
                    found.insert(super::essence(&step));
                }
            }
        }
        if !found.is_empty() || of_all.iter().all(|(_, _, chains)| chains.is_empty()) {
            return found;
        }
    }
}

fn links(look: &Look, digit: Digit) -> Vec<Link> {
    let layout = look.0.layout();
    let mut found = Vec::new();
    for house in look.houses() {
        let places = look.places(house, digit);
        let inside = |cells: &[Cell]| {
            let has_all = |other: HouseId| cells.iter().all(|cell| layout.at(other).cells.contains(cell));
            look.houses().any(|other| other != house && has_all(other))
        };
        let is_place = |cells: &[Cell]| cells.len() == 1 || inside(cells);
        if !(2..=10).contains(&places.len()) || (places.len() > 2 && inside(&places)) {
            continue;
        }
        for choice in 1..(1_u32 << places.len()) - 1 {
            let part = |wanted: bool| -> Vec<Cell> {
                let chosen = |at: &usize| (choice & (1 << at) != 0) == wanted;
                (0..places.len()).filter(chosen).map(|at| places[at]).collect()
            };
            if is_place(&part(true)) && is_place(&part(false)) {
                found.push((house, part(true), part(false)));
            }
        }
    }
    found
}

fn all_see(look: &Look, some: &[Cell], others: &[Cell]) -> bool {
    some.iter().all(|&a| others.iter().all(|&b| look.0.layout().sees(a, b)))
}

/// Each chain with one more link, from whose beginning its end cannot be reached by a shorter one.
fn longer(look: &Look, links: &[Link], chains: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    for chain in chains {
        let last = &links[chain[chain.len() - 1]];
        for (next, link) in links.iter().enumerate() {
            if link.0 != last.0 && all_see(look, &last.2, &link.1) {
                found.push([&chain[..], &[next]].concat());
            }
        }
    }
    found.retain(|chain| !shorter(look, links, chain));
    found
}

/// Whether fewer links lead from the first link of a chain to its last.
fn shorter(look: &Look, links: &[Link], chain: &[usize]) -> bool {
    let mut reached = BTreeSet::from([chain[0]]);
    for _ in 0..chain.len() - 2 {
        let more: Vec<usize> = reached
            .iter()
            .flat_map(|&link| {
                let follows = move |&next: &usize| {
                    links[next].0 != links[link].0 && all_see(look, &links[link].2, &links[next].1)
                };
                (0..links.len()).filter(follows)
            })
            .collect();
        reached.extend(more);
    }
    reached.contains(&chain[chain.len() - 1])
}

fn step(look: &Look, digit: Digit, links: &[Link], chain: &[usize]) -> Option<Deduction> {
    let (first, last) = (&links[chain[0]].1, &links[chain[chain.len() - 1]].2);
    let sees = |&cell: &Cell| all_see(look, &[cell], first) && all_see(look, &[cell], last);
    let all = look.0.layout().size().all_cells();
    let cells: CellSet = all.filter(|&cell| look.can_hold(cell, digit)).filter(sees).collect();
    let bases = chain.iter().map(|&link| Base::Place(links[link].0, digit));
    let claims = vec![Claim::IsNot { cells, digits: only(digit) }];
    let step = || Deduction::with_marks(Pattern::SingleDigitChain, Vec::new(), claims, bases);
    (!cells.is_empty()).then(step)
}
