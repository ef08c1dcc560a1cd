//! The ways to search the classic layout of size 9 against each other.

use std::collections::BTreeSet;

use gridsetter::board::{Cell, Digit, Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Way};

use crate::random::{self, Random};
use crate::search::{solves, with};

const NO_END: Budget = Budget { nodes: u64::MAX };

fn nine() -> Layout {
    Layout::classic(Size::new(9).unwrap()).unwrap()
}

/// Up to so many solutions in the order in which they were found, the nodes that it took, and whether these ran out.
fn found(way: Way, givens: &Grid, limit: usize, budget: Budget) -> (Vec<Grid>, u64, bool) {
    let mut solutions = solve::solutions_by(way, &nine(), givens, budget);
    let grids = solutions.by_ref().take(limit).collect();
    (grids, solutions.nodes(), solutions.out_of_budget())
}

/// Holds every way against the portable one, and that one against the general one; gives how many solutions there are,
/// up to the limit.
fn agree(givens: &Grid, limit: usize) -> usize {
    let portable = found(Way::Portable, givens, limit, NO_END);
    for way in Way::all(&nine()).filter(|way| *way != Way::General) {
        assert_eq!(found(way, givens, limit, NO_END), portable, "{givens} {way:?}");
        for budget in [0, 1, 2, 10].map(|nodes| Budget { nodes }) {
            let short = found(Way::Portable, givens, limit, budget);
            assert_eq!(found(way, givens, limit, budget), short, "{givens} {way:?} {budget:?}");
            assert!(short.1 <= budget.nodes && portable.0.starts_with(&short.0), "{givens} {budget:?}");
            assert_eq!(short.2, short.1 < portable.1, "{givens} {budget:?}");
        }
    }
    let (grids, nodes, out_of_budget) = portable;
    let different: BTreeSet<String> = grids.iter().map(Grid::to_string).collect();
    assert_eq!((different.len(), out_of_budget), (grids.len(), false), "{givens}");
    assert!(grids.iter().all(|grid| solves(&nine(), givens, grid)), "{givens}");
    let general = found(Way::General, givens, limit, NO_END).0;
    assert_eq!(grids.len(), general.len(), "{givens}");
    if grids.len() < limit {
        assert_eq!(different, general.iter().map(Grid::to_string).collect(), "{givens}");
    }
    // A node makes two branches of one.
    assert!(grids.len() as u64 <= nodes + 1, "{givens}");
    grids.len()
}

#[test]
fn every_way_finds_the_same() {
    println!("{:?}", Way::all(&nine()).collect::<Vec<_>>());
    let mut random = Random::new(99);
    let size = Size::new(9).unwrap();
    let mut tally = [0; 3];
    for _ in 0..60 {
        let (puzzle, solution) = random::minimal(&mut random, &nine());
        let mut givens: Vec<(Cell, Digit)> = puzzle.digits().collect();
        random.shuffle(&mut givens);
        let (cell, digit) = givens[0];
        // As it is; with a digit changed; less more and more of its digits, and then with one put anywhere.
        let changed = with(&puzzle, cell, Digit::new(digit.value() % 9 + 1));
        let mut positions = vec![puzzle.clone(), changed, random::position(&mut random, &solution)];
        let mut fewer = puzzle;
        for &(cell, _) in &givens[..6] {
            fewer = with(&fewer, cell, None);
            positions.push(fewer.clone());
        }
        let empty: Vec<Cell> = fewer.empty_cells().collect();
        let any = Digit::new(u8::try_from(random.below(9)).unwrap() + 1);
        positions.push(with(&fewer, empty[random.below(empty.len())], any));
        // A few digits anywhere, which often clash.
        let mut few = Grid::empty(size);
        for _ in 0..random.below(20) {
            let at = |random: &mut Random| u8::try_from(random.below(9)).unwrap();
            few.set(Cell::new(at(&mut random), at(&mut random)), Digit::new(at(&mut random) + 1));
        }
        positions.push(few);
        for givens in positions {
            tally[agree(&givens, 300).min(2)] += 1;
        }
    }
    println!("positions with no, one, several solutions: {tally:?}");
    assert!(tally.iter().all(|&count| count >= 50), "{tally:?}");
}

#[test]
fn every_way_goes_on_from_wide_open_positions() {
    let size = Size::new(9).unwrap();
    assert_eq!(agree(&Grid::empty(size), 2000), 2000);
    let mut diagonal = Grid::empty(size);
    for (at, digit) in (0..).zip(size.digits().iter()) {
        diagonal.set(Cell::new(at, at), Some(digit));
    }
    assert_eq!(agree(&diagonal, 2000), 2000);
}

#[test]
fn every_way_counts_what_is_published() {
    // G. McGuire, B. Tugemann, G. Civario, "There is no 16-Clue Sudoku", arXiv:1201.0749, 2012: the example with its
    // 43 one cell further left; the citation from memory.
    let moved = "...8.1.........43.5............7.8........1...2..3....6......75..34........2..6..";
    for way in Way::all(&nine()) {
        let grid = Grid::from_line(moved).unwrap();
        assert_eq!(solve::solutions_by(way, &nine(), &grid, NO_END).count(), 9_734, "{way:?}");
    }
}
