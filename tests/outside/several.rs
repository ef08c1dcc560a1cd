//! Puzzles with several solutions against plain enumeration: where two of them differ, and what would settle them.

use std::collections::BTreeMap;

use gridsetter::board::{Cell, CellSet, Digit, Grid, Layout, Size};
use gridsetter::solve::{self, Budget};

use crate::random::{self, Random};
use crate::search::with;

/// Every solution, found cell by cell with no thought; `None` if there are more than `most`.
fn every_solution(layout: &Layout, grid: &Grid, most: usize) -> Option<Vec<Grid>> {
    fn go(layout: &Layout, grid: &mut Grid, most: usize, found: &mut Vec<Grid>) {
        if found.len() > most {
            return;
        }
        let Some(cell) = grid.empty_cells().next() else {
            found.push(grid.clone());
            return;
        };
        for digit in layout.size().digits().iter() {
            if layout.peers(cell).iter().all(|peer| grid[peer] != Some(digit)) {
                grid.set(cell, Some(digit));
                go(layout, grid, most, found);
                grid.set(cell, None);
            }
        }
    }
    let mut found = Vec::new();
    if grid.clashes(layout).is_empty() {
        go(layout, &mut grid.clone(), most, &mut found);
    }
    (found.len() <= most).then_some(found)
}

/// The digits that stand in one solution only.
fn settling(all: &[Grid]) -> Vec<(Cell, Digit)> {
    let mut holding: BTreeMap<(Cell, Digit), usize> = BTreeMap::new();
    for place in all.iter().flat_map(Grid::digits) {
        *holding.entry(place).or_default() += 1;
    }
    holding.into_iter().filter(|(_, count)| *count == 1).map(|(place, _)| place).collect()
}

fn check(layout: &Layout, givens: &Grid, all: &[Grid], budget: Budget) -> bool {
    let place = format!("{givens} ({}) within {budget:?}", random::describe(layout));
    let decided = budget == Budget::default();
    let settles = settling(all);
    match solve::settling_given(layout, givens, budget) {
        Some(found) => assert!(settles.contains(&found) && all.len() > 1, "{place}: {found:?}"),
        None => assert!(!decided || all.len() < 2 || settles.is_empty(), "{place}: {settles:?}"),
    }
    let Some(difference) = solve::difference(layout, givens, budget) else {
        assert!(!decided || all.len() < 2, "{place}: no difference");
        return false;
    };
    assert!(all.contains(&difference.first) && all.contains(&difference.second), "{place}");
    let cells = difference.first.differing(&difference.second);
    assert!(!cells.is_empty() && difference.cells.iter().map(|at| at.cell).eq(cells.iter()), "{place}");
    let agreeing: Vec<&Grid> =
        all.iter().filter(|grid| (grid.differing(&difference.first) - cells).is_empty()).collect();
    let smaller = |one: &&Grid, other: &&Grid| {
        let inside: CellSet = one.differing(other);
        !inside.is_empty() && inside != cells
    };
    let least = !agreeing.iter().any(|one| agreeing.iter().any(|other| smaller(one, other)));
    assert!(least || !difference.minimal, "{place}: {} and {}", difference.first, difference.second);
    assert!(difference.minimal || !decided, "{place}: not shrunk to the end");
    !difference.minimal
}

#[test]
fn two_solutions_differ_in_the_least_and_one_digit_settles_them() {
    let mut random = Random::new(288);
    let mut tally = BTreeMap::new();
    let mut cut_short = 0;
    for (side, layouts) in [(4, 150), (6, 150)] {
        let size = Size::new(side).unwrap();
        for _ in 0..layouts {
            let layout = random::layout(&mut random, size);
            let Some(full) = random::full_grid(&mut random, &layout) else { continue };
            for _ in 0..12 {
                let mut givens = random::position(&mut random, &full);
                // Fewer still, where there are mostly very many solutions or few.
                for cell in full.size().all_cells().filter(|_| side == 4) {
                    if random.one_in(3) {
                        givens = with(&givens, cell, None);
                    }
                }
                let Some(all) = every_solution(&layout, &givens, 1_000) else { continue };
                check(&layout, &givens, &all, Budget::default());
                for nodes in [0, 1, 2, 3, 5, 8, 13] {
                    cut_short += usize::from(check(&layout, &givens, &all, Budget { nodes }));
                }
                let sort = match (all.len(), settling(&all).len()) {
                    (0, _) => "none",
                    (1, _) => "one",
                    (_, 0) => "several, which no digit settles",
                    _ => "several, which a digit settles",
                };
                *tally.entry((side, sort)).or_insert(0) += 1;
            }
        }
    }
    println!("{tally:?}, {cut_short} times not shrunk to the end");
    assert!(tally.len() == 8 && tally.values().all(|&count| count >= 20) && cut_short >= 20, "{tally:?}");
}
