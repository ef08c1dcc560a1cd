//! Puzzles and positions to reason about, the same in every run.

use gridsetter::board::{Cell, Digit, Grid, Layout, Size};
use gridsetter::ladder::{Ladder, Pattern};
use gridsetter::reason::{Climb, Reasoner, Step, Walk};
use gridsetter::solve::{self, Budget};
use gridsetter::step::{Deduction, Position};

use crate::known::{Case, cases};
use crate::random::{self, Random};

/// What is spent on showing that a given can go: little, so that large grids keep a few more and are soon made.
const BUDGET: Budget = Budget { nodes: 200 };

/// How many layouts of a side, and how many puzzles of each.
pub type Plan<'a> = &'a [(u8, usize, usize)];

pub fn classic(side: u8) -> Layout {
    Layout::classic(Size::new(side).unwrap()).unwrap()
}

/// A reasoner with every pattern that is built.
pub fn reasoner(layout: &Layout) -> Reasoner {
    Reasoner::new(layout, &Ladder::default())
}

/// Every step that a pattern gives; not yet proved.
pub fn steps(reasoner: &Reasoner, pattern: Pattern, position: &Position) -> Vec<Deduction> {
    Climb::new(reasoner).look_at(position).all(pattern)
}

/// A puzzle, and its solution.
pub struct Puzzle {
    pub givens: Grid,
    pub solution: Grid,
}

/// Goes through a plan: calls `each` with every layout and its puzzles. Each second layout is the usual one, the others
/// have boxes of another shape, regions, diagonals, an extra house.
pub fn go_through(seed: u64, plan: Plan, mut each: impl FnMut(&mut Random, &Layout, &[Puzzle])) {
    let mut random = Random::new(seed);
    for &(side, layouts, count) in plan {
        let size = Size::new(side).unwrap();
        for number in 0..layouts {
            // Some layouts have no full grid at all.
            let (layout, full) = loop {
                let usual = Layout::classic(size).filter(|_| number % 2 == 0);
                let layout = usual.unwrap_or_else(|| random::layout(&mut random, size));
                if let Some(full) = random::full_grid(&mut random, &layout) {
                    break (layout, full);
                }
            };
            let puzzles: Vec<Puzzle> = (0..count)
                .map(|_| {
                    let solution = random::full_grid(&mut random, &layout).unwrap_or_else(|| full.clone());
                    Puzzle { givens: random::puzzle_of(&mut random, &layout, &solution, BUDGET), solution }
                })
                .collect();
            each(&mut random, &layout, &puzzles);
        }
    }
}

/// The known puzzles of a side with one solution.
pub fn known(side: u8) -> impl Iterator<Item = Case> {
    cases().into_iter().filter(move |case| case.layout.size().side() == side && case.solutions == 1)
}

/// The start of a puzzle, which has one solution.
pub fn start(layout: &Layout, givens: &Grid) -> Position {
    Position::new(layout, givens).with_one_solution()
}

/// A position of a random part of the solution's digits, from which some candidates have been struck that the solution
/// does not need. It may have other solutions; where its digits leave one, that is known.
pub fn marked(random: &mut Random, layout: &Layout, solution: &Grid) -> Position {
    let mut grid = solution.clone();
    let removed = 30 + random.below(50);
    for cell in layout.size().all_cells() {
        if random.below(100) < removed {
            grid.set(cell, None);
        }
    }
    let mut position = Position::new(layout, &grid);
    let outcome = solve::count(layout, &grid, 2, BUDGET);
    if outcome.count == 1 && outcome.stopped.is_none() {
        position = position.with_one_solution();
    }
    let share = random.below(60);
    for (cell, digit) in candidates(&position) {
        if solution.get(cell) != Some(digit) && random.below(100) < share {
            position.strike(cell, [digit].into_iter().collect());
        }
    }
    position
}

/// The candidates of all cells.
pub fn candidates(position: &Position) -> Vec<(Cell, Digit)> {
    let cells = position.layout().size().all_cells();
    cells.flat_map(|cell| position.candidates(cell).iter().map(move |digit| (cell, digit))).collect()
}

/// The steps of a walk by scanning, up to each digit that is written: facts, and the digit that needs them; before them the
/// grid as it then is, and how many steps came first.
pub fn plans(walk: &Walk) -> Vec<(Grid, usize, &[Step])> {
    let mut grid = walk.start.grid().clone();
    let mut first = 0;
    let mut found = Vec::new();
    for plan in walk.steps.split_inclusive(|step| step.deduction.places()) {
        found.push((grid.clone(), first, plan));
        first += plan.len();
        for claim in plan.iter().flat_map(|step| &step.deduction.claims).filter(|claim| claim.places()) {
            claim.cells().iter().for_each(|cell| grid.set(cell, claim.digits().only()));
        }
    }
    found
}

/// The level of a plan: the highest of its steps.
pub fn level(plan: &[Step]) -> u8 {
    plan.iter().filter_map(|step| step.level).max().unwrap()
}
