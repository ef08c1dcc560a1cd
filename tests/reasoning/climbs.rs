//! A climb, which keeps what it worked out, takes the steps of one who looks at each position afresh.

use gridsetter::reason::{Climb, Focus};

use crate::puzzles::{self, Plan};
use crate::random;

fn hold_against_afresh(seed: u64, plan: Plan) {
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        // From puzzle to puzzle too, of which nothing is known that is not so.
        let (mut climb, mut advance) = (Climb::new(&reasoner), Climb::new(&reasoner));
        for puzzle in puzzles {
            let mut position = puzzles::start(layout, &puzzle.givens);
            let mut focus = None;
            loop {
                let place = || format!("in {} ({})", position.grid(), random::describe(layout));
                let afresh = reasoner.unproved(&position, focus.as_ref());
                assert_eq!(climb.unproved(&position, focus.as_ref()), afresh, "{}", place());
                let mut advanced = position.clone();
                let taken = advance.advance(&mut advanced, focus.as_ref());
                let expected = afresh.as_ref().map(|step| (step.pattern, Focus::of(step)));
                assert_eq!(taken, expected, "{}", place());
                let Some(step) = afresh else { break };
                position.apply(&step.claims);
                assert!(position == advanced, "{step:?} {}", position.grid());
                focus = Focus::of(&step);
            }
        }
    });
}

#[test]
fn a_climb_takes_the_steps_of_one_who_looks_afresh() {
    hold_against_afresh(31, &[(4, 8, 4), (6, 8, 3), (8, 2, 2), (9, 8, 2)]);
}

#[test]
#[ignore = "takes minutes"]
fn a_climb_takes_the_steps_of_one_who_looks_afresh_at_length() {
    hold_against_afresh(32, &[(6, 60, 5), (9, 60, 5), (12, 4, 2)]);
}
