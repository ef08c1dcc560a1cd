//! Whether a puzzle can be reasoned about, and from which position.

use std::fmt;
use std::sync::Arc;

use crate::board::{Cell, DigitSet, Grid, Layout};
use crate::book::{Constraints, Puzzle, Sheet, Token, Verdict};
use crate::step::Position;

/// A puzzle that can be reasoned about.
#[derive(Clone, Debug)]
pub struct Start {
    /// Its layout.
    pub layout: Arc<Layout>,
    /// Its printed digits; of a lesson, its position.
    pub givens: Grid,
    /// Its one solution; `None` for a lesson, whose position is not counted.
    pub solution: Option<Grid>,
}

/// Why a puzzle cannot be reasoned about. Shown as a sentence without its end.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unready {
    /// A part of it is broken or absent.
    Unread,
    /// The puzzle that it starts from, or the point of its walk, is not known or cannot be reasoned about.
    Unborrowed,
    /// It has a constraint that is not used in solving yet.
    Constrained,
    /// Equal givens in a house.
    Clash,
    /// It has no solution.
    NoSolution,
    /// It has several solutions.
    Several {
        /// As far as they were counted.
        count: u64,
        /// Whether there may be more.
        more: bool,
    },
    /// The search ended at its budget of so many nodes.
    Undecided(u64),
}

impl fmt::Display for Unready {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unready::Unread => f.write_str("a part of it could not be read; `gridsetter check` says which"),
            Unready::Unborrowed => {
                f.write_str("where it starts could not be read; `gridsetter check` says more")
            }
            Unready::Constrained => f.write_str("it has a constraint that is not used in solving yet"),
            Unready::Clash => f.write_str("a digit stands twice in a house; `gridsetter check` says where"),
            Unready::NoSolution => f.write_str("it has no solution, so no step can be trusted"),
            Unready::Several { count, more } => {
                let least = if *more { "at least " } else { "" };
                write!(f, "it has {least}{count} solutions, so no step can be trusted")
            }
            Unready::Undecided(nodes) => {
                write!(f, "whether it has just one solution is undecided after {nodes} nodes")
            }
        }
    }
}

impl std::error::Error for Unready {}

/// What a solver's sheet comes to.
#[derive(Clone, Debug)]
pub enum Work {
    /// Nothing on it is against the solution: what is known from it.
    Sound {
        /// Its digits, and the candidates that these and its closed marks leave.
        marked: Position,
    },
    /// Some entries or closed marks are against the solution: the cells, in reading order.
    Mistaken(Vec<Cell>),
}

impl Start {
    /// Makes a puzzle or a lesson ready.
    ///
    /// # Errors
    /// Why it cannot be reasoned about.
    pub fn of(puzzle: &Puzzle) -> Result<Start, Unready> {
        let layout = puzzle.layout.clone().ok_or(Unready::Unread)?;
        if puzzle.facts.constraints != Constraints::None {
            return Err(Unready::Constrained);
        }
        if puzzle.lesson {
            let board = puzzle.position.as_ref().or(puzzle.givens.as_ref()).ok_or(Unready::Unread)?;
            let clash = !board.grid.clashes(&layout).is_empty();
            let start = Start { layout, givens: board.grid.clone(), solution: None };
            return if clash { Err(Unready::Clash) } else { Ok(start) };
        }
        let givens = puzzle.givens.as_ref().ok_or(Unready::Unread)?.grid.clone();
        match puzzle.verdict() {
            Verdict::One(solution) => Ok(Start { layout, givens, solution: Some(solution.clone()) }),
            Verdict::NotJudged => Err(Unready::Unread),
            Verdict::Clash(_) => Err(Unready::Clash),
            Verdict::NoSolution(_) => Err(Unready::NoSolution),
            Verdict::Several(outcome) => {
                Err(Unready::Several { count: outcome.count, more: outcome.stopped.is_some() })
            }
            Verdict::Undecided(outcome) => Err(Unready::Undecided(outcome.nodes)),
        }
    }

    /// What is known from the givens alone.
    pub fn position(&self) -> Position {
        self.known(Position::new(&self.layout, &self.givens))
    }

    /// The same position; of a puzzle that has just one solution, with the knowledge of that.
    fn known(&self, position: Position) -> Position {
        if self.solution.is_some() { position.with_one_solution() } else { position }
    }

    /// What is known from a solver's sheet.
    pub fn work(&self, sheet: &Sheet) -> Work {
        let mut grid = sheet.grid(&self.givens);
        let mut closed: Vec<(Cell, DigitSet)> = Vec::new();
        for cell in self.layout.size().all_cells().filter(|cell| self.givens.get(*cell).is_none()) {
            match sheet.token(cell) {
                Token::Known(digit) => grid.set(cell, Some(digit)),
                Token::Closed(digits) => closed.push((cell, digits)),
                Token::Digit(_) | Token::Open(_) | Token::Empty => {}
            }
        }
        let wrong: Vec<Cell> = match &self.solution {
            Some(solution) => {
                let excluded = |(cell, digits): &(Cell, DigitSet)| {
                    solution.get(*cell).is_some_and(|digit| !digits.contains(digit)).then_some(*cell)
                };
                let entries = grid.digits().filter(|(cell, digit)| solution.get(*cell) != Some(*digit));
                entries.map(|(cell, _)| cell).chain(closed.iter().filter_map(excluded)).collect()
            }
            None => grid.clashes(&self.layout).into_iter().flat_map(|clash| clash.cells).collect(),
        };
        if !wrong.is_empty() {
            let mut cells = wrong;
            cells.sort_unstable();
            cells.dedup();
            return Work::Mistaken(cells);
        }
        let mut marked = Position::new(&self.layout, &grid);
        for (cell, digits) in closed {
            marked.strike(cell, self.layout.size().digits() - digits);
        }
        Work::Sound { marked: self.known(marked) }
    }
}
