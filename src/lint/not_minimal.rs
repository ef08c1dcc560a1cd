//! A puzzle that says `minimal` has givens that it does not need.
//!
//! ## Why
//! In a minimal puzzle no given can go without a second solution. The message names those that could; after one of
//! them is gone, others of them may be needed. What is proposed takes out as many as can go together, in reading
//! order. Where the puzzle says which `symmetry` its givens have, and they do, there is also proposed what keeps it: that
//! takes out counterparts together or not at all, and comes first if nothing is left after it that could go. Either makes
//! the puzzle no easier.
//!
//! ## Found
//! ```gset
//! puzzle ht-06 "One Pair Too Many"
//! size       4
//! symmetry   half-turn
//! minimal
//! #<^^^^^ not-minimal: any one of the givens in r1c1 r1c3 r4c2 r4c4 can go
//! givens
//!   1 2  3 .
//!   . .  . .
//!   . .  . .
//!   . 1  2 3
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle ht-06 "One Pair Too Many"
//! size       4
//! symmetry   half-turn
//! minimal
//! givens
//!   1 2  . .
//!   . .  . .
//!   . .  . .
//!   . .  2 3
//! ```

use super::wording::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Grid, Layout};
use crate::solve::{self, Budget};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "not-minimal",
    group: Group::Puzzles,
    severity: Severity::Warning,
    check: Check::Puzzle(check),
    source: include_str!("not_minimal.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    draft(scene).into_iter().collect()
}

fn draft(scene: &PuzzleScene) -> Option<Draft> {
    let (fact, givens) = scene.claim(|facts| facts.minimal.as_ref())?;
    let (layout, spare) = (scene.puzzle.layout.as_ref()?, scene.spare()?);
    let digit = givens.grid[*spare.cells.first()?]?;
    let which = match spare.cells[..] {
        [cell] => format!("the {digit} in {cell} can go"),
        _ => format!("any one of the givens in {} can go", listed(&spare.cells)),
    };
    let seen = if spare.undecided { ", and others were not looked at before the search stopped" } else { "" };
    let message = format!("{which} without a second solution{seen}");
    let mut draft = Draft::new(scene.claim_span(fact), message, "take givens out, or take `minimal` out");
    for &cell in &spare.cells {
        draft = draft.beside(scene.cell(givens, cell), format!("{cell} can go"));
    }
    let propose = |draft: Draft, title: String, gone: &[Cell]| {
        let edits = gone.iter().map(|&cell| (scene.cell(givens, cell), ".".to_owned())).collect();
        draft.propose(title, edits)
    };
    let alone = spare.cells.iter().map(|&cell| vec![cell]);
    let (gone, _) = solve::spare_together(layout, &givens.grid, alone, Budget::default());
    let plain = |draft| propose(draft, format!("take out {}", listed(&gone)), &gone);
    let Some((paired, left)) = in_symmetry(scene, layout, &spare.cells).filter(|(paired, _)| *paired != gone)
    else {
        return Some(plain(draft));
    };
    let still = solve::spare_givens(layout, &left, Budget::default());
    let title = format!("take out {}, which keeps the symmetry", listed(&paired));
    Some(if still.cells.is_empty() && !still.undecided {
        plain(propose(draft, title, &paired))
    } else {
        propose(plain(draft), format!("{title}; then others can still go by themselves"), &paired)
    })
}

/// The givens that can go together and leave the symmetry that the puzzle says and has, in reading order, and what is left
/// then; `None` if there are no such givens.
fn in_symmetry(scene: &PuzzleScene, layout: &Layout, spare: &[Cell]) -> Option<(Vec<Cell>, Grid)> {
    let (fact, givens) = scene.claim(|facts| facts.symmetry.as_ref())?;
    let sets = fact.value.counterparts(&givens.grid).into_iter();
    let some = sets.filter(|set| set.iter().all(|cell| spare.contains(cell)));
    let (mut gone, left) = solve::spare_together(layout, &givens.grid, some, Budget::default());
    gone.sort_unstable();
    (!gone.is_empty()).then_some((gone, left))
}

#[cfg(test)]
mod tests {
    use crate::book::{Book, Spot, Workspace};
    use crate::lint::{self, Fix};

    fn workspace(symmetry: &str, rows: &str) -> Workspace {
        let rows = rows.replace('/', "\n  ");
        let text = format!("puzzle a\nsize 4\n{symmetry}\nminimal\ngivens\n  {rows}\n");
        Workspace::new(vec![Book::read("a.gset", &text)])
    }

    fn fixes(workspace: &Workspace) -> Vec<Fix<Spot>> {
        let reports =
            lint::check(workspace).into_iter().filter(|report| report.finding.name == "not-minimal");
        reports.flat_map(|report| report.fixes).collect()
    }

    /// What is proposed for a puzzle of size 4 that says that it is minimal.
    fn titles(symmetry: &str, rows: &str) -> Vec<String> {
        fixes(&workspace(symmetry, rows)).into_iter().map(|fix| fix.title).collect()
    }

    #[test]
    fn what_keeps_the_symmetry_comes_first_if_it_does_all() {
        let rows = "1 2 3 ./. . . ./. . . ./. 1 2 3";
        let pair = "take out r1c3 r4c2, which keeps the symmetry";
        assert_eq!(titles("symmetry half-turn", rows), [pair, "take out r1c1"]);
        for other in ["symmetry none", "symmetry mirror-down", ""] {
            assert_eq!(titles(other, rows), ["take out r1c1"]);
        }
    }

    #[test]
    fn what_keeps_the_symmetry_and_leaves_something_comes_second() {
        let rows = "1 . 3 4/3 . . ./. . . 3/4 3 . 1";
        let pair = "take out r1c3 r4c2, which keeps the symmetry; then others can still go by themselves";
        assert_eq!(titles("symmetry half-turn", rows), ["take out r1c3 r2c1 r3c4", pair]);
    }

    #[test]
    fn every_symmetry_is_kept() {
        let full = "1 2 3 4/3 4 1 2/2 1 4 3/4 3 2 1";
        for word in ["half-turn", "quarter-turn", "mirror-across", "mirror-down", "mirror-diagonal"] {
            let workspace = workspace(&format!("symmetry {word}"), full);
            let fixes = fixes(&workspace);
            // Where none says that it keeps it, the only one does.
            let kept = fixes.iter().find(|fix| fix.title.contains("keeps the symmetry")).unwrap_or(&fixes[0]);
            let mended = Workspace::new(vec![Book::read("a.gset", &lint::mended(&workspace, &[kept])[0])]);
            let left: Vec<&str> = lint::check(&mended).iter().map(|report| report.finding.name).collect();
            assert!(left.is_empty() || left == ["not-minimal"], "{word}: {left:?}");
        }
    }
}
