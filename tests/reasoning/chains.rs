//! Chains and almost locked sets against their definitions, by trying every way to go on: nothing is pruned, and nothing
//! is asked of a position but the candidates of its cells.

use std::collections::{BTreeMap, BTreeSet};

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Grid};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Base, Position};
use gridsetter::words::{Depth, Voice, tell};

use crate::puzzles::{self, Plan};
use crate::random::{self, Random};
use crate::room::Candidate;

/// So many links are tried by brute force.
const MOST_LINKS: usize = 4;
/// Sets of so many cells are tried by brute force.
const MOST_CELLS: usize = 4;

pub fn conflict(position: &Position, a: Candidate, b: Candidate) -> bool {
    a != b && (a.0 == b.0 || a.1 == b.1 && position.layout().sees(a.0, b.0))
}

pub fn places(position: &Position, base: &Base) -> Vec<Candidate> {
    match *base {
        Base::Cell(cell) => position.candidates(cell).iter().map(|digit| (cell, digit)).collect(),
        Base::Swap(_) => Vec::new(),
        Base::Place(house, digit) => {
            let cells = position.layout().at(house).cells.iter().copied();
            let holds = |cell: &Cell| position.candidates(*cell).contains(digit);
            cells.filter(holds).map(|cell| (cell, digit)).collect()
        }
    }
}

/// The bases with two candidates that a pattern links.
fn pairs(position: &Position, pattern: Pattern) -> Vec<[Candidate; 2]> {
    let layout = position.layout();
    let cells = layout.size().all_cells().map(Base::Cell);
    let houses = layout.house_ids().flat_map(|house| {
        layout.size().digits().iter().map(move |digit| Base::Place(house, digit)).collect::<Vec<_>>()
    });
    let houses = houses.filter(|_| pattern != Pattern::XyChain);
    cells.chain(houses).filter_map(|base| places(position, &base).try_into().ok()).collect()
}

/// The fewest links after which what was supposed is put out: by any chain, and by one that passes by no base twice.
struct Fewest {
    of_any: usize,
    of_plain: usize,
}

/// Follows every chain from a candidate that is true.
fn follow(
    position: &Position,
    pairs: &[[Candidate; 2]],
    supposed: Candidate,
    on: Candidate,
    passed: &mut Vec<usize>,
    fewest: &mut Fewest,
) {
    if !passed.is_empty() && conflict(position, on, supposed) {
        fewest.of_any = passed.len().min(fewest.of_any);
        if passed.iter().collect::<BTreeSet<_>>().len() == passed.len() {
            fewest.of_plain = passed.len().min(fewest.of_plain);
        }
    }
    if passed.len() == MOST_LINKS {
        return;
    }
    for (base, &[one, other]) in pairs.iter().enumerate() {
        for (out, next) in [(one, other), (other, one)] {
            if conflict(position, on, out) {
                passed.push(base);
                follow(position, pairs, supposed, next, passed, fewest);
                passed.pop();
            }
        }
    }
}

/// What a step strikes.
fn struck(position: &Position, step: &gridsetter::step::Deduction) -> Vec<Candidate> {
    let strikes = position.strikes(&step.claims).into_iter();
    strikes.flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit))).collect()
}

/// For each candidate that steps of a pattern strike, the fewest bases of one.
pub fn fewest_bases(
    reasoner: &Reasoner,
    pattern: Pattern,
    position: &Position,
) -> BTreeMap<Candidate, usize> {
    let mut fewest = BTreeMap::new();
    for step in puzzles::steps(reasoner, pattern, position) {
        assert_eq!(proof::with_marks(position, &step), Ok(()), "{} {step:?}", position.grid());
        for at in struck(position, &step) {
            let least = fewest.entry(at).or_insert(usize::MAX);
            *least = step.bases.len().min(*least);
        }
    }
    fewest
}

/// How many candidates that brute force strikes are not struck by as short a chain that is found.
fn check_chains(reasoner: &Reasoner, position: &Position, tally: &mut usize) -> usize {
    let mut dropped = 0;
    for pattern in [Pattern::XyChain, Pattern::AlternatingChain] {
        let pairs = pairs(position, pattern);
        let found = fewest_bases(reasoner, pattern, position);
        for at in puzzles::candidates(position) {
            let mut fewest = Fewest { of_any: usize::MAX, of_plain: usize::MAX };
            follow(position, &pairs, at, at, &mut Vec::new(), &mut fewest);
            let Fewest { of_any, of_plain } = fewest;
            let place = || {
                format!("{pattern:?} {at:?} in {} ({})", position.grid(), random::describe(position.layout()))
            };
            let bases = found.get(&at).copied().unwrap_or(usize::MAX);
            assert!(bases > MOST_LINKS || of_any <= bases, "{bases} bases, not {of_any}: {}", place());
            // A chain that passes by a base twice is dropped: what it strikes falls to a shorter one later.
            if of_plain == of_any && of_plain <= MOST_LINKS {
                *tally += 1;
                dropped += usize::from(of_plain < bases);
            }
        }
        shortest_first(reasoner, pattern, position, &found);
    }
    dropped
}

/// The one step that is taken is as short as any.
fn shortest_first(
    reasoner: &Reasoner,
    pattern: Pattern,
    position: &Position,
    found: &BTreeMap<Candidate, usize>,
) {
    let one = reasoner.by(pattern, position, None).map(|step| step.bases.len());
    assert_eq!(one, found.values().min().copied(), "{pattern:?} in {}", position.grid());
}

/// The digits of some cells, each with the candidates that it has there.
pub type Set = Vec<(Digit, Vec<Candidate>)>;

/// Every almost locked set.
pub fn sets(position: &Position) -> Vec<Set> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for house in position.layout().houses() {
        // A cell with one candidate is a single, and no part of a set.
        let open: Vec<Cell> =
            house.cells.iter().copied().filter(|&cell| position.candidates(cell).len() > 1).collect();
        for bits in 1_u32..1 << open.len() {
            let cells: Vec<Cell> = open
                .iter()
                .enumerate()
                .filter(|(at, _)| bits >> at & 1 == 1)
                .map(|(_, &cell)| cell)
                .collect();
            let digits = cells.iter().fold(DigitSet::EMPTY, |all, &cell| all | position.candidates(cell));
            if cells.len() <= MOST_CELLS && digits.len() == cells.len() + 1 && seen.insert(cells.clone()) {
                let of = |digit: Digit| {
                    let holds = cells.iter().filter(|&&cell| position.candidates(cell).contains(digit));
                    (digit, holds.map(|&cell| (cell, digit)).collect())
                };
                found.push(digits.iter().map(of).collect());
            }
        }
    }
    found
}

/// Whether a candidate is struck by so many sets, the next of which loses this digit to what was supposed or to the set
/// before.
fn by_sets(
    position: &Position,
    sets: &[Set],
    supposed: Candidate,
    before: &[Candidate],
    most: usize,
) -> bool {
    let all = |some: &[Candidate], others: &[Candidate]| {
        some.iter().all(|&one| others.iter().all(|&other| conflict(position, one, other)))
    };
    most > 0
        && sets.iter().filter(|set| set.iter().all(|(_, own)| !own.contains(&supposed))).any(|set| {
            set.iter().filter(|(_, out)| all(before, out)).any(|(digit, _)| {
                let others = set.iter().filter(|(other, _)| other != digit);
                others
                    .into_iter()
                    .any(|(_, on)| all(&[supposed], on) || by_sets(position, sets, supposed, on, most - 1))
            })
        })
}

fn check_sets(reasoner: &Reasoner, position: &Position, most: usize, tally: &mut usize) {
    let sets = sets(position);
    let steps = puzzles::steps(reasoner, Pattern::AlmostLockedSets, position);
    let found: BTreeSet<Candidate> = steps.iter().flat_map(|step| struck(position, step)).collect();
    for at in puzzles::candidates(position) {
        let is_struck = by_sets(position, &sets, at, &[at], most);
        let place = || format!("{at:?} in {} ({})", position.grid(), random::describe(position.layout()));
        assert!(!is_struck || found.contains(&at), "not found: {}", place());
        *tally += usize::from(is_struck);
    }
    for step in &steps {
        assert_eq!(proof::with_marks(position, step), Ok(()), "{} {step:?}", position.grid());
    }
}

/// Positions at which chains are looked for: where everything cheaper is exhausted, and any.
pub fn go_through(seed: u64, plan: Plan, mut each: impl FnMut(&Reasoner, &Position, bool)) {
    puzzles::go_through(seed, plan, |random: &mut Random, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        let cheaper = reasoner.patterns().iter().copied().filter(|pattern| !pattern.is_chain()).collect();
        let cheaper = Reasoner::with(layout, cheaper);
        for puzzle in puzzles {
            let stuck = Walk::with_marks(&cheaper, puzzles::start(layout, &puzzle.givens)).end;
            each(&reasoner, &stuck, true);
            each(&reasoner, &puzzles::marked(random, layout, &puzzle.solution), false);
        }
    });
}

fn hold_against_definitions(seed: u64, plan: Plan) -> [usize; 2] {
    let (mut by_chains, mut by_sets, mut dropped) = (0, 0, 0);
    go_through(seed, plan, |reasoner, position, stuck| {
        dropped += check_chains(reasoner, position, &mut by_chains);
        let small = position.layout().size().side() <= 6;
        if small || stuck {
            check_sets(reasoner, position, if small { 3 } else { 2 }, &mut by_sets);
        }
    });
    println!("candidates struck by brute force: {by_chains} by chains, {by_sets} by almost locked sets");
    assert!(dropped * 10 < by_chains, "{dropped} of {by_chains} are not found as short");
    [by_chains, by_sets]
}

#[test]
fn chains_and_sets_are_those_of_their_definitions() {
    hold_against_definitions(71, &[(4, 6, 4), (6, 4, 3), (9, 6, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn chains_and_sets_are_those_of_their_definitions_at_length() {
    let [chains, sets] = hold_against_definitions(72, &[(4, 60, 6), (6, 40, 4), (8, 10, 2), (9, 120, 2)]);
    assert!(chains > 1000 && sets > 1000, "{chains} {sets}");
}

/// Whatever a chain of any pattern strikes in these positions is told link by link, and its proof has nothing to spare.
#[test]
fn what_is_shown_has_nothing_to_spare() {
    go_through(73, &[(6, 4, 3), (9, 12, 2)], |reasoner, position, _| {
        let chains = reasoner.patterns().iter().copied().filter(|pattern| pattern.is_chain());
        for pattern in chains {
            let only = Reasoner::with(position.layout(), vec![pattern]);
            if let Some(step) = only.next(position, None) {
                let told = tell(&Voice::default(), Depth::Why, position, &step, &[]);
                let begins = told.starts_with("Suppose ") || told.contains("Case 1: ");
                assert!(begins, "{told} {} {step:?}", position.grid());
                let spare = proof::superfluous(position, &step);
                assert!(spare.is_empty(), "{} {step:?}", position.grid());
            }
        }
    });
}

/// The cells of a loop's bases and what it strikes, in a position made for it: four cells in two rows, each with two
/// digits, of which each passes one on.
#[test]
fn a_loop_strikes_at_every_joint() {
    let layout = puzzles::classic(9);
    let mut position = Position::new(&layout, &Grid::empty(layout.size()));
    let set = |symbols: &str| symbols.chars().filter_map(Digit::from_symbol).collect::<DigitSet>();
    let all = layout.size().digits();
    let corners = [(0, 0, "12"), (0, 4, "23"), (4, 4, "34"), (4, 0, "41")].map(|(row, col, digits)| {
        let cell = Cell::new(row, col);
        position.strike(cell, all - set(digits));
        cell
    });
    let step = Reasoner::with(&layout, vec![Pattern::XyChain]).next(&position, None).unwrap();
    let bases: CellSet = corners.into_iter().collect();
    assert_eq!(step.bases.len(), 4);
    assert!(step.bases.iter().all(|base| matches!(base, Base::Cell(cell) if bases.contains(*cell))));
    let strikes: BTreeMap<Cell, DigitSet> = position.strikes(&step.claims).into_iter().collect();
    let others = |cell: &Cell| !bases.contains(*cell);
    let expected = layout.size().all_cells().filter(others).filter_map(|cell| {
        let along =
            [(cell.row() == 0, "2"), (cell.col() == 4, "3"), (cell.row() == 4, "4"), (cell.col() == 0, "1")];
        let struck =
            along.iter().filter(|(is_there, _)| *is_there).fold(DigitSet::EMPTY, |all, (_, d)| all | set(d));
        (!struck.is_empty()).then_some((cell, struck))
    });
    assert_eq!(strikes, expected.collect());
}
