//! Numbers of grids and solutions that others have published or computed. Where a source is named "from memory", its
//! words were not at hand when this was written.

use gridsetter::board::{BoxShape, Cell, Digit, Grid, Layout, Size};
use gridsetter::solve::{self, Budget, Spare};

const NO_END: Budget = Budget { nodes: u64::MAX };

fn boxes(rows: u8, columns: u8) -> Layout {
    Layout::with_boxes(Size::new(rows * columns).unwrap(), BoxShape { rows, columns }).unwrap()
}

fn count(layout: &Layout, givens: &Grid) -> u64 {
    let outcome = solve::count(layout, givens, u64::MAX, NO_END);
    assert_eq!(outcome.stopped, None);
    outcome.count
}

fn count_all(layout: &Layout) -> u64 {
    count(layout, &Grid::empty(layout.size()))
}

/// How many grids have 1, 2, 3 and so on in the first row; any other first row is the same with other names.
fn count_with_first_row(layout: &Layout) -> u64 {
    let mut givens = Grid::empty(layout.size());
    for (cell, digit) in layout.size().all_cells().zip(layout.size().digits().iter()) {
        givens.set(cell, Some(digit));
    }
    count(layout, &givens)
}

fn only_solution(puzzle: &str) -> String {
    let grid = Grid::from_line(puzzle).unwrap();
    let outcome = solve::count(&boxes(3, 3), &grid, 2, Budget::default());
    assert_eq!((outcome.count, outcome.stopped), (1, None));
    outcome.first.unwrap().to_string()
}

#[test]
fn grids_of_size_4() {
    // OEIS A107739.
    assert_eq!(count_all(&boxes(2, 2)), 288);
    // Computed for this project by plain backtracking.
    assert_eq!(count_all(&boxes(2, 2).and_diagonals()), 48);
}

#[test]
fn grids_of_size_6() {
    // 28,200,960 grids, from memory; computed for this project by plain backtracking and by another program that had
    // the first row fixed.
    assert_eq!(count_with_first_row(&boxes(2, 3)) * 720, 28_200_960);
    assert_eq!(count_with_first_row(&boxes(3, 2)) * 720, 28_200_960);
    // Computed once for this project.
    assert_eq!(count_all(&boxes(2, 3).and_diagonals()), 8_640);
    assert_eq!(count_all(&boxes(3, 2).and_diagonals()), 8_640);
}

#[test]
#[ignore = "takes a minute or more; the same with the first row fixed runs always"]
fn every_grid_of_size_6() {
    // From memory, see above.
    assert_eq!(count_all(&boxes(2, 3)), 28_200_960);
}

#[test]
fn latin_squares() {
    // From memory: 576 of order 4, 161,280 of order 5. A box that is a row asks for nothing more.
    assert_eq!(count_all(&boxes(1, 4)), 576);
    assert_eq!(count_with_first_row(&boxes(1, 5)) * 120, 161_280);
}

#[test]
fn one_digit_moved_by_one_cell() {
    // G. McGuire, B. Tugemann, G. Civario, "There is no 16-Clue Sudoku", arXiv:1201.0749, 2012; the citation from
    // memory. The puzzle has one solution; with its 43 one cell further left it has exactly 9734.
    let puzzle = "...8.1..........435............7.8........1...2..3....6......75..34........2..6..";
    let solution = "237841569186795243594326718315674892469582137728139456642918375853467921971253684";
    assert_eq!(only_solution(puzzle), solution);
    let moved = "...8.1.........43.5............7.8........1...2..3....6......75..34........2..6..";
    assert_eq!(count(&boxes(3, 3), &Grid::from_line(moved).unwrap()), 9_734);
}

#[test]
fn published_puzzles_have_their_solutions() {
    // A. M. Herzberg, M. R. Murty, "Sudoku Squares and Chromatic Polynomials", Notices of the AMS 54(6), 2007; the
    // citation from memory. 17 clues.
    assert_eq!(
        only_solution(".......1.4.........2...........5.4.7..8...3....1.9....3..4..2...5.1........8.6..."),
        "693784512487512936125963874932651487568247391741398625319475268856129743274836159"
    );
    // T. Weber, "A SAT-based Sudoku Solver", LPAR-12 short papers, 2005; the citation from memory.
    assert_eq!(
        only_solution(".2..........6....3.74.8.........3..2.8..4..1.6..5.........1.78.5....9..........4."),
        "126437958895621473374985126457193862983246517612578394269314785548769231731852649"
    );
}

#[test]
fn no_given_of_a_17_clue_puzzle_can_be_spared() {
    // G. McGuire and others, as above: 16 clues never suffice.
    for puzzle in [
        ".......1.4.........2...........5.4.7..8...3....1.9....3..4..2...5.1........8.6...",
        "...8.1..........435............7.8........1...2..3....6......75..34........2..6..",
    ] {
        let spare = solve::spare_givens(&boxes(3, 3), &Grid::from_line(puzzle).unwrap(), Budget::default());
        assert_eq!(spare, Spare { cells: Vec::new(), undecided: false });
    }
}

#[test]
fn the_least_full_grid_of_size_9() {
    // The first in the order of reading, computed for this project by two programs.
    let least = "123456789456789123789123456214365897365897214897214365531642978642978531978531642";
    let layout = boxes(3, 3);
    let mut grid = Grid::empty(layout.size());
    for cell in layout.size().all_cells() {
        let possible = |digit: &Digit| {
            let mut more = grid.clone();
            more.set(cell, Some(*digit));
            solve::count(&layout, &more, 1, Budget::default()).count == 1
        };
        let digit = layout.size().digits().iter().find(possible);
        grid.set(cell, digit);
    }
    assert_eq!(grid.to_string(), least);
}

#[test]
fn three_clues_never_settle_a_grid_of_size_4() {
    // From memory: 4 clues can, 3 cannot. Every grid is one of those with 1234 on top, with other names.
    let layout = boxes(2, 2);
    let top = Grid::from_line("1234............").unwrap();
    let cells: Vec<Cell> = layout.size().all_cells().collect();
    let grids: Vec<Grid> = solve::solutions(&layout, &top, NO_END).collect();
    assert_eq!(grids.len(), 288 / 24);
    let mut fewest = usize::MAX;
    for grid in &grids {
        for chosen in (0..1_u32 << 16).filter(|chosen| (3..=4).contains(&chosen.count_ones())) {
            let mut givens = Grid::empty(layout.size());
            for &cell in
                cells.iter().enumerate().filter(|(at, _)| chosen & 1 << at != 0).map(|(_, cell)| cell)
            {
                givens.set(cell, grid[cell]);
            }
            if solve::count(&layout, &givens, 2, NO_END).count == 1 {
                fewest = fewest.min(givens.filled());
            }
        }
    }
    assert_eq!(fewest, 4);
}
