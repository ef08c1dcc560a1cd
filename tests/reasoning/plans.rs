//! No easier plan is passed over: every chain of facts is tried, with each step as a reader sees it at that point.

use gridsetter::reason::{Scanned, Scanner, Walk};

use crate::puzzles::{self, Plan};
use crate::random;

/// The most facts of a chain.
const LONGEST: usize = 3;
/// How many readers are asked for one digit; what would take more is not compared.
const READERS: usize = 600;

/// What there is to say of the plan of a digit.
enum Verdict {
    Easiest,
    TooMuchToTry,
    Easier(Vec<Scanned>),
}

/// Looks for a plan of a lower level, or of the same level with fewer facts. One with a fact that it does not need is
/// none.
fn judge(start: &Scanner, told: usize, level: u8, facts: usize) -> Verdict {
    let mut readers: Vec<(Scanner, Vec<Scanned>)> = vec![(start.clone(), Vec::new())];
    let mut asked = 0;
    for count in 0..=LONGEST {
        // With as many facts or more it must be a level lower.
        let most = if count < facts { level } else { level - 1 };
        let mut next = Vec::new();
        for (reader, chain) in
            readers.into_iter().filter(|(_, chain)| chain.iter().all(|it| it.level <= most))
        {
            asked += 1;
            if asked > READERS {
                return Verdict::TooMuchToTry;
            }
            for step in reader.open().filter(|step| step.level <= most) {
                let with = [&chain[..], std::slice::from_ref(&step)].concat();
                if step.step.places() && needs_all(&with, told) {
                    return Verdict::Easier(with);
                }
                if !step.step.places() && count < LONGEST {
                    let mut after = reader.clone();
                    after.take(&step.step.claims);
                    next.push((after, with));
                }
            }
        }
        readers = next;
    }
    Verdict::Easiest
}

/// Whether the last step of a chain leans on all others, by itself or by what it leans on.
fn needs_all(chain: &[Scanned], told: usize) -> bool {
    let mut is_needed = vec![false; chain.len()];
    is_needed[chain.len() - 1] = true;
    for at in (0..chain.len()).rev() {
        if is_needed[at] {
            for number in chain[at].step.facts_used().into_iter().filter(|number| *number > told) {
                is_needed[number - told - 1] = true;
            }
        }
    }
    is_needed.into_iter().all(|needed| needed)
}

fn check(seed: u64, plan: Plan) {
    let (mut easiest, mut too_much) = (0, 0);
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            let walk = Walk::by_scanning(&reasoner, &puzzle.givens);
            let mut scanner = Scanner::new(layout, &puzzle.givens);
            for (_, told, plan) in puzzles::plans(&walk) {
                let level = puzzles::level(plan);
                match judge(&scanner, told, level, plan.len() - 1) {
                    Verdict::Easiest => easiest += 1,
                    Verdict::TooMuchToTry => too_much += 1,
                    Verdict::Easier(easier) => panic!(
                        "of level {level} with {} facts in {} ({}): {plan:#?}\neasier: {easier:#?}",
                        plan.len() - 1,
                        puzzle.givens,
                        random::describe(layout)
                    ),
                }
                for step in plan {
                    scanner.take(&step.deduction.claims);
                }
            }
        }
    });
    println!("{easiest} plans are the easiest, for {too_much} there is too much to try");
    assert!(easiest > 9 * too_much, "most are compared");
}

#[test]
fn no_chain_of_facts_is_easier() {
    check(36, &[(4, 4, 4), (6, 30, 6), (8, 2, 1), (9, 4, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn no_chain_of_facts_is_easier_at_length() {
    check(37, &[(4, 40, 6), (6, 200, 20), (8, 100, 4), (9, 400, 2), (12, 6, 1)]);
}
