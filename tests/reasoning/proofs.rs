//! Every proof is accepted, needs all that it reads, and fails when it is changed.
//!
//! A changed step may still be a proof: of a digit, say, that has one place in its box and in its row. Brute force over
//! what the step reads tells these apart, so that the checker is never believed on its own word.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, CellSet, Digit, DigitSet, Layout};
use gridsetter::ladder::Pattern;
use gridsetter::proof;
use gridsetter::reason::scanning::Scanner;
use gridsetter::reason::{Focus, Reasoner, Walk};
use gridsetter::step::{Base, Claim, Deduction, Position, Swap};

use crate::puzzles::{self, Plan};
use crate::random::{self, Random};
use crate::room::{self, Candidate};

/// Whether a base is one that its pattern names for its own sake.
fn named_for_its_own_sake(step: &Deduction, base: &Base) -> bool {
    match step.pattern {
        Pattern::LastOpenCell | Pattern::NakedSingle | Pattern::NakedSet(_) => matches!(base, Base::Cell(_)),
        Pattern::Fish(_) => matches!(base, Base::Place(_, _)),
        Pattern::HiddenSet(_) => matches!(base, Base::Place(house, _) if *house == step.houses[0]),
        _ => false,
    }
}

/// The candidates of what a step reads, less what its witnesses close.
fn bases(position: &Position, step: &Deduction) -> Vec<Vec<Candidate>> {
    let layout = position.layout();
    let all = |base: &Base| -> Option<Vec<Candidate>> {
        match *base {
            Base::Cell(cell) => Some(layout.size().digits().iter().map(|digit| (cell, digit)).collect()),
            Base::Place(house, digit) => {
                Some(layout.at(house).cells.iter().map(|&cell| (cell, digit)).collect())
            }
            Base::Swap(ref swap) => room::says(position, swap).then(|| swap.extras.clone()),
        }
    };
    let open = |&(cell, digit): &Candidate| {
        let closed = || step.witnesses.iter().any(|w| (w.cell, w.digit) == (cell, digit));
        position.candidates(cell).contains(digit) && !closed()
    };
    // What a swap does not say is no base.
    step.bases.iter().filter_map(|base| Some(all(base)?.into_iter().filter(open).collect())).collect()
}

/// Whether all that a step strikes follows from what it reads, by trying every choice.
fn follows(position: &Position, step: &Deduction) -> bool {
    let bases = bases(position, step);
    let mut struck = step.claims.iter().flat_map(|claim| room::struck(position, claim));
    struck.all(|at| !room::leaves_room(position.layout(), &bases, at))
}

/// What became of changed steps.
#[derive(Default, Debug)]
struct Fate {
    refused: usize,
    /// Accepted, and brute force agrees that it follows.
    still_a_proof: usize,
    /// Refused, and there is nothing that it strikes.
    strikes_nothing: usize,
    /// Refused though it follows: the checker looks in two ways only, and also sees to what is settled.
    refused_though_true: usize,
}

type Fates = BTreeMap<&'static str, Fate>;

/// Judges a changed step; the checker may only accept what brute force accepts.
fn judge(name: &'static str, accepted: bool, position: &Position, changed: &Deduction, fates: &mut Fates) {
    let fate = fates.entry(name).or_default();
    match (accepted, follows(position, changed)) {
        (true, true) => fate.still_a_proof += 1,
        (true, false) => panic!("{name}: {} and yet accepted: {changed:?}", position.grid()),
        (false, true) if changed.claims.iter().all(|claim| room::struck(position, claim).is_empty()) => {
            fate.strikes_nothing += 1;
        }
        (false, true) => fate.refused_though_true += 1,
        (false, false) => fate.refused += 1,
    }
}

/// Another open cell than this one.
fn other_cell(random: &mut Random, position: &Position, cell: Cell) -> Option<Cell> {
    let open: Vec<Cell> = position.grid().empty_cells().filter(|&other| other != cell).collect();
    (!open.is_empty()).then(|| open[random.below(open.len())])
}

fn other_digit(random: &mut Random, layout: &Layout, digit: Digit) -> Digit {
    let digits: Vec<Digit> = layout.size().digits().iter().filter(|&other| other != digit).collect();
    digits[random.below(digits.len())]
}

/// One of the items.
fn one<T: Copy>(random: &mut Random, items: impl Iterator<Item = T>) -> Option<T> {
    let items: Vec<T> = items.collect();
    (!items.is_empty()).then(|| items[random.below(items.len())])
}

fn with_cells(claim: &Claim, cells: CellSet) -> Claim {
    let mut changed = claim.clone();
    match &mut changed {
        Claim::Is { cells: own, .. } | Claim::IsNot { cells: own, .. } | Claim::Within { cells: own, .. } => {
            *own = cells;
        }
    }
    changed
}

fn with_digits(claim: &Claim, digits: DigitSet) -> Claim {
    let mut changed = claim.clone();
    match &mut changed {
        Claim::Is { digits: own, .. }
        | Claim::IsNot { digits: own, .. }
        | Claim::Within { digits: own, .. } => {
            *own = digits;
        }
    }
    changed
}

/// A swap with a cell changed or gone, or with an extra changed, gone or added.
fn other_swap(random: &mut Random, position: &Position, mut swap: Swap) -> Swap {
    let cell = random.below(swap.cells.len());
    let extra = random.below(swap.extras.len());
    match random.below(5) {
        0 => _ = swap.cells.remove(cell),
        1 => swap.cells[cell] = other_cell(random, position, swap.cells[cell]).unwrap_or(swap.cells[cell]),
        2 => _ = swap.extras.remove(extra),
        3 => swap.extras[extra].1 = other_digit(random, position.layout(), swap.extras[extra].1),
        _ => {
            let digit = position.candidates(swap.cells[cell]).iter().next().unwrap();
            swap.extras.push((swap.cells[cell], digit));
        }
    }
    swap.cells.sort_unstable();
    swap
}

/// A step changed in one place, in each way once.
fn mutants(random: &mut Random, position: &Position, step: &Deduction) -> Vec<(&'static str, Deduction)> {
    let layout = position.layout();
    let mut found = Vec::new();
    let mut push = |name, change: &dyn Fn(&mut Deduction)| {
        let mut changed = step.clone();
        change(&mut changed);
        found.push((name, changed));
    };
    let at = random.below(step.bases.len());
    push("a base dropped", &|step| _ = step.bases.remove(at));
    let swapped = match step.bases[at].clone() {
        Base::Swap(swap) => Some(Base::Swap(other_swap(random, position, swap))),
        Base::Cell(cell) => other_cell(random, position, cell).map(Base::Cell),
        Base::Place(house, digit) if random.one_in(2) => {
            Some(Base::Place(house, other_digit(random, layout, digit)))
        }
        Base::Place(house, digit) => {
            one(random, layout.house_ids().filter(|&id| id != house)).map(|id| Base::Place(id, digit))
        }
    };
    if let Some(swapped) = swapped {
        push("a base changed", &|step| step.bases[at] = swapped.clone());
    }
    let at = random.below(step.claims.len());
    let claim = &step.claims[at];
    if let Some(old) = one(random, claim.cells().iter())
        && let Some(new) = other_cell(random, position, old)
        && !claim.cells().contains(new)
    {
        let cells = (claim.cells() - CellSet::single(old)) | CellSet::single(new);
        push("a cell of a claim changed", &|step| step.claims[at] = with_cells(claim, cells));
    }
    if let Some(old) = one(random, claim.digits().iter()) {
        let new = other_digit(random, layout, old);
        if !claim.digits().contains(new) {
            let digits = (claim.digits() - DigitSet::single(old)) | DigitSet::single(new);
            push("a digit of a claim changed", &|step| step.claims[at] = with_digits(claim, digits));
        }
        if claim.digits().len() > 1 && matches!(claim, Claim::Is { .. }) {
            let digits = claim.digits() - DigitSet::single(old);
            push("a digit of a set dropped", &|step| step.claims[at] = with_digits(claim, digits));
        }
    }
    if !step.witnesses.is_empty() {
        let at = random.below(step.witnesses.len());
        let witness = &step.witnesses[at];
        push("a witness dropped", &|step| _ = step.witnesses.remove(at));
        if let Some(cell) = other_cell(random, position, witness.cell) {
            push("the cell of a witness changed", &|step| step.witnesses[at].cell = cell);
        }
        let digit = other_digit(random, layout, witness.digit);
        push("the digit of a witness changed", &|step| step.witnesses[at].digit = digit);
        push("what a witness points at dropped", &|step| step.witnesses[at].by.clear());
    }
    found
}

/// What is looked at beside the count of steps.
#[derive(Default)]
struct Tally {
    steps: usize,
    fates: Fates,
}

fn check_marks(random: &mut Random, walk: &Walk, tally: &mut Tally) {
    for (position, step) in walk.positions() {
        let step = &step.deduction;
        tally.steps += 1;
        assert_eq!(proof::with_marks(&position, step), Ok(()), "{step:?}");
        assert!(follows(&position, step), "{} {step:?}", position.grid());
        for base in proof::superfluous(&position, step) {
            assert!(named_for_its_own_sake(step, &base), "{} {base:?} of {step:?}", position.grid());
        }
        if step.premise().is_some() {
            let unknown = Position::new(position.layout(), position.grid());
            assert_eq!(proof::with_marks(&unknown, step), Err(proof::Refusal::Swap));
        }
        for (name, changed) in mutants(random, &position, step) {
            let accepted = proof::with_marks(&position, &changed).is_ok();
            judge(name, accepted, &position, &changed, &mut tally.fates);
        }
    }
}

fn check_scanning(random: &mut Random, walk: &Walk, tally: &mut Tally) {
    for (number, (position, step)) in walk.positions().enumerate() {
        let step = &step.deduction;
        let position = Position::unmarked(position.layout(), position.grid());
        tally.steps += 1;
        // Only earlier steps can be leant on.
        let fact = |n: usize| walk.claims(n).filter(|_| n <= number);
        let accepts =
            |step: &Deduction| proof::by_scanning(position.layout(), position.grid(), fact, step).is_ok();
        assert!(accepts(step) && follows(&position, step), "{} {step:?}", position.grid());
        for at in 0..step.bases.len() {
            let mut less = step.clone();
            let base = less.bases.remove(at);
            assert!(
                named_for_its_own_sake(step, &base) || !accepts(&less),
                "{} {base:?} of {step:?}",
                position.grid()
            );
        }
        for (name, changed) in mutants(random, &position, step) {
            // A witness that shows nothing is refused whatever follows from the rest.
            let accepted = accepts(&changed);
            if name.contains("witness") && !accepted {
                tally.fates.entry(name).or_default().refused += 1;
            } else {
                judge(name, accepted, &position, &changed, &mut tally.fates);
            }
        }
    }
}

/// A walk ends where nothing more is found, not where something is found that is refused.
fn check_ends(reasoner: &Reasoner, marks: &Walk, scanning: &Walk) {
    assert!(marks.is_finished() || reasoner.unproved(&marks.end, marks.focus().as_ref()).is_none());
    let mut scanner = Scanner::new(reasoner.layout(), scanning.start.grid());
    let mut focus = None;
    for step in &scanning.steps {
        assert_eq!(scanner.next(focus.as_ref()).map(|scanned| scanned.step).as_ref(), Some(&step.deduction));
        focus = Focus::of(&step.deduction);
    }
    let more = scanner.next(focus.as_ref());
    assert!(more.is_none(), "{} ({}): {more:?}", scanning.end.grid(), random::describe(reasoner.layout()));
}

fn check_proofs(seed: u64, plan: Plan) -> [Tally; 2] {
    let (mut marks, mut scanning) = (Tally::default(), Tally::default());
    puzzles::go_through(seed, plan, |random, layout, puzzles| {
        let reasoner = puzzles::reasoner(layout);
        for puzzle in puzzles {
            let marked = puzzles::marked(random, layout, &puzzle.solution);
            let any = Position::new(layout, &random::position(random, &puzzle.solution));
            let by_scanning = Walk::by_scanning(&reasoner, &puzzle.givens);
            check_scanning(random, &by_scanning, &mut scanning);
            for start in [puzzles::start(layout, &puzzle.givens), marked, any] {
                let with_marks = Walk::with_marks(&reasoner, start);
                check_marks(random, &with_marks, &mut marks);
                check_ends(&reasoner, &with_marks, &by_scanning);
            }
        }
    });
    for (method, tally) in [("marks", &marks), ("scanning", &scanning)] {
        println!(
            "{method}: {} steps; changed: refused, still a proof, striking nothing, refused though true",
            tally.steps
        );
        for (name, fate) in &tally.fates {
            let Fate { refused, still_a_proof, strikes_nothing, refused_though_true } = fate;
            println!("  {name:34} {refused:7} {still_a_proof:7} {strikes_nothing:7} {refused_though_true:7}");
        }
    }
    for (name, fate) in marks.fates.iter().chain(&scanning.fates) {
        assert!(fate.refused > fate.still_a_proof, "{name}: {fate:?}");
    }
    [marks, scanning]
}

#[test]
fn proofs_are_accepted_and_changed_ones_are_not() {
    check_proofs(41, &[(4, 4, 4), (6, 4, 4), (8, 2, 2), (9, 8, 1), (12, 1, 1)]);
}

#[test]
#[ignore = "takes minutes"]
fn proofs_are_accepted_and_changed_ones_are_not_at_length() {
    let plan = [(4, 40, 5), (6, 40, 5), (8, 30, 3), (9, 150, 2), (12, 8, 2), (16, 3, 1)];
    let [marks, scanning] = check_proofs(42, &plan);
    assert!(marks.steps + scanning.steps >= 20_000);
}
