//! Uniqueness is taken for granted only where somebody counted.

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Grid, Layout, Size};
use gridsetter::ladder::Pattern;
use gridsetter::proof::{self, Refusal};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::solve::{self, Budget};
use gridsetter::step::{Base, Claim, Position, Premise};
use gridsetter::words::{self, Depth, Language, Voice};

use crate::definitions;
use crate::puzzles;

const UNIQUE: [Pattern; 3] = [Pattern::UniqueRectangle, Pattern::UniqueLoop, Pattern::LastBivalueTrap];

/// Made here: it has just two solutions.
const TWO: &str = "2...1.97...9....1.4..........7.....6....3.18.65...13...6..4.7....13....5...6...9.";

/// Made here: a walk comes to a last-bivalue trap.
const TRAP: &str = "6..13...7.89...2....3.7..6.4...16.....8......91.7..........36.2......5....74....8";

#[test]
fn nothing_takes_it_for_granted_that_a_puzzle_with_two_solutions_has_one() {
    let layout = puzzles::classic(9);
    let reasoner = puzzles::reasoner(&layout);
    let givens = Grid::from_line(TWO).unwrap();
    assert_eq!(solve::count(&layout, &givens, 3, Budget::default()).count, 2);
    let walk = Walk::with_marks(&reasoner, Position::new(&layout, &givens));
    let positions = walk.positions().map(|(before, _)| before).chain([walk.end.clone()]);
    let mut tempted = 0;
    for position in positions {
        assert!(!position.has_one_solution());
        // Who claims it against the truth is told what follows, and no one else believes it.
        let deceived = position.clone().with_one_solution();
        for pattern in UNIQUE {
            assert_eq!(puzzles::steps(&reasoner, pattern, &position), []);
            for step in puzzles::steps(&reasoner, pattern, &deceived) {
                tempted += 1;
                assert_eq!(step.premise(), Some(Premise::OneSolution));
                assert_eq!(proof::with_marks(&position, &step), Err(Refusal::Swap));
            }
        }
    }
    assert!(tempted > 0, "there is something to be tempted by");
}

/// Made here: the givens of a puzzle with one solution, size 6, and what is left of its candidates after some were struck.
/// The corners r3c3, r3c5, r4c3 and r4c5 could all hold 1 and 2.
const LEFT: (&str, &str) = (
    "....4.54.........56..3...2....41..6.",
    "123 36 1236 1256 4   1236
     5   4  1236 126  123 1236
     123 3  1234 1246 12  5
     6   5  1245 3    12  124
     3   2  356  145  135 134
     4   1  35   25   6   23",
);

#[test]
fn what_follows_without_a_swap_is_no_rectangle() {
    let layout = puzzles::classic(6);
    let size = layout.size();
    let givens = Grid::from_line_of(size, LEFT.0).unwrap();
    assert_eq!(solve::count(&layout, &givens, 2, Budget::default()).count, 1);
    let mut position = puzzles::start(&layout, &givens);
    for (cell, left) in size.all_cells().zip(LEFT.1.split_whitespace()) {
        let left: DigitSet = left.chars().filter_map(Digit::from_symbol).collect();
        position.strike(cell, size.digits() - left);
    }
    let found = |position: &Position| {
        let step = puzzles::reasoner(&layout).by(Pattern::UniqueRectangle, position, None);
        let defined = definitions::all(Pattern::UniqueRectangle, position);
        assert_eq!(defined, step.iter().map(definitions::essence).collect());
        step
    };
    // With 3 and 5 of the cells beside them, the further 3, 4 and 5 share three places; but the 3 of r3c1 is out by r3c2.
    assert_eq!(found(&position), None);
    // A 4 there would be out by nothing else.
    let more = position.allowing(Cell::new(2, 0), Digit::from_symbol('4').unwrap());
    let step = found(&more).unwrap();
    assert_eq!(proof::with_marks(&more, &step), Ok(()));
    assert_eq!(proof::superfluous(&more, &step), []);
}

#[test]
fn a_trap_is_found_and_proved() {
    let layout = puzzles::classic(9);
    let givens = Grid::from_line(TRAP).unwrap();
    let cheaper = puzzles::reasoner(&layout).patterns().to_vec();
    let cheaper = cheaper.into_iter().take_while(|pattern| !UNIQUE.contains(pattern)).collect();
    let stuck = Walk::with_marks(&Reasoner::with(&layout, cheaper), puzzles::start(&layout, &givens)).end;
    let step = puzzles::reasoner(&layout).by(Pattern::LastBivalueTrap, &stuck, None).unwrap();
    assert_eq!(proof::with_marks(&stuck, &step), Ok(()));
    let Base::Swap(swap) = &step.bases[0] else { panic!("{step:?}") };
    assert_eq!(swap.cells.len(), stuck.open());
    assert!(step.places());
    // A cell less could not be exchanged.
    for at in 0..swap.cells.len() {
        let mut less = swap.clone();
        let cell = less.cells.remove(at);
        less.extras.retain(|(other, _)| *other != cell);
        let mut changed = step.clone();
        changed.bases = [Base::Swap(less)].into();
        assert_eq!(proof::with_marks(&stuck, &changed), Err(Refusal::Swap));
    }
}

/// On a board with regions, near its end: its regions, its digits, and what is left for each open cell, in reading order.
const CROSSED: (&str, &str, &str) = (
    "BAAAAAAAABBBBBBBBACCCCCCCCCDDDDDDDDDEEEEEEEFFEEFFFFFFFGGGGGGGGHGHHHHHHHHIIIIIIIII",
    "1325648796743.8.9146789531258.4...6391863742525..8314.743...65889.241.3.32...6984",
    "25 25 19 127 29 27 69 79 67 19 12 29 56 57 67 15 17 157",
);

#[test]
fn further_candidates_in_two_cells_that_see_each_other_strike_what_stands_against_both() {
    let size = Size::new(9).unwrap();
    let regions: Vec<char> = CROSSED.0.chars().collect();
    let layout = Layout::with_regions(size, &regions).unwrap();
    let mut position = puzzles::start(&layout, &Grid::from_line(CROSSED.1).unwrap());
    let open: Vec<Cell> = position.grid().empty_cells().collect();
    for (&cell, left) in open.iter().zip(CROSSED.2.split_whitespace()) {
        let left: DigitSet = left.chars().filter_map(Digit::from_symbol).collect();
        position.strike(cell, size.digits() - left);
    }
    let step = puzzles::reasoner(&layout).by(Pattern::LastBivalueTrap, &position, None).unwrap();
    assert_eq!(proof::with_marks(&position, &step), Ok(()));
    // One of r4c5 = 2 and r9c5 = 1 is true; 1 in r4c5 stands against both. That r9c5 is not 2 is known before.
    let [Claim::IsNot { cells, digits }] = step.claims[..] else { panic!("{step:?}") };
    assert_eq!(
        (cells, digits),
        (CellSet::single(Cell::new(3, 4)), Digit::from_symbol('1').into_iter().collect())
    );
    assert_eq!(definitions::all(Pattern::LastBivalueTrap, &position), [definitions::essence(&step)].into());
    let reason = |language| {
        let told = words::tell(&Voice { language, ..Voice::default() }, Depth::Why, &position, &step, &[]);
        told.split(". ").skip(3).map(str::to_owned).collect::<Vec<_>>().join(". ")
    };
    assert_eq!(
        reason(Language::English),
        "So r4c5 holds 2 or r9c5 holds 1. That is the last-bivalue trap. Strike 1 from r4c5."
    );
    assert_eq!(
        reason(Language::German),
        "Also steht die 2 in r4c5 oder die 1 in r9c5. Das ist die Falle der letzten Zweierzellen. Streiche die 1 aus r4c5."
    );
}
