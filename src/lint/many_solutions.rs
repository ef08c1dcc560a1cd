//! The puzzle has more than one solution.
//!
//! ## Why
//! Readers are promised one answer, and whoever finds another is right as well. The message says how many solutions
//! there are, counted up to a thousand, and where two of them differ; no two solutions differ in only some of these
//! cells while all others stay as they are. So at least one of these cells needs a given. A digit that would leave one
//! solution is proposed where there is one.
//!
//! ## Found
//! ```gset
//! puzzle ht-05 "Either Way Round"
//! size       4
//! givens
//!   2 4  1 3
//!   . 1  . .
//!   . .  . .
//! #~^ many-solutions: this puzzle has 2 solutions: r3c1 r3c4 r4c1 r4c4 can hold 1 and 4 either way round
//!   . .  2 .
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-05 "Either Way Round"
//! size       4
//! givens
//!   2 4  1 3
//!   . 1  . .
//!   . .  . .
//!   . .  2 .
//! ```

use super::place::listed;
use super::wording::counted;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, DigitSet, Layout};
use crate::book::{Board, Verdict};
use crate::solve::{self, Budget, Differing, Outcome};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "many-solutions",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("many_solutions.rs"),
};

/// So many cells are marked, and named with their digits; the rest are only counted.
const MOST_CELLS: usize = 8;

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let puzzle = scene.puzzle;
    match (scene.verdict(), &puzzle.layout, &puzzle.givens) {
        (Verdict::Several(outcome), Some(layout), Some(givens)) => {
            vec![draft(scene, layout, givens, outcome)]
        }
        _ => Vec::new(),
    }
}

fn draft(scene: &PuzzleScene, layout: &Layout, givens: &Board, outcome: &Outcome) -> Draft {
    let about = if outcome.stopped.is_some() { "at least " } else { "" };
    let count = format!("this puzzle has {about}{}", counted(outcome.count, "solution"));
    // Found again within a budget of its own; where that is too small, there is only the count to tell.
    let Some(difference) = solve::difference(layout, &givens.grid, Budget::default()) else {
        return Draft::new(scene.givens_word(), count, "add givens until one solution is left");
    };

    let cells = &difference.cells;
    let settling = solve::settling_given(layout, &givens.grid, Budget::default());
    let help = match settling {
        Some((cell, digit)) => format!("add a given: {digit} in {cell} would leave exactly one solution"),
        None => "add givens, one of them in one of these cells".to_owned(),
    };
    let span = scene.cell(givens, cells[0].cell);
    let mut draft = Draft::new(span, format!("{count}: {}", how_they_differ(cells)), help);
    for at in cells.iter().skip(1).take(MOST_CELLS - 1) {
        let what = format!("{}: {} or {}", at.cell, at.first, at.second);
        draft = draft.beside(scene.cell(givens, at.cell), what);
    }
    if let Some((cell, digit)) = settling {
        draft = draft.propose(format!("write {digit} in {cell}"), scene.write(givens, &[(cell, digit)]));
    }
    draft
}

/// `r1c1 r1c4 r5c1 r5c4 can hold 4 and 9 either way round`, or each cell with both of its digits.
fn how_they_differ(cells: &[Differing]) -> String {
    let digits: DigitSet = cells.iter().flat_map(|at| [at.first, at.second]).collect();
    if digits.len() == 2 {
        let cells: Vec<Cell> = cells.iter().map(|at| at.cell).collect();
        let pair: Vec<String> = digits.iter().map(|digit| digit.to_string()).collect();
        return format!("{} can hold {} either way round", listed(&cells), pair.join(" and "));
    }
    let shown = if cells.len() > MOST_CELLS { MOST_CELLS - 1 } else { cells.len() };
    let each = cells[..shown].iter().map(|at| format!("{} ({} or {})", at.cell, at.first, at.second));
    let mut text = format!("two of them differ in {}", each.collect::<Vec<_>>().join(" "));
    if shown < cells.len() {
        text += &format!(" and {} more cells", cells.len() - shown);
    }
    text
}
