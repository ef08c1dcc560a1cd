//! The givens leave a digit no cell in a house.
//!
//! ## Why
//! A house holds every digit; here each empty cell of it already sees that digit elsewhere, so the puzzle has no
//! solution. This is said instead of `no-solution` where it shows at once, for the first such digit and house; the
//! mark stands at the house's first empty cell. Where changing one given would leave exactly one solution, that is
//! proposed.
//!
//! ## Found
//! ```gset
//! puzzle ht-03 "Shut Out"
//! size       4
//! givens
//!   2 1  . .
//! #~     ^ digit-without-place: 4 has no place in row 1: its empty cells see the 4 in r2c4
//!   . .  . 4
//!   . .  . .
//!   . .  . .
//! ```
//!
//! ## Fixed
//! By hand: change or take out one of the givens that the message names, or what fills the house.

use super::place::listed;
use super::{Check, Draft, Finding, Group, PuzzleScene, Severity};
use crate::board::{Cell, Digit, HouseName, Layout};
use crate::book::{Board, Verdict};
use crate::solve::Contradiction;

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "digit-without-place",
    group: Group::Puzzles,
    severity: Severity::Error,
    check: Check::Puzzle(check),
    source: include_str!("digit_without_place.rs"),
};

fn check(scene: &PuzzleScene) -> Vec<Draft> {
    let puzzle = scene.puzzle;
    match (scene.verdict(), &puzzle.layout, &puzzle.givens) {
        (
            Verdict::NoSolution(Some(Contradiction::DigitWithoutPlace(digit, house))),
            Some(layout),
            Some(givens),
        ) => draft(scene, layout, givens, *digit, house).into_iter().collect(),
        _ => Vec::new(),
    }
}

fn draft(
    scene: &PuzzleScene,
    layout: &Layout,
    givens: &Board,
    digit: Digit,
    house: &HouseName,
) -> Option<Draft> {
    let cells = &layout.house(house)?.cells;
    let empty: Vec<Cell> = cells.iter().copied().filter(|&cell| givens.grid[cell].is_none()).collect();
    let holds = |cell: &Cell| givens.grid[*cell] == Some(digit);
    let mut bars: Vec<Cell> =
        empty.iter().filter_map(|&cell| layout.peers(cell).iter().find(holds)).collect();
    bars.sort_unstable();
    bars.dedup();

    let places = if empty.len() == 1 { "its empty cell sees" } else { "its empty cells see" };
    let message = format!("{digit} has no place in {house}: {places} the {digit} in {}", listed(&bars));
    let help = format!("change or take out one of these, or what fills {house}");
    let mut draft = Draft::new(scene.cell(givens, *empty.first()?), message, help);
    for &bar in &bars {
        draft = draft.beside(scene.cell(givens, bar), format!("{bar} holds {digit}"));
    }
    let filled = cells.iter().copied().filter(|cell| !empty.contains(cell));
    let among: Vec<Cell> = bars.iter().copied().chain(filled).collect();
    Some(scene.with_slips(draft, layout, givens, &among))
}
