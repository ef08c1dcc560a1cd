//! A reader who has the digits that stand and the facts that were stated, and no candidates: each step by scanning can
//! be followed from its witnesses, and from no fewer.

use gridsetter::board::{Cell, Grid, Layout};
use gridsetter::reason::Walk;
use gridsetter::step::{Base, By, Claim, Deduction, Witness};

use crate::puzzles::{self, Plan};
use crate::random;
use crate::room::{self, Candidate};

/// What the reader has.
struct Reader<'a> {
    layout: &'a Layout,
    grid: Grid,
    /// The claims of the steps so far.
    stated: Vec<Vec<Claim>>,
}

impl Reader<'_> {
    fn is_open(&self, cell: Cell) -> bool {
        self.grid.get(cell).is_none()
    }

    /// Whether what these point at, taken together, leaves no room for a candidate.
    fn barred(&self, (cell, digit): Candidate, by: &[By]) -> bool {
        let mut bases = Vec::new();
        for by in by {
            match *by {
                By::Cell(holder) if self.grid.get(holder) == Some(digit) => bases.push(vec![(holder, digit)]),
                By::Cell(_) => return false,
                By::Step(number) => {
                    let Some(claims) = number.checked_sub(1).and_then(|at| self.stated.get(at)) else {
                        return false;
                    };
                    let denies = |claim| room::denied(self.layout, claim).contains(&(cell, digit));
                    if claims.iter().any(denies) {
                        return true;
                    }
                    bases.extend(claims.iter().flat_map(room::stated));
                }
            }
        }
        !room::leaves_room(self.layout, &bases, (cell, digit))
    }

    /// Goes through a step; says what cannot be followed.
    fn follow(&self, step: &Deduction) -> Result<(), String> {
        for Witness { cell, digit, by } in &step.witnesses {
            if by.is_empty() || !self.is_open(*cell) || !self.barred((*cell, *digit), by) {
                return Err(format!("{by:?} do not bar {digit} from {cell}"));
            }
        }
        let told =
            |&(cell, digit): &Candidate| step.witnesses.iter().any(|w| (w.cell, w.digit) == (cell, digit));
        let mut bases = Vec::new();
        for base in &step.bases {
            let all: Vec<Candidate> = match *base {
                Base::Cell(cell) => self.layout.size().digits().iter().map(|digit| (cell, digit)).collect(),
                Base::Place(house, digit) => {
                    let cells = &self.layout.at(house).cells;
                    if cells.iter().any(|&cell| self.grid.get(cell) == Some(digit)) {
                        return Err(format!("{base:?} is settled"));
                    }
                    cells.iter().filter(|&&cell| self.is_open(cell)).map(|&cell| (cell, digit)).collect()
                }
                Base::Swap(_) => return Err("a reader who scans swaps nothing".to_owned()),
            };
            let left: Vec<Candidate> = all.into_iter().filter(|at| !told(at)).collect();
            bases.push(left);
        }
        for at in step.claims.iter().flat_map(|claim| room::denied(self.layout, claim)) {
            if self.is_open(at.0) && room::leaves_room(self.layout, &bases, at) {
                return Err(format!("{} in {} is left", at.1, at.0));
            }
        }
        Ok(())
    }

    fn take(&mut self, step: &Deduction) {
        for claim in step.claims.iter().filter(|claim| claim.places()) {
            claim.cells().iter().for_each(|cell| self.grid.set(cell, claim.digits().only()));
        }
        self.stated.push(step.claims.to_vec());
    }
}

/// The step with one thing fewer to go by: a witness, or one of several things that a witness points at.
fn with_less(step: &Deduction) -> Vec<Deduction> {
    let mut found = Vec::new();
    for (at, witness) in step.witnesses.iter().enumerate() {
        let mut less = step.clone();
        less.witnesses.remove(at);
        found.push(less);
        for by in (0..witness.by.len()).filter(|_| witness.by.len() > 1) {
            let mut less = step.clone();
            less.witnesses[at].by.remove(by);
            found.push(less);
        }
    }
    found
}

fn replay(seed: u64, plan: Plan) -> usize {
    let (mut steps, mut witnesses, mut walks, mut finished) = (0, 0, 0, 0);
    puzzles::go_through(seed, plan, |_, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            let walk = Walk::by_scanning(&reasoner, &puzzle.givens);
            let mut reader = Reader { layout, grid: puzzle.givens.clone(), stated: Vec::new() };
            for (step, number) in walk.steps.iter().map(|step| &step.deduction).zip(1..) {
                let place =
                    || format!("step {number} at {} ({}): {step:?}", reader.grid, random::describe(layout));
                if let Err(why) = reader.follow(step) {
                    panic!("{why}: {}", place());
                }
                for less in with_less(step) {
                    assert!(reader.follow(&less).is_err(), "{}\n{less:?} does as well", place());
                }
                steps += 1;
                witnesses += step.witnesses.len();
                reader.take(step);
            }
            assert_eq!(reader.grid, *walk.end.grid());
            walks += 1;
            finished += usize::from(reader.grid == puzzle.solution);
            assert_eq!(walk.is_finished(), reader.grid == puzzle.solution);
        }
    });
    println!("{walks} walks by scanning, {finished} finished; {steps} steps with {witnesses} witnesses");
    steps
}

#[test]
fn a_reader_follows_with_the_witnesses_and_not_with_fewer() {
    replay(51, &[(4, 4, 4), (6, 4, 4), (8, 2, 2), (9, 10, 1), (12, 1, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn a_reader_follows_with_the_witnesses_and_not_with_fewer_at_length() {
    let steps = replay(52, &[(4, 60, 6), (6, 60, 6), (8, 40, 4), (9, 200, 3), (12, 8, 2), (16, 2, 1)]);
    assert!(steps >= 20_000);
}
