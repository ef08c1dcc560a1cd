//! No step says what the solution does not.

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::ladder::Ladder;
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Claim, Position};

use crate::random::{self, Random};

fn classic(side: u8) -> Layout {
    Layout::classic(Size::new(side).unwrap()).unwrap()
}

/// Whether a claim is true in a solution.
fn holds(layout: &Layout, solution: &Grid, claim: &Claim) -> bool {
    let digit = |cell| solution.get(cell).unwrap();
    match claim {
        Claim::Is { cells, digits } => cells.iter().all(|cell| digits.contains(digit(cell))),
        Claim::IsNot { cells, digits } => !cells.iter().any(|cell| digits.contains(digit(cell))),
        Claim::Within { house, digits, cells } => {
            let mut house = layout.at(*house).cells.iter();
            house.all(|cell| !digits.contains(digit(*cell)) || cells.contains(*cell))
        }
    }
}

#[test]
fn no_step_of_a_walk_says_what_the_solution_does_not() {
    let layout = classic(9);
    let reasoner = Reasoner::new(&layout, &Ladder::default());
    let mut random = Random::new(5);
    for _ in 0..200 {
        let (puzzle, solution) = random::minimal(&mut random, &layout);
        let marks = Walk::with_marks(&reasoner, Position::new(&layout, &puzzle));
        for walk in [marks, Walk::by_scanning(&reasoner, &puzzle)] {
            for step in &walk.steps {
                for claim in &step.deduction.claims {
                    assert!(holds(&layout, &solution, claim), "{puzzle} {step:?}");
                }
            }
        }
    }
}
