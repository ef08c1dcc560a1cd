//! A solution written for the puzzle is not its solution.
//!
//! ## Why
//! `solution` with the puzzle, and `answer` with its id in this file or another, say how the grid ends. Here the givens
//! leave exactly one solution, and what is written is another grid: it belongs to an earlier version, or one of the two
//! has a slip of the pen. The first cell that differs is marked. While a puzzle has no solution or several, what is
//! written is not held against it.
//!
//! ## Found
//! ```gset
//! puzzle ht-17 "Second Thoughts"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! solution
//!   2 4  1 3
//!   3 1  4 2
//!   4 2  1 3
//! #~     ^ solution-wrong: r3c3 is 1 here and 3 in the puzzle's one solution; r3c4 differs too
//!   1 3  2 4
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-17 "Second Thoughts"
//! size       4
//! givens
//!   2 .  1 .
//!   . .  . .
//!   . .  . .
//!   . 3  . 4
//! solution
//!   2 4  1 3
//!   3 1  4 2
//!   4 2  3 1
//!   1 3  2 4
//! ```

use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Grid};
use crate::book::{Board, Entry, SectionId, Verdict, Workspace};
use crate::notation::Section;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "solution-wrong",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Each(&[Check::Puzzle(with_puzzle), Check::Workspace(apart)]),
    source: include_str!("solution_wrong.rs"),
};

/// A `solution` that stands with the puzzle.
fn with_puzzle(scene: &PuzzleScene) -> Vec<Draft> {
    let Some(board) = &scene.puzzle.solution else { return Vec::new() };
    scene.solution().and_then(|solution| draft(scene.section, board, solution)).into_iter().collect()
}

/// An `answer` that stands anywhere.
fn apart(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let mut drafts = Vec::new();
    for (id, section, meaning) in workspace.sections() {
        for entry in &meaning.entries {
            let Entry::Answer(answer) = entry else { continue };
            let Some((_, puzzle)) = answer.id.as_ref().and_then(|name| workspace.find(&name.text)) else {
                continue;
            };
            let Some(layout) = &puzzle.layout else { continue };
            let Ok(Some(board)) = answer.board(section, layout) else { continue };
            let Verdict::One(solution) = puzzle.verdict() else { continue };
            drafts.extend(draft(section, &board, solution).map(|draft| (id, draft)));
        }
    }
    drafts
}

fn draft(section: &Section, board: &Board, solution: &Grid) -> Option<Draft> {
    if board.grid == *solution {
        return None;
    }
    let differing: Vec<Cell> = board.grid.differing(solution).iter().collect();
    let (&first, others) = differing.split_first()?;
    let here = board.grid[first].map_or("empty".to_owned(), |digit| digit.to_string());
    let more = match others {
        [] => String::new(),
        [other] => format!("; {other} differs too"),
        _ => format!("; {} differ too", listed(others)),
    };
    let digit = solution[first]?;
    let message = format!("{first} is {here} here and {digit} in the puzzle's one solution{more}");
    let help = "write the puzzle's solution, or look for a slip of the pen in its givens";
    let draft = Draft::new(board.place(section, first), message, help);
    let beside = |draft: Draft, &other: &Cell| {
        draft.beside(board.place(section, other), format!("{other} differs too"))
    };
    let right = |&cell: &Cell| Some((board.place(section, cell), solution[cell]?.to_string()));
    let edits = differing.iter().filter_map(right).collect();
    Some(others.iter().fold(draft, beside).propose("write the puzzle's one solution", edits))
}
