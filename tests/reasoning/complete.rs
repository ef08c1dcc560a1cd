//! The finders against the definitions: each step that is offered is one by definition, and where none is offered there
//! is none.

use std::collections::BTreeMap;

use gridsetter::ladder::Pattern;
use gridsetter::reason::Reasoner;
use gridsetter::step::Position;

use crate::definitions;
use crate::puzzles::{self, Plan};
use crate::random;

/// How often a finder was asked, and how often it had an answer.
type Tally = BTreeMap<Pattern, (usize, usize)>;

/// Takes the steps of one pattern, and each time holds it against all that the definition gives.
fn exhaust(reasoner: &Reasoner, pattern: Pattern, mut position: Position, tally: &mut Tally) {
    loop {
        let defined = definitions::all(pattern, &position);
        let step = reasoner.by(pattern, &position, None);
        let (asked, answered) = tally.entry(pattern).or_default();
        *asked += 1;
        let place =
            || format!("{pattern:?} in {} ({})", position.grid(), random::describe(position.layout()));
        let Some(step) = step else {
            assert!(defined.is_empty(), "{}: {defined:?} not found", place());
            return;
        };
        *answered += 1;
        assert!(
            defined.contains(&definitions::essence(&step)),
            "{}: {step:?} is not one of {defined:?}",
            place()
        );
        let before = position.clone();
        position.apply(&step.claims);
        assert!(position != before, "{step:?} adds nothing");
    }
}

fn hold_against_definitions(seed: u64, plan: Plan) -> Tally {
    let mut tally = Tally::new();
    puzzles::go_through(seed, plan, |random, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            for position in [
                puzzles::start(layout, &puzzle.givens),
                puzzles::marked(random, layout, &puzzle.solution),
                puzzles::marked(random, layout, &puzzle.solution),
            ] {
                for &pattern in reasoner.patterns().iter().filter(|pattern| !pattern.is_chain()) {
                    exhaust(&reasoner, pattern, position.clone(), &mut tally);
                }
            }
        }
    });
    println!("pattern: asked, answered");
    for (pattern, (asked, answered)) in &tally {
        println!("  {pattern:?}: {asked} {answered}");
    }
    tally
}

#[test]
fn finders_find_what_their_definitions_say() {
    hold_against_definitions(8, &[(4, 8, 4), (6, 8, 3), (8, 2, 2), (9, 8, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn finders_find_what_their_definitions_say_at_length() {
    let tally = hold_against_definitions(77, &[(4, 60, 6), (6, 60, 5), (8, 20, 4), (9, 200, 3), (12, 4, 1)]);
    let [pairs, triples, fish] =
        [Pattern::NakedSet(2), Pattern::HiddenSet(3), Pattern::Fish(2)].map(|pattern| tally[&pattern].1);
    assert!(pairs > 1000 && triples > 1000 && fish > 1000, "{pairs} {triples} {fish}");
}
