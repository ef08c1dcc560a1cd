//! No step says what a solution does not: a SAT solver looks for one in which something that the step rules out is true.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, Digit, Layout};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Deduction, Position};

use crate::puzzles::{self, Plan};
use crate::random::{self, Random};
use crate::room;
use crate::sat::Sat;

/// What was looked at.
#[derive(Default)]
struct Tally {
    positions: usize,
    with_solution: usize,
    steps: BTreeMap<&'static str, usize>,
}

/// Everything that a step rules out: what a reader strikes after it, which is also what the position strikes.
fn ruled_out(position: &Position, step: &Deduction) -> Vec<(Cell, Digit)> {
    let mut struck: Vec<(Cell, Digit)> =
        step.claims.iter().flat_map(|claim| room::struck(position, claim)).collect();
    struck.sort_unstable();
    struck.dedup();
    let by_position: Vec<(Cell, Digit)> = position
        .strikes(&step.claims)
        .into_iter()
        .flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit)))
        .collect();
    assert_eq!(by_position, struck, "{} {step:?}", position.grid());
    struck
}

/// Holds the first step of every pattern in a position against the SAT solver, which knows the position's candidates.
fn check_position(reasoner: &Reasoner, position: &Position, sat: &mut Sat, tally: &mut Tally) {
    let layout = position.layout();
    let open: Vec<(Cell, Digit)> = puzzles::candidates(position);
    let closed: Vec<(Cell, Digit)> = position
        .grid()
        .empty_cells()
        .flat_map(|cell| (layout.size().digits() - position.candidates(cell)).iter().map(move |d| (cell, d)))
        .collect();
    tally.positions += 1;
    tally.with_solution += usize::from(position.is_finished() || sat.allows(position.grid(), &closed, &open));
    for &pattern in reasoner.patterns() {
        if let Some(step) = reasoner.by(pattern, position, None) {
            *tally.steps.entry(pattern.name()).or_default() += 1;
            let out = ruled_out(position, &step);
            assert!(
                !sat.allows(position.grid(), &closed, &out),
                "{} ({}): {step:?}",
                position.grid(),
                random::describe(layout)
            );
        }
    }
}

/// Every position of a walk with marks.
fn check_walk(reasoner: &Reasoner, start: Position, sat: &mut Sat, tally: &mut Tally) {
    let walk = Walk::with_marks(reasoner, start);
    for (position, _) in walk.positions() {
        check_position(reasoner, &position, sat, tally);
    }
    check_position(reasoner, &walk.end, sat, tally);
}

/// Every step of a walk by scanning follows from the digits that stand before it.
fn check_scanning(walk: &Walk, layout: &Layout, sat: &mut Sat, tally: &mut Tally) {
    for (position, step) in walk.positions() {
        let position = Position::new(layout, position.grid());
        tally.positions += 1;
        tally.with_solution += 1;
        *tally.steps.entry("by scanning").or_default() += 1;
        let out = ruled_out(&position, &step.deduction);
        assert!(
            !sat.allows(position.grid(), &[], &out),
            "{} ({}): {step:?}",
            position.grid(),
            random::describe(layout)
        );
    }
}

fn hold_against_sat(seed: u64, plan: Plan) -> Tally {
    let mut tally = Tally::default();
    puzzles::go_through(seed, plan, |random: &mut Random, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        let mut sat = Sat::new(layout);
        for puzzle in puzzles {
            check_walk(&reasoner, puzzles::start(layout, &puzzle.givens), &mut sat, &mut tally);
            check_scanning(&Walk::by_scanning(&reasoner, &puzzle.givens), layout, &mut sat, &mut tally);
            let marked = puzzles::marked(random, layout, &puzzle.solution);
            check_walk(&reasoner, marked, &mut sat, &mut tally);
            // Often without a solution: there anything follows, but nothing may stop or go on for ever.
            let any = Position::new(layout, &random::position(random, &puzzle.solution));
            check_walk(&reasoner, any, &mut sat, &mut tally);
        }
    });
    println!("{} positions, {} of them with a solution", tally.positions, tally.with_solution);
    for (name, count) in &tally.steps {
        println!("  {name:20} {count:7}");
    }
    assert!(tally.with_solution * 10 > tally.positions * 8, "too many positions in which anything follows");
    tally
}

#[test]
fn no_step_rules_out_a_solution() {
    hold_against_sat(5, &[(4, 4, 3), (6, 4, 2), (8, 2, 1), (9, 6, 1), (12, 1, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn no_step_rules_out_a_solution_at_length() {
    let plan = [(4, 60, 4), (6, 40, 4), (8, 20, 4), (9, 60, 2), (10, 6, 2), (12, 8, 2), (16, 4, 1)];
    let tally = hold_against_sat(611_953, &plan);
    assert!(tally.positions >= 20_000, "only {} positions", tally.positions);
}
