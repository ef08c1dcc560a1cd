//! Random layouts and positions, the same in every run.

use gridsetter::board::{BoxShape, Candidates, Cell, Grid, HouseName, Layout, Size};
use gridsetter::solve::{self, Budget, Way};

/// A linear congruential generator with its better half shown; the multiplier is the one of D. E. Knuth, "MMIX".
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Random {
        Random(seed)
    }

    /// A number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % bound
    }

    pub fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}

/// A layout of this size: boxes of some shape or random regions, perhaps diagonals, perhaps an extra house.
pub fn layout(random: &mut Random, size: Size) -> Layout {
    let shapes: Vec<BoxShape> = (2..size.side())
        .map(|rows| BoxShape { rows, columns: size.side() / rows })
        .filter(|shape| shape.fits(size))
        .collect();
    let mut layout = if shapes.is_empty() || random.one_in(3) {
        Layout::with_regions(size, &regions(random, size)).unwrap()
    } else {
        Layout::with_boxes(size, shapes[random.below(shapes.len())]).unwrap()
    };
    if random.one_in(3) {
        layout = layout.and_diagonals();
    }
    if random.one_in(4) {
        let mut cells: Vec<Cell> = size.all_cells().collect();
        random.shuffle(&mut cells);
        cells.truncate(size.usize());
        layout = layout.and_house("extra", cells).unwrap();
    }
    layout
}

/// Equal connected regions: rows at first, then many times two of them trade a cell, where both stay whole.
fn regions(random: &mut Random, size: Size) -> Vec<char> {
    let mut letters: Vec<char> = size.all_cells().map(|cell| char::from(b'A' + cell.row())).collect();
    for _ in 0..size.cells() * 40 {
        let (one, other) = (random.below(letters.len()), random.below(letters.len()));
        letters.swap(one, other);
        if Layout::with_regions(size, &letters).is_err() {
            letters.swap(one, other);
        }
    }
    letters
}

/// A full grid of the layout, or `None` if a few random digits led nowhere.
pub fn full_grid(random: &mut Random, layout: &Layout) -> Option<Grid> {
    let size = layout.size();
    let mut cells: Vec<Cell> = size.all_cells().collect();
    random.shuffle(&mut cells);
    let mut grid = Grid::empty(size);
    for &cell in &cells[..size.usize()] {
        let candidates: Vec<_> = Candidates::of(layout, &grid).at(cell).iter().collect();
        if !candidates.is_empty() {
            grid.set(cell, Some(candidates[random.below(candidates.len())]));
        }
    }
    // Found in the general way: another may come upon another grid first, and every random puzzle would be a new one.
    solve::solutions_by(Way::General, layout, &grid, Budget { nodes: 2_000 }).next()
}

/// The grid less some of its digits, and now and then with one changed.
pub fn position(random: &mut Random, full: &Grid) -> Grid {
    let mut cells: Vec<Cell> = full.size().all_cells().collect();
    random.shuffle(&mut cells);
    // Between nearly full and a quarter: there one solution turns into many.
    let removed = cells.len() * (20 + random.below(55)) / 100;
    let mut grid = full.clone();
    for &cell in &cells[..removed] {
        grid.set(cell, None);
    }
    if random.one_in(4) {
        let digits: Vec<_> = full.size().digits().iter().collect();
        grid.set(cells[removed], Some(digits[random.below(digits.len())]));
    }
    grid
}

/// What a layout has besides rows and columns, for messages.
pub fn describe(layout: &Layout) -> String {
    let blocks = match (layout.boxes(), layout.regions()) {
        (Some(shape), _) => format!("boxes {shape}"),
        (None, regions) => format!("regions {}", regions.unwrap()),
    };
    let extra = layout.house(&HouseName::Named("extra".into())).map(|house| {
        let cells: Vec<String> = house.cells.iter().map(Cell::to_string).collect();
        format!(", extra house {}", cells.join(" "))
    });
    let diagonals = if layout.diagonals() { ", diagonals" } else { "" };
    format!("size {}, {blocks}{diagonals}{}", layout.size(), extra.unwrap_or_default())
}

/// A puzzle of the layout in which every given is needed, with its solution.
pub fn minimal(random: &mut Random, layout: &Layout) -> (Grid, Grid) {
    let solution = loop {
        if let Some(grid) = full_grid(random, layout) {
            break grid;
        }
    };
    (puzzle_of(random, layout, &solution, Budget::default()), solution)
}

/// A puzzle with this one solution: givens go in random order as long as the search shows within its budget that there
/// is no other. With a small budget a few may stay that could go.
pub fn puzzle_of(random: &mut Random, layout: &Layout, solution: &Grid, budget: Budget) -> Grid {
    let mut cells: Vec<Cell> = layout.size().all_cells().collect();
    random.shuffle(&mut cells);
    let mut puzzle = solution.clone();
    for cell in cells {
        let given = puzzle.get(cell);
        puzzle.set(cell, None);
        let outcome = solve::count(layout, &puzzle, 2, budget);
        if outcome.count != 1 || outcome.stopped.is_some() {
            puzzle.set(cell, given);
        }
    }
    puzzle
}
