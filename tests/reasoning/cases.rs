//! Trials in cases within cases, and reasoning that is called off.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use gridsetter::board::{Cell, Digit, DigitSet, Grid, Layout, Size};
use gridsetter::ladder::{Ladder, Pattern};
use gridsetter::proof;
use gridsetter::reason::{Reasoner, Walk, while_wanted};
use gridsetter::solve::{self, Budget};
use gridsetter::step::{Deduction, Position};
use gridsetter::words::{Depth, Voice, tell};

use crate::known::Case;
use crate::puzzles;

/// The marks of a puzzle of size 16 with diagonals, where a trial with one split shows nothing.
const SCENE: &str = "
  19F C B D 125EF 12457EF A 12467EF 478F 123689F G 12346F 234569EF 245679F 2345679EF 379EF
  15AFG 6 4 3 9 8 25CFG 127CEF 7BCF 12BF 1BC 12F 25ADEFG 257FG 7ACDEF 2ADEFG
  19FG 8 19G 17 D 1247FG 3 B A 1269CF E 5 2469FG 79F 2469CF 269CF
  59AFG 2 579AG E 5CF 457FG 456CFG 467CF 47F 369F 39C D B 8 345679AF 1
  134689EG 149BE 13689EG 128C 7 129AD 269BD 5 4BCDE 139DE F 13AE 12369ADEG 12469G 123689ACDE 2369ABCDE
  D 7 169G A 3 C E 1269F 4B 5 19 8 12469FG 12469FG 12469F 269BFG
  13469E BF 1369E 18C 1BF 19ADF 48 169ADF G 3CDE 2 1347AE 1369ADEF 14679F 136789ADEF 5
  13489E 5BF 1389E 1258C G 129ADF 29BDF 48 6 139BDE 139ABC 1347AE 1239ADEF 12479F 123789ACDEF 2379ABCDEF
  18AE G C F 128BE 12ADE 2BD 8ADE 5 7 6 9 124E 3 124E 2E
  7 1AE D B 1EF 139AEFG 59F 139AEF 2 1AFG 4 C 1569EFG 1569FG 1569EF 8
  48E 145 1258E 9 6 15EF 28CFG 128CEF 3 1EFG D 1EF 7 A B 2EFG
  15AE 3 125AE 6 4 1259AEFG 7 129AEF EF 1AEFG 8 B C D 1259EF 29EFG
  36 59 F G A B 1 8CD 8CD 8D 7 236 23 E 59 4
  B 159AE 13578AE 1578 258CEF 2379DEF 259CDF 2379CDEF CDEF 4 3AC G 1569ADF 129F 15679ADF 679ADF
  C 1AE 13678AE 1478 28EF 2347DEF 248DF G 9 2368DEF 5 236AEF 1ADF B 123AF 7ADF
  2 D 379AE 457 5EF 6 459F 3479EF 1 3BEF 3AB 3AEF 8 C G 39AF
";

fn layout() -> Layout {
    Layout::classic(Size::new(16).unwrap()).unwrap().and_diagonals()
}

fn scene() -> Position {
    let layout = layout();
    let size = layout.size();
    let mut position = Position::new(&layout, &Grid::empty(size));
    for (cell, marks) in size.all_cells().zip(SCENE.split_whitespace()) {
        let marks: DigitSet = marks.chars().filter_map(Digit::from_symbol).collect();
        match marks.only() {
            Some(digit) => position.place(cell, digit),
            None => position.strike(cell, size.digits() - marks),
        }
    }
    position
}

fn trial() -> Deduction {
    Reasoner::with(&layout(), vec![Pattern::Trial]).next(&scene(), None).unwrap()
}

#[test]
fn a_trial_splits_within_a_case() {
    let (before, step) = (scene(), trial());
    assert_eq!(step.splits, 2);
    proof::with_marks(&before, &step).unwrap();
    let (cell, digits) = before.strikes(&step.claims)[0];
    let mut supposed = before.grid().clone();
    supposed.set(cell, digits.only());
    assert_eq!(solve::count(&layout(), &supposed, 1, Budget::default()).count, 0);

    assert_eq!(proof::superfluous(&before, &step), []);

    let text = tell(&Voice::default(), Depth::Why, &before, &step, &[]);
    let numbers = text.split("Case ").skip(1).filter_map(|rest| rest.split(':').next());
    let numbers: Vec<&str> = numbers.collect();
    assert!(numbers.starts_with(&["1"]) && numbers.iter().any(|number| number.contains('.')), "{text}");
    assert!(text.contains("So none of the three cases is possible."), "{text}");
}

#[test]
fn a_trial_is_of_the_candidate_that_is_asked_for() {
    let (cell, digit) = (Cell::new(0, 15), Digit::from_symbol('9').unwrap());
    let reasoner = Reasoner::with(&layout(), vec![Pattern::Trial]);
    let (before, step) = reasoner.why_not(&scene(), cell, digit).unwrap();
    assert_eq!(before.strikes(&step.claims), [(cell, DigitSet::single(digit))]);
    assert_ne!(step.claims, trial().claims);
    assert_eq!(proof::with_marks(&before, &step), Ok(()));
    assert_eq!(proof::superfluous(&before, &step), []);
}

#[test]
fn what_is_called_off_finds_nothing() {
    let called_off = Arc::new(AtomicBool::new(true));
    let find = || Reasoner::new(&layout(), &Ladder::default()).next(&scene(), None);
    assert_eq!(while_wanted(&called_off, find), None);
    let wanted = Arc::new(AtomicBool::new(false));
    let both = while_wanted(&wanted, || (while_wanted(&called_off, find), find()));
    assert!(both.0.is_none() && both.1.is_some());
    assert!(find().is_some());
    let broken = std::panic::catch_unwind(|| while_wanted(&called_off, || panic!("on purpose")));
    assert!(broken.is_err() && find().is_some());
}

#[test]
fn scanning_that_is_called_off_finds_nothing() {
    let layout = puzzles::classic(4);
    let givens = Grid::from_line_of(layout.size(), "123434122143432.").unwrap();
    let steps = || Walk::by_scanning(&puzzles::reasoner(&layout), &givens).steps.len();
    assert_eq!((while_wanted(&Arc::new(AtomicBool::new(true)), steps), steps()), (0, 1));
}

#[test]
#[ignore = "takes minutes"]
fn large_puzzles_are_finished_where_not_too_much_must_be_tried() {
    let mut open = Vec::new();
    for Case { id, layout, givens, .. } in puzzles::known(16).chain(puzzles::known(25)) {
        let reasoner = Reasoner::new(&layout, &Ladder::default());
        let walk = Walk::with_marks(&reasoner, Position::new(&layout, &givens).with_one_solution());
        if !walk.is_finished() {
            open.push((id, walk.end.open()));
        }
    }
    println!("not finished, with so many open cells: {open:?}");
    // The classic ones of size 16 that a plain search has removed givens from until few could go.
    assert!(open.iter().all(|(id, _)| !id.starts_with("gen16")), "{open:?}");
}
