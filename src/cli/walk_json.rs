//! A walk as JSON: the object that `walk` and `hint` write.

use super::json;
use crate::board::{Cell, CellSet, DigitSet, Grid, HouseId, HouseName, Layout};
use crate::book::Puzzle;
use crate::step::{Base, By, Claim, Deduction, Position, Premise, Seen, Witness};
use serde::Serialize;
use std::collections::BTreeMap;

/// A walk as a line of JSON.
#[derive(Serialize)]
pub struct WalkLine {
    id: Option<String>,
    size: Option<u8>,
    boxes: Option<String>,
    regions: Option<String>,
    rules: Vec<&'static str>,
    houses: BTreeMap<String, Vec<String>>,
    givens: Option<String>,
    method: &'static str,
    finished: bool,
    solution: Option<String>,
    stuck: Option<String>,
    steps: Vec<StepObject>,
    #[serde(flatten)]
    standing: Option<Standing>,
}

/// Where a solver stands: what `hint` has more than `walk`.
#[derive(Serialize)]
pub struct Standing {
    position: Option<String>,
    candidates: Option<Vec<String>>,
}

#[derive(Serialize)]
struct StepObject {
    n: usize,
    pattern: &'static str,
    seen: Option<&'static str>,
    method: &'static str,
    houses: Vec<String>,
    claims: Vec<ClaimObject>,
    bases: Vec<BaseObject>,
    premise: Option<&'static str>,
    witnesses: Vec<WitnessObject>,
    splits: u8,
    text: String,
}

#[derive(Serialize)]
#[serde(tag = "claim", rename_all = "kebab-case")]
enum ClaimObject {
    Is { cells: Vec<String>, digits: Vec<String> },
    IsNot { cells: Vec<String>, digits: Vec<String> },
    Within { house: String, digits: Vec<String>, cells: Vec<String> },
}

#[derive(Serialize)]
#[serde(untagged)]
enum BaseObject {
    Cell { cell: String },
    Place { house: String, digit: String },
    Swap { swap: Vec<String>, extras: Vec<CandidateObject> },
}

#[derive(Serialize)]
struct CandidateObject {
    cell: String,
    digit: String,
}

#[derive(Serialize)]
struct WitnessObject {
    cell: String,
    digit: String,
    by: Vec<ByValue>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum ByValue {
    Cell(String),
    Step(usize),
}

/// What becomes of a walk, beside its steps.
#[derive(Default)]
pub struct Course {
    /// How the reader looks at the grid.
    pub method: &'static str,
    /// Whether the grid is full at its end.
    pub finished: bool,
    /// The one solution.
    pub solution: Option<Grid>,
    /// Why it does not go on, in words.
    pub stuck: Option<String>,
}

impl WalkLine {
    /// The object for a puzzle; its steps each with its words.
    pub fn new(puzzle: &Puzzle, course: Course, steps: &[(Deduction, String)]) -> WalkLine {
        let layout = puzzle.layout.as_deref();
        let board = if puzzle.lesson { puzzle.position.as_ref() } else { puzzle.givens.as_ref() };
        WalkLine {
            id: puzzle.id.as_ref().map(|id| id.text.clone()),
            size: layout.map(|layout| layout.size().side()),
            boxes: layout.and_then(Layout::boxes).map(|shape| shape.to_string()),
            regions: layout.and_then(Layout::regions),
            rules: layout.filter(|layout| layout.diagonals()).map(|_| "diagonals").into_iter().collect(),
            houses: layout.map(extra_houses).unwrap_or_default(),
            givens: board.map(|board| board.grid.to_string()),
            method: course.method,
            finished: course.finished,
            solution: course.solution.map(|solution| solution.to_string()),
            stuck: course.stuck,
            steps: layout.map_or_else(Vec::new, |layout| {
                steps.iter().zip(1..).map(|((step, text), n)| step_object(layout, n, step, text)).collect()
            }),
            standing: None,
        }
    }

    /// The same, with where the solver stands.
    pub fn at(self, position: Option<&Position>) -> WalkLine {
        let candidates = |position: &Position| {
            let cells = position.layout().size().all_cells();
            cells.map(|cell| position.candidates(cell).to_string()).collect()
        };
        let standing = Standing {
            position: position.map(|position| position.grid().to_string()),
            candidates: position.map(candidates),
        };
        WalkLine { standing: Some(standing), ..self }
    }

    /// As a line.
    pub fn line(&self) -> String {
        json::line(self)
    }
}

fn extra_houses(layout: &Layout) -> BTreeMap<String, Vec<String>> {
    let named = layout.houses().iter().filter_map(|house| match &house.name {
        HouseName::Named(name) => Some((name.to_string(), house.cells.iter().map(Cell::to_string).collect())),
        _ => None,
    });
    named.collect()
}

fn step_object(layout: &Layout, n: usize, step: &Deduction, text: &str) -> StepObject {
    StepObject {
        n,
        pattern: step.pattern.name(),
        seen: step.seen.map(Seen::name),
        method: step.method.name(),
        houses: step.houses.iter().map(|&id| house(layout, id)).collect(),
        claims: step.claims.iter().map(|claim| claim_object(layout, claim)).collect(),
        bases: step.bases.iter().map(|base| base_object(layout, base)).collect(),
        premise: step.premise().map(Premise::name),
        witnesses: step.witnesses.iter().map(witness_object).collect(),
        splits: step.splits,
        text: text.to_owned(),
    }
}

fn house(layout: &Layout, id: HouseId) -> String {
    layout.at(id).name.to_string()
}

fn cells(set: CellSet) -> Vec<String> {
    set.iter().map(|cell| cell.to_string()).collect()
}

fn digits(set: DigitSet) -> Vec<String> {
    set.iter().map(|digit| digit.to_string()).collect()
}

fn claim_object(layout: &Layout, claim: &Claim) -> ClaimObject {
    let (cells, digits) = (cells(claim.cells()), digits(claim.digits()));
    match claim {
        Claim::Is { .. } => ClaimObject::Is { cells, digits },
        Claim::IsNot { .. } => ClaimObject::IsNot { cells, digits },
        Claim::Within { house: id, .. } => ClaimObject::Within { house: house(layout, *id), digits, cells },
    }
}

fn base_object(layout: &Layout, base: &Base) -> BaseObject {
    match *base {
        Base::Cell(cell) => BaseObject::Cell { cell: cell.to_string() },
        Base::Place(id, digit) => BaseObject::Place { house: house(layout, id), digit: digit.to_string() },
        Base::Swap(ref swap) => BaseObject::Swap {
            swap: swap.cells.iter().map(Cell::to_string).collect(),
            extras: swap
                .extras
                .iter()
                .map(|(cell, digit)| CandidateObject { cell: cell.to_string(), digit: digit.to_string() })
                .collect(),
        },
    }
}

fn witness_object(witness: &Witness) -> WitnessObject {
    let by = |by: &By| match by {
        By::Cell(cell) => ByValue::Cell(cell.to_string()),
        By::Step(n) => ByValue::Step(*n),
    };
    WitnessObject {
        cell: witness.cell.to_string(),
        digit: witness.digit.to_string(),
        by: witness.by.iter().map(by).collect(),
    }
}
