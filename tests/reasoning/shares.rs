//! How many random minimal puzzles of size 9 are finished, by each beginning of the ladder and by scanning.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, CellSet, DigitSet, Grid};
use gridsetter::ladder::Pattern;
use gridsetter::reason::{Climb, Reasoner, Walk, scanning};
use gridsetter::step::Position;

use crate::puzzles;
use crate::random::{self, Random};

/// A rung or some of them, and what is added on it.
type Rung = (&'static str, &'static [Pattern]);

const SINGLES: Rung = (
    "singles",
    &[Pattern::LastOpenCell, Pattern::BoxHiddenSingle, Pattern::NakedSingle, Pattern::LineHiddenSingle],
);
const LOCKED: Rung = ("locked candidates", &[Pattern::LockedCandidates]);
const SETS: Rung = (
    "sets and x-wing",
    &[
        Pattern::HiddenSet(2),
        Pattern::NakedSet(2),
        Pattern::HiddenSet(3),
        Pattern::NakedSet(3),
        Pattern::HiddenSet(4),
        Pattern::NakedSet(4),
        Pattern::Fish(2),
    ],
);
/// The rung with which the prototype colours.
const COLOURS: &str = "colouring";
const SETS_ALONE: Rung = ("almost locked sets", &[Pattern::AlmostLockedSets]);

/// The rungs of an independent prototype in its order, and the share in percent of 20,000 puzzles made in the same way
/// that it finished with each and not with those before it: of the last two it is known of the sums, 96 and 97.1 %, alone.
/// It coloured one digit, as [`colour`] does here; it had no uniqueness, and took almost locked sets two at a time.
const PROTOTYPE: [(Rung, f64); 15] = [
    (SINGLES, 42.0),
    (LOCKED, 12.2),
    (("naked pair", &[Pattern::NakedSet(2)]), 4.5),
    (("hidden pair", &[Pattern::HiddenSet(2)]), 2.0),
    (("naked triple", &[Pattern::NakedSet(3)]), 0.28),
    (("hidden triple", &[Pattern::HiddenSet(3)]), 0.1),
    (("quads", &[Pattern::NakedSet(4), Pattern::HiddenSet(4)]), 0.0),
    (("x-wing", &[Pattern::Fish(2)]), 0.18),
    (("xy-wing", &[Pattern::XyWing]), 4.2),
    (("xyz-wing", &[Pattern::XyzWing]), 0.65),
    (("swordfish", &[Pattern::Fish(3)]), 0.04),
    ((COLOURS, &[]), 5.2),
    (("jellyfish", &[Pattern::Fish(4)]), 0.01),
    (("alternating chain", &[Pattern::XyChain, Pattern::AlternatingChain]), 24.6),
    (SETS_ALONE, 1.1),
];

/// The rungs of our ladder.
const OURS: [Rung; 15] = [
    SINGLES,
    LOCKED,
    SETS,
    ("swordfish", &[Pattern::Fish(3)]),
    ("jellyfish", &[Pattern::Fish(4)]),
    ("single-digit chain", &[Pattern::SingleDigitChain]),
    ("finned fish", &[Pattern::FinnedFish]),
    ("wings", &[Pattern::XyWing, Pattern::XyzWing, Pattern::WWing]),
    ("uniqueness", &[Pattern::UniqueRectangle, Pattern::UniqueLoop, Pattern::LastBivalueTrap]),
    ("xy-chain", &[Pattern::XyChain]),
    ("alternating chain", &[Pattern::AlternatingChain]),
    ("grouped chain", &[Pattern::GroupedChain]),
    SETS_ALONE,
    ("branching chain", &[Pattern::BranchingChain]),
    ("trial", &[Pattern::Trial]),
];

fn percent(part: usize, of: usize) -> f64 {
    let float = |count: usize| f64::from(u32::try_from(count).unwrap());
    100.0 * float(part) / float(of)
}

/// Strikes what colouring of one digit shows: cells are joined where a house has just two places for it, and get two
/// colours in turn. A colour that comes twice in a house is out; so is a cell that sees both. Whether there is any.
fn colour(position: &mut Position) -> bool {
    let layout = position.layout().clone();
    let mut struck = Vec::new();
    for digit in layout.size().digits().iter() {
        let houses = layout.house_ids().filter(|&house| position.missing(house).contains(digit));
        let pairs: Vec<Vec<Cell>> = houses
            .map(|house| position.cells(house, digit).iter().collect())
            .filter(|pair: &Vec<_>| pair.len() == 2)
            .collect();
        let open: Vec<Cell> = position.cells_with_candidate(digit).iter().collect();
        let mut seen = CellSet::empty();
        for &first in &open {
            let mut colours = [vec![first], Vec::new()];
            let (mut coloured, mut next) = (vec![(first, 0)], 0);
            while let Some(&(cell, colour)) = coloured.get(next) {
                next += 1;
                for pair in pairs.iter().filter(|pair| pair.contains(&cell)) {
                    let other = pair[usize::from(pair[0] == cell)];
                    if coloured.iter().all(|(cell, _)| *cell != other) {
                        coloured.push((other, 1 - colour));
                        colours[1 - colour].push(other);
                    }
                }
            }
            if !seen.insert(first) || coloured.len() < 2 {
                continue;
            }
            for &(cell, _) in &coloured {
                seen.insert(cell);
            }
            let sees = |cell: Cell, colour: &[Cell]| colour.iter().any(|&one| layout.sees(one, cell));
            for colour in &colours {
                if colour.iter().any(|&cell| sees(cell, colour)) {
                    struck.extend(colour.iter().map(|&cell| (cell, digit)));
                }
            }
            let others = open.iter().filter(|&&cell| coloured.iter().all(|(one, _)| *one != cell));
            struck.extend(
                others.filter(|&&cell| colours.iter().all(|one| sees(cell, one))).map(|&cell| (cell, digit)),
            );
        }
    }
    for &(cell, digit) in &struck {
        position.strike(cell, DigitSet::single(digit));
    }
    !struck.is_empty()
}

/// The share that is finished with each rung and those before it, where colouring comes with one of them.
fn with_marks(puzzles: &[Grid], rungs: &[Rung], colours_from: Option<&str>) -> Vec<f64> {
    let layout = puzzles::classic(9);
    let mut patterns = Vec::new();
    let mut left: Vec<Position> = puzzles.iter().map(|puzzle| puzzles::start(&layout, puzzle)).collect();
    let (mut shares, mut colours) = (Vec::new(), false);
    for (name, more) in rungs {
        patterns.extend(*more);
        colours |= colours_from == Some(name);
        let reasoner = Reasoner::with(&layout, patterns.clone());
        // What is stuck goes on with what is added.
        for position in &mut left {
            climb(&reasoner, position);
            while colours && !position.is_finished() && colour(position) {
                climb(&reasoner, position);
            }
        }
        left.retain(|position| !position.is_finished());
        let share = percent(puzzles.len() - left.len(), puzzles.len());
        println!("  {name:21} {share:6.2} %, {:5.2} more", share - shares.last().unwrap_or(&0.0));
        shares.push(share);
    }
    shares
}

/// Goes as far as the patterns lead; how often each was used.
fn climb(reasoner: &Reasoner, position: &mut Position) -> BTreeMap<Pattern, usize> {
    let (mut climb, mut focus, mut used) = (Climb::new(reasoner), None, BTreeMap::new());
    while let Some((pattern, next)) = climb.advance(position, focus.as_ref()) {
        *used.entry(pattern).or_default() += 1;
        focus = next;
    }
    used
}

/// What scanning finishes, and what it asks of a reader.
fn by_scanning(puzzles: &[Grid]) -> f64 {
    let layout = puzzles::classic(9);
    let reasoner = puzzles::reasoner(&layout);
    let mut finished_at = [0; scanning::HIGHEST_LEVEL as usize];
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let (mut held, mut most, mut facts, mut finished) = (0, 0, 0, 0);
    for puzzle in puzzles {
        let walk = Walk::by_scanning(&reasoner, puzzle);
        for step in &walk.steps {
            *seen.entry(step.deduction.seen.unwrap().name()).or_default() += 1;
        }
        if walk.is_finished() {
            finished += 1;
            let level = walk.steps.iter().filter_map(|step| step.level).max().unwrap();
            finished_at[usize::from(level) - 1] += 1;
            let here = walk.steps.iter().map(|step| step.held).max().unwrap();
            held += here;
            most = most.max(here);
            facts += walk.steps.iter().filter(|step| !step.deduction.places()).count();
        }
    }
    println!("  scanning           {:5.1} %", percent(finished, puzzles.len()));
    println!("  ways of seeing     {seen:?}");
    println!("  by highest level   {finished_at:?}");
    println!("  most facts held in a walk: mean {:.2}, most {most}", percent(held, finished) / 100.0);
    println!("  facts in a walk:           mean {:.2}", percent(facts, finished) / 100.0);
    percent(finished, puzzles.len())
}

fn random_puzzles(seed: u64, count: usize) -> Vec<Grid> {
    let layout = puzzles::classic(9);
    let mut random = Random::new(seed);
    (0..count).map(|_| random::minimal(&mut random, &layout).0).collect()
}

/// Prints the shares of so many puzzles; those of the prototype's rungs may differ from its by so many points.
fn shares(seed: u64, count: usize, points: f64) {
    let puzzles = random_puzzles(seed, count);
    println!("{count} random minimal puzzles of size 9, finished with the rungs of a prototype");
    let rungs = PROTOTYPE.map(|(rung, _)| rung);
    let (mut before, mut theirs) = (0.0, 0.0);
    for (share, ((name, _), gained)) in with_marks(&puzzles, &rungs, Some(COLOURS)).into_iter().zip(PROTOTYPE)
    {
        theirs += gained;
        assert!((share - theirs).abs() <= points, "{name}: {share} %, not {theirs} %");
        assert!(
            (share - before - gained).abs() <= points,
            "{name} itself: {} %, not {gained} %",
            share - before
        );
        before = share;
    }
    println!("with our own");
    let ours = with_marks(&puzzles, &OURS, None);
    let up_to = |wanted: &str| ours[OURS.iter().position(|(name, _)| *name == wanted).unwrap()];
    // A few that need more may be among few.
    let some = percent(3, count);
    assert!(up_to("almost locked sets") >= 99.0 - some, "{} % with no branches", up_to("almost locked sets"));
    assert!(up_to("branching chain") >= 99.9 - some, "{} % with no trial", up_to("branching chain"));
    assert!(up_to("trial") >= 100.0, "{} % in the end", up_to("trial"));
    let scanning = by_scanning(&puzzles);
    // What is followed with no marks is followed with them, as far as its patterns are on the ladder.
    assert!(scanning <= up_to("jellyfish") + points, "{scanning} % by scanning");
}

#[test]
fn shares_are_those_of_an_independent_prototype() {
    // Three standard deviations of so few.
    shares(61, 300, 8.6);
}

#[test]
#[ignore = "takes minutes"]
fn shares_of_10_000_are_those_of_an_independent_prototype() {
    shares(62, 10_000, 2.0);
}

#[test]
#[ignore = "takes minutes"]
fn the_hundred_hardest_of_100_000_are_finished_without_trial() {
    let layout = puzzles::classic(9);
    let reasoner = puzzles::reasoner(&layout);
    let place = |pattern| reasoner.patterns().iter().position(|&one| one == pattern).unwrap();
    let mut all: Vec<_> = random_puzzles(63, 100_000)
        .iter()
        .map(|puzzle| {
            let mut position = puzzles::start(&layout, puzzle);
            let used = climb(&reasoner, &mut position);
            assert!(position.is_finished(), "{puzzle}");
            // From the dearest pattern down: which, and how often.
            let mut used: Vec<_> = used.into_iter().map(|(pattern, count)| (place(pattern), count)).collect();
            used.sort_unstable_by_key(|&(place, _)| std::cmp::Reverse(place));
            used
        })
        .collect();
    all.sort_unstable();
    let hardest = &all[all.len() - 100..];
    let mut by: BTreeMap<(&str, usize), usize> = BTreeMap::new();
    for used in hardest {
        let (place, count) = used[0];
        *by.entry((reasoner.patterns()[place].name(), count)).or_default() += 1;
    }
    println!("the hundred hardest of 100,000, by the dearest pattern and how often it is used: {by:?}");
    assert!(by.keys().all(|(name, _)| *name != "trial"), "{by:?}");
}
