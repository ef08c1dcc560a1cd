//! Cheapest first, and the same walk every time.

use std::thread;

use gridsetter::board::{Grid, Layout};
use gridsetter::ladder::Pattern;
use gridsetter::reason::{Reasoner, Step, Walk};
use gridsetter::step::{By, Position};

use crate::definitions;
use crate::puzzles::{self, Plan};
use crate::random::{self, Random};

/// What a house misses that is still counted at a glance, as the levels of scanning have it.
const AT_A_GLANCE: usize = 3;

/// No pattern that is cheaper than a step's gives anything, by the definitions.
fn check_marks(seed: u64, plan: Plan) {
    let mut steps = 0;
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            let walk = Walk::with_marks(&reasoner, puzzles::start(layout, &puzzle.givens));
            for (position, step) in walk.positions() {
                steps += 1;
                let own = step.deduction.pattern;
                for &cheaper in reasoner.patterns().iter().take_while(|&&pattern| pattern != own) {
                    let defined = definitions::all(cheaper, &position);
                    assert!(
                        defined.is_empty(),
                        "{cheaper:?} before {own:?} in {}: {defined:?}",
                        puzzle.givens
                    );
                }
            }
        }
    });
    println!("{steps} steps with marks");
}

#[test]
fn no_cheaper_pattern_is_passed_over() {
    check_marks(31, &[(4, 4, 4), (6, 4, 4), (8, 2, 1), (9, 6, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn no_cheaper_pattern_is_passed_over_at_length() {
    check_marks(32, &[(4, 40, 5), (6, 40, 5), (8, 20, 2), (9, 100, 2), (12, 4, 1)]);
}

/// The lowest level at which a digit can be written by digits alone, as the levels of scanning have it.
fn by_digits_alone(layout: &Layout, grid: &Grid) -> Option<u8> {
    let position = Position::new(layout, grid);
    let counting = |missing: usize| if missing <= AT_A_GLANCE { 2 } else { 3 };
    let is_there = |pattern| !definitions::all(pattern, &position).is_empty();
    if is_there(Pattern::LastOpenCell) || is_there(Pattern::BoxHiddenSingle) {
        return Some(1);
    }
    let lines = layout.houses().iter().filter(|house| !house.name.is_block()).filter_map(|house| {
        let open: Vec<_> = house.cells.iter().filter(|&&cell| grid.get(cell).is_none()).collect();
        let places = |digit| open.iter().filter(|&&&cell| position.candidates(cell).contains(digit)).count();
        layout.size().digits().iter().any(|digit| places(digit) == 1).then(|| counting(open.len()))
    });
    let cells = grid.empty_cells().filter(|&cell| position.candidates(cell).len() == 1).map(|cell| {
        let missing = |house: &gridsetter::board::House| {
            house.cells.iter().filter(|&&other| grid.get(other).is_none()).count()
        };
        counting(layout.houses_of(cell).map(missing).min().unwrap())
    });
    lines.chain(cells).min()
}

/// Under scanning a plan is the unit. Where a digit can be written by digits alone, no plan has a higher level, and none
/// of the same level states facts first; and no plan states a fact that it does not need.
fn check_scanning(seed: u64, plan: Plan) {
    let (mut digits, mut facts) = (0, 0);
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            let walk = Walk::by_scanning(&reasoner, &puzzle.givens);
            for (grid, first, plan) in puzzles::plans(&walk) {
                let place = || format!("{grid} ({}): {plan:#?}", random::describe(layout));
                let level = puzzles::level(plan);
                if let Some(least) = by_digits_alone(layout, &grid) {
                    assert!(level <= least, "level {least} would do: {}", place());
                    assert!(plan.len() == 1 || level < least, "no fact is needed: {}", place());
                }
                for number in first + 1..first + plan.len() {
                    let leans = |step: &Step| {
                        step.deduction.witnesses.iter().any(|w| w.by.contains(&By::Step(number)))
                    };
                    assert!(plan.iter().any(leans), "step {number} is not needed: {}", place());
                }
                assert!(plan.last().unwrap().deduction.places(), "{}", place());
                digits += 1;
                facts += plan.len() - 1;
            }
        }
    });
    println!("{digits} digits and {facts} facts by scanning");
}

#[test]
fn no_easier_plan_is_passed_over() {
    check_scanning(33, &[(4, 4, 4), (6, 6, 4), (8, 4, 2), (9, 12, 2)]);
}

#[test]
#[ignore = "takes minutes"]
fn no_easier_plan_is_passed_over_at_length() {
    check_scanning(34, &[(4, 40, 6), (6, 40, 6), (8, 40, 3), (9, 200, 4), (12, 6, 2)]);
}

/// What tells one walk from another.
fn trace(reasoner: &Reasoner, puzzle: &Grid) -> String {
    let marks = Walk::with_marks(reasoner, puzzles::start(reasoner.layout(), puzzle));
    format!("{:?}{:?}", marks.steps, Walk::by_scanning(reasoner, puzzle).steps)
}

#[test]
fn threads_do_not_change_a_walk() {
    let layout = puzzles::classic(9);
    let reasoner = puzzles::reasoner(&layout);
    let mut random = Random::new(6);
    let puzzles: Vec<Grid> = (0..12).map(|_| random::minimal(&mut random, &layout).0).collect();
    let alone: Vec<String> = puzzles.iter().map(|puzzle| trace(&reasoner, puzzle)).collect();
    thread::scope(|scope| {
        for _ in 0..4 {
            // Each thread has a reasoner of its own, which may lie elsewhere in memory.
            scope.spawn(|| {
                let reasoner = puzzles::reasoner(&puzzles::classic(9));
                for (puzzle, alone) in puzzles.iter().zip(&alone).rev() {
                    assert!(trace(&reasoner, puzzle) == *alone, "{puzzle}");
                }
            });
        }
    });
}

/// A walk as text that depends only on what is told: patterns, cells and digits, in order.
fn told(walk: &Walk) -> String {
    let step = |step: &Step| {
        let claims =
            step.deduction.claims.iter().map(|claim| format!(" {:?}={}", claim.cells(), claim.digits()));
        format!("{}{};", step.deduction.pattern.name(), claims.collect::<String>())
    };
    walk.steps.iter().map(step).collect()
}

/// The hash of G. Fowler, L. C. Noll and K.-P. Vo, in its 64-bit variant 1a; the constants are from memory.
fn hash(text: &str) -> u64 {
    text.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// The values were computed here once: they hold one machine against another, and say when walks change.
#[test]
fn walks_are_the_same_on_every_machine() {
    let layout = puzzles::classic(9);
    let mut patterns = vec![
        Pattern::LastOpenCell,
        Pattern::BoxHiddenSingle,
        Pattern::NakedSingle,
        Pattern::LineHiddenSingle,
        Pattern::LockedCandidates,
    ];
    patterns.extend((2..=4).flat_map(|size| [Pattern::HiddenSet(size), Pattern::NakedSet(size)]));
    patterns.extend((2..=4).map(Pattern::Fish));
    let reasoner = Reasoner::with(&layout, patterns);
    let mut random = Random::new(7);
    let mut both = [String::new(), String::new()];
    for _ in 0..20 {
        let (puzzle, _) = random::minimal(&mut random, &layout);
        both[0] += &told(&Walk::with_marks(&reasoner, puzzles::start(&layout, &puzzle)));
        both[1] += &told(&Walk::by_scanning(&reasoner, &puzzle));
    }
    let [marks, scanning] = both.map(|text| (text.matches(';').count(), hash(&text)));
    assert_eq!(marks, (849, 13_918_292_939_774_266_829));
    assert_eq!(scanning, (820, 14_070_973_700_812_080_781));
}
