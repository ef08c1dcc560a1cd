//! The next step from where the work stands.

use super::{Start, Work, claims, contradicted};
use crate::board::Cell;
use crate::book::{Known, Sheet};
use crate::ladder::{Ladder, Pattern};
use crate::reason::{Reasoner, Scanner};
use crate::step::{Claim, Deduction, Method, Position};

/// Where the work stands, and the next step from there.
#[derive(Clone, Debug)]
pub struct Next {
    /// What is known: with marks on the table, or from digits and remembered facts.
    pub position: Position,
    /// The facts that are remembered beside the sheet, as steps before this one.
    pub facts: Vec<Deduction>,
    /// How the reader looks at the grid.
    pub method: Method,
    /// The next step; `None` if the ladder has none.
    pub step: Option<Deduction>,
}

/// Something in the work does not hold: there is no step that could be trusted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mistaken {
    /// Where, in reading order.
    pub cells: Vec<Cell>,
}

impl Next {
    /// The next step from a sheet and what is remembered beside it; without a sheet, from the givens. With no method
    /// named, all marks count where the sheet has closed ones, and else the reader scans.
    ///
    /// # Errors
    /// Where the work is against the solution.
    pub fn of(
        start: &Start,
        ladder: &Ladder,
        sheet: Option<&Sheet>,
        known: &[Known],
        method: Option<Method>,
    ) -> Result<Next, Mistaken> {
        let marked = match sheet.map(|sheet| start.work(sheet)) {
            None => start.position(),
            Some(Work::Sound { marked }) => marked,
            Some(Work::Mistaken(cells)) => return Err(Mistaken { cells }),
        };
        let by_digits = Position::new(&start.layout, marked.grid());
        let differs = |cell: Cell| marked.candidates(cell) != by_digits.candidates(cell);
        let has_marks = start.layout.size().all_cells().any(differs);
        let said = || known.iter().filter_map(|fact| fact.says.as_ref()).map(|asserted| &asserted.says);
        let wrong =
            |solution| said().filter_map(|says| contradicted(says, &start.layout, solution)).collect();
        let cells: Vec<Cell> = start.solution.as_ref().map_or_else(Vec::new, wrong);
        if !cells.is_empty() {
            return Err(Mistaken { cells });
        }
        let method = method.unwrap_or(if has_marks { Method::Marks } else { Method::Scanning });
        let mut position = match method {
            Method::Marks => marked,
            Method::Scanning => by_digits,
        };
        let mut facts: Vec<Vec<Claim>> = Vec::new();
        for claims in said().map(|says| claims(says, &position)).collect::<Vec<_>>() {
            // What is remembered is not written yet, also where it comes down to one cell by now.
            for (cell, digits) in position.strikes(&claims) {
                position.strike(cell, digits);
            }
            if !claims.is_empty() {
                facts.push(claims);
            }
        }
        let step = match method {
            Method::Marks => Reasoner::new(&start.layout, ladder).next(&position, None),
            Method::Scanning => {
                let all = 1..=facts.len();
                let mut scanner = Scanner::remembering(&start.layout, position.grid(), facts.clone(), all);
                scanner.next(None).map(|scanned| scanned.step)
            }
        };
        let facts = facts.into_iter().map(|claims| remembered(claims, method)).collect();
        Ok(Next { position, facts, method, step })
    }
}

/// A fact of which only the claims are known, as a step.
fn remembered(claims: Vec<Claim>, method: Method) -> Deduction {
    let size = claims.first().map_or(0, |claim| claim.digits().len());
    let pattern = match u8::try_from(size) {
        Ok(size) if size > 1 => Pattern::HiddenSet(size),
        _ => Pattern::LockedCandidates,
    };
    Deduction { method, ..Deduction::with_marks(pattern, [], claims, []) }
}
