//! Which puzzles are the same: held to the definition by listing every move, and to numbers of classes and symmetries.
//! Where a source is named "from memory", its words were not at hand when this was written.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use gridsetter::board::{BoxShape, Cell, CellSet, Digit, DigitSet, Grid, HouseName, Layout, Size};
use gridsetter::sameness::{self, Budget, Canonical, Form, Transformation};
use gridsetter::solve;

use crate::known::cases;
use crate::random::{self, Random};

fn size(side: u8) -> Size {
    Size::new(side).unwrap()
}

fn boxes(rows: u8, columns: u8) -> Layout {
    Layout::with_boxes(size(rows * columns), BoxShape { rows, columns }).unwrap()
}

fn canonical(layout: &Layout, grid: &Grid) -> Canonical {
    sameness::canonical(layout, grid, Budget::default()).unwrap()
}

fn form(layout: &Layout, grid: &Grid) -> Form {
    canonical(layout, grid).form
}

fn symmetries(layout: &Layout, grid: &Grid) -> u128 {
    sameness::symmetries(layout, grid, Budget::default()).unwrap()
}

/// A grid with digits in about one of so many cells; they may clash.
fn some_digits(random: &mut Random, size: Size, one_in: usize) -> Grid {
    let mut grid = Grid::empty(size);
    for cell in size.all_cells() {
        if random.one_in(one_in) {
            grid.set(cell, Digit::new(u8::try_from(1 + random.below(size.usize())).unwrap()));
        }
    }
    grid
}

/// The grid with one given in another cell, or with another digit there.
fn nearly(random: &mut Random, grid: &Grid) -> Grid {
    let mut near = grid.clone();
    let givens: Vec<_> = grid.digits().collect();
    let (cell, digit) = givens[random.below(givens.len())];
    let cells: Vec<Cell> = grid.size().all_cells().collect();
    let to = cells[random.below(cells.len())];
    near.set(cell, None);
    if grid[to].is_none() {
        near.set(to, Some(digit));
    } else {
        near.set(cell, Digit::new(digit.value() % grid.size().side() + 1));
    }
    near
}

/// A random transformation, with the layout that it makes of this one: lines of bands and stacks in another order where
/// boxes allow it, else a turn or reflection.
fn dress(random: &mut Random, layout: &Layout) -> (Transformation, Layout) {
    let size = layout.size();
    let side = size.side();
    let transposed = random.one_in(2);
    let mut lines = |blocks: u8, length: u8| -> Vec<u8> {
        let mut order: Vec<u8> = (0..blocks).collect();
        random.shuffle(&mut order);
        let block = |block: u8| {
            let mut block: Vec<u8> = (block * length..(block + 1) * length).collect();
            random.shuffle(&mut block);
            block
        };
        order.into_iter().flat_map(block).collect()
    };
    let digits = lines(side, 1);
    let (rows, columns) = if let Some(shape) = layout.boxes().filter(|_| !layout.diagonals()) {
        let (rows, columns) =
            (lines(side / shape.rows, shape.rows), lines(side / shape.columns, shape.columns));
        if transposed { (columns, rows) } else { (rows, columns) }
    } else {
        let mut line = || if random.one_in(2) { (0..side).collect() } else { (0..side).rev().collect() };
        (line(), line())
    };
    let how = Transformation::new(size, transposed, &rows, &columns, &digits).unwrap();
    let mut moved = match (layout.boxes(), layout.regions()) {
        (Some(BoxShape { rows, columns }), _) if transposed => boxes(columns, rows),
        (Some(shape), _) => Layout::with_boxes(size, shape).unwrap(),
        (None, regions) => {
            let letters: Vec<char> = regions.unwrap().chars().collect();
            let at = |cell: Cell| letters[usize::from(cell.row()) * size.usize() + usize::from(cell.col())];
            let letters: Vec<char> = size.all_cells().map(|cell| at(how.source(cell))).collect();
            Layout::with_regions(size, &letters).unwrap()
        }
    };
    if layout.diagonals() {
        moved = moved.and_diagonals();
    }
    if let Some(house) = layout.house(&HouseName::Named("extra".into())) {
        let cells = size.all_cells().filter(|&cell| house.set().contains(how.source(cell))).collect();
        moved = moved.and_house("other", cells).unwrap();
    }
    (how, moved)
}

/// The houses as sets of cells, in the order of the cells.
fn houses(layout: &Layout) -> BTreeSet<Vec<Cell>> {
    layout.houses().iter().map(|house| house.cells.clone()).collect()
}

/// What becomes of the houses.
fn houses_after(how: &Transformation, layout: &Layout) -> BTreeSet<Vec<Cell>> {
    let moved =
        |set: &CellSet| how.size().all_cells().filter(|&cell| set.contains(how.source(cell))).collect();
    layout.houses().iter().map(|house| moved(house.set())).collect()
}

/// Two dresses of one puzzle have one form, and what is said to carry one to the other does.
fn holds_in_another_dress(random: &mut Random, layout: &Layout, grid: &Grid) {
    let place = || format!("{grid} ({})", random::describe(layout));
    let (how, other_layout) = dress(random, layout);
    let other = how.apply(grid);
    let (one, two) = (canonical(layout, grid), canonical(&other_layout, &other));
    let found = one.to(&two).unwrap_or_else(|| panic!("{}: another form as {other}", place()));
    assert_eq!(found.apply(grid), other, "{}", place());
    assert_eq!(houses_after(&found, layout), houses(&other_layout), "{}", place());
    assert_eq!(two.to(&one).unwrap().apply(&other), *grid, "{}", place());
}

#[test]
fn a_form_is_the_same_in_every_dress() {
    let mut random = Random::new(40_551);
    for side in (4..=16).chain([25]) {
        let usual = Layout::classic(size(side));
        let layouts = match side {
            ..10 => 10,
            10..25 => 3,
            _ => 1,
        };
        for number in 0..layouts {
            let layout = usual.clone().filter(|_| number % 2 == 0);
            let layout = layout.unwrap_or_else(|| random::layout(&mut random, size(side)));
            for one_in in [1, 2, 4, usize::from(side)] {
                let grid = some_digits(&mut random, size(side), one_in);
                holds_in_another_dress(&mut random, &layout, &grid);
            }
        }
    }
}

#[test]
fn puzzles_and_solutions_are_known_in_another_dress() {
    let mut random = Random::new(77_003);
    for case in cases() {
        holds_in_another_dress(&mut random, &case.layout, &case.givens);
        if let Some(solution) = &case.solution {
            holds_in_another_dress(&mut random, &case.layout, solution);
        }
    }
}

/// Every order of the numbers below `count`.
fn orders(count: u8) -> Vec<Vec<u8>> {
    let Some(last) = count.checked_sub(1) else { return vec![Vec::new()] };
    let with_last = |order: Vec<u8>| {
        (0..=order.len()).map(move |at| [&order[..at], &[last], &order[at..]].concat()).collect::<Vec<_>>()
    };
    orders(last).into_iter().flat_map(with_last).collect()
}

/// Every transformation that carries the houses of a layout to those of another, but for the names of the digits.
fn moves(from: &Layout, to: &Layout) -> Vec<Transformation> {
    let size = from.size();
    let index = |cell: Cell| usize::from(cell.row()) * size.usize() + usize::from(cell.col());
    let bits =
        |cells: &mut dyn Iterator<Item = Cell>| cells.fold(0_u32, |bits, cell| bits | 1 << index(cell));
    let wanted: HashSet<u32> =
        to.houses().iter().map(|house| bits(&mut house.cells.iter().copied())).collect();
    let plain: Vec<u8> = (0..size.side()).collect();
    let mut moves = Vec::new();
    for rows in orders(size.side()) {
        for columns in orders(size.side()) {
            for transposed in [false, true] {
                let how = Transformation::new(size, transposed, &rows, &columns, &plain).unwrap();
                let back = how.inverse();
                let mut houses = from.houses().iter();
                if houses.all(|house| {
                    wanted.contains(&bits(&mut house.cells.iter().map(|&cell| back.source(cell))))
                }) {
                    moves.push(how);
                }
            }
        }
    }
    moves
}

/// The grid with its digits named in the order in which they appear.
fn plainly_named(grid: &Grid) -> Vec<usize> {
    let mut names: Vec<Digit> = Vec::new();
    let mut name = |digit: Digit| {
        names.iter().position(|&known| known == digit).unwrap_or_else(|| {
            names.push(digit);
            names.len() - 1
        })
    };
    grid.size().all_cells().map(|cell| grid[cell].map_or(usize::MAX, &mut name)).collect()
}

#[test]
fn the_same_is_what_some_move_carries_over() {
    let mut random = Random::new(3_141);
    let (mut same, mut near) = (0, 0);
    for (side, layouts) in [(4, 30), (5, 5)] {
        for _ in 0..layouts {
            let layout = random::layout(&mut random, size(side));
            let (how, other_layout) = dress(&mut random, &layout);
            let over = moves(&layout, &other_layout);
            let itself = moves(&layout, &layout);
            let place = random::describe(&layout);
            assert_eq!(symmetries(&layout, &Grid::empty(size(side))), itself.len() as u128, "{place}");
            for one_in in [1, 2, 3, 5] {
                let grid = some_digits(&mut random, size(side), one_in);
                if grid.filled() == 0 {
                    continue;
                }
                let other = if random.one_in(3) { grid.clone() } else { nearly(&mut random, &grid) };
                let other = how.apply(&other);
                let named = plainly_named(&other);
                let carried = over.iter().any(|how| plainly_named(&how.apply(&grid)) == named);
                let forms = form(&layout, &grid) == form(&other_layout, &other);
                assert_eq!(forms, carried, "{grid} and {other} ({place})");
                *if carried { &mut same } else { &mut near } += 1;
                let named = plainly_named(&grid);
                let kept = itself.iter().filter(|how| plainly_named(&how.apply(&grid)) == named);
                assert_eq!(symmetries(&layout, &grid), kept.count() as u128, "{grid} ({place})");
            }
        }
    }
    assert!(same > 25 && near > 50, "{same} pairs are the same and {near} are not: too few to mean anything");
}

#[test]
fn every_usual_layout_has_its_number_of_symmetries() {
    // For boxes of R rows and C columns C! (R!)^C R! (C!)^R orders of the lines keep them, and twice as many where they
    // are square. Each number was also computed for this project from the graph of the cells by another program.
    let factorial = |n: u8| -> u128 { (1..=u128::from(n)).product() };
    for (shape, known) in [
        ((2, 2), 128),
        ((2, 3), 3_456),
        ((2, 4), 442_368),
        ((3, 3), 3_359_232),
        ((2, 5), 110_592_000),
        ((3, 4), 2_579_890_176),
        ((3, 5), 9_674_588_160_000),
        ((4, 4), 126_806_761_930_752),
        ((5, 5), 17_832_200_896_512_000_000_000_000),
    ] {
        let (r, c) = shape;
        let found = symmetries(&boxes(r, c), &Grid::empty(size(r * c)));
        let rows = factorial(c) * factorial(r).pow(u32::from(c));
        let columns = factorial(r) * factorial(c).pow(u32::from(r));
        assert_eq!((found, found), (known, rows * columns * if r == c { 2 } else { 1 }), "{r}x{c}");
    }
}

#[test]
fn diagonals_keep_more_than_the_square_does() {
    // Rows and columns are ordered alike, but for a reflection, and so that each line and its mirror image stay together.
    // At size 9 the outer bands may trade places, in one of them all 3! orders are possible, and in the middle one 2;
    // twice as many with a reflection, and again with rows for columns.
    assert_eq!(symmetries(&boxes(3, 3).and_diagonals(), &Grid::empty(size(9))), 2 * 6 * 2 * 2 * 2);
    assert_eq!(symmetries(&boxes(2, 2).and_diagonals(), &Grid::empty(size(4))), 2 * 2 * 2 * 2);
}

#[test]
fn tables_of_groups_have_their_number_of_symmetries() {
    // The Latin square of a group of n elements has n^2 |Aut| autotopisms, see B. D. McKay, A. Meynert, W. Myrvold, "Small
    // Latin squares, quasigroups, and loops", Journal of Combinatorial Designs 15, 2007 (from memory). As these groups
    // are commutative, rows may also become columns.
    let symmetries_of = |side: u8, product: &dyn Fn(u8, u8) -> u8| {
        let layout = boxes(1, side);
        let mut grid = Grid::empty(layout.size());
        for cell in layout.size().all_cells() {
            grid.set(cell, Digit::new(product(cell.row(), cell.col()) + 1));
        }
        symmetries(&layout, &grid)
    };
    for side in 4..=25_u8 {
        let coprime = (1..side).filter(|&a| (2..=a).all(|d| a % d > 0 || side % d > 0)).count() as u128;
        let found = symmetries_of(side, &|a, b| (a + b) % side);
        assert_eq!(found, 2 * u128::from(side).pow(2) * coprime, "cyclic, {side}");
    }
    let with_two = |power: u32| (0..power).map(|at| 2_u128.pow(power) - 2_u128.pow(at)).product::<u128>();
    for power in 2..=4 {
        assert_eq!(
            symmetries_of(1 << power, &|a, b| a ^ b),
            2 * 4_u128.pow(power) * with_two(power),
            "2^{power}"
        );
    }
}

/// How many grids look like this one in some dress, of a full grid or of givens: names of digits that are not given make
/// no difference.
fn dresses(layout: &Layout, moves: u128, grid: &Grid) -> u128 {
    let side = layout.size().usize() as u128;
    let used = grid.digits().map(|(_, digit)| digit).collect::<DigitSet>().len() as u128;
    let names: u128 = (side - used + 1..=side).product();
    moves * names / symmetries(layout, grid)
}

fn classes<'a>(
    layout: &Layout,
    grids: impl IntoIterator<Item = &'a Grid>,
) -> HashMap<Form, (&'a Grid, u128)> {
    let mut classes = HashMap::new();
    for grid in grids {
        classes.entry(form(layout, grid)).or_insert((grid, 0)).1 += 1;
    }
    classes
}

#[test]
fn the_grids_of_size_4_are_of_two_kinds() {
    let layout = boxes(2, 2);
    let all: Vec<Grid> = solve::solutions(&layout, &Grid::empty(size(4)), solve::Budget::default()).collect();
    let classes = classes(&layout, &all);
    let mut counts: Vec<u128> = classes.values().map(|(_, count)| *count).collect();
    counts.sort_unstable();
    // 288 grids, OEIS A107739; two classes, from memory and computed for this project by another program.
    assert_eq!(counts, [96, 192]);
    for (grid, count) in classes.values() {
        assert_eq!(dresses(&layout, 128, grid), *count, "{grid}");
    }
}

#[test]
#[ignore = "takes seconds: 39,168 grids"]
fn the_grids_of_size_6_are_of_49_kinds() {
    let layout = boxes(2, 3);
    let mut top = Grid::empty(size(6));
    for (cell, digit) in size(6).all_cells().zip(size(6).digits().iter()) {
        top.set(cell, Some(digit));
    }
    let all: Vec<Grid> = solve::solutions(&layout, &top, solve::Budget { nodes: u64::MAX }).collect();
    let classes = classes(&layout, &all);
    // From memory, and computed for this project by another program.
    assert_eq!((all.len(), classes.len()), (39_168, 49));
    let dresses = classes.values().map(|(grid, _)| dresses(&layout, 3_456, grid));
    assert_eq!(dresses.sum::<u128>(), 28_200_960);
}

#[test]
fn the_minimal_puzzles_of_size_4_are_of_36_kinds() {
    let layout = boxes(2, 2);
    let all: Vec<Grid> = solve::solutions(&layout, &Grid::empty(size(4)), solve::Budget::default()).collect();
    let cells: Vec<Cell> = size(4).all_cells().collect();
    let (mut count, mut puzzles) = (0, Vec::new());
    for (grid, grids) in classes(&layout, &all).into_values() {
        // Which sets of cells leave another grid possible: each part of what it has in common with this one.
        let common = |other: &Grid| {
            (0..16).filter(|&at| grid[cells[at]] == other[cells[at]]).map(|at| 1_usize << at).sum()
        };
        let mut open = vec![false; 1 << 16];
        for other in all.iter().filter(|other| *other != grid) {
            let common: usize = common(other);
            open[common] = true;
        }
        for at in 0..16 {
            for set in (0..1 << 16).filter(|set| set & 1 << at == 0) {
                open[set] |= open[set | 1 << at];
            }
        }
        let minimal = |&set: &usize| {
            !open[set] && (0..16).filter(|at| set & 1 << at != 0).all(|at| open[set & !(1 << at)])
        };
        for set in (0..1 << 16).filter(minimal) {
            let mut puzzle = Grid::empty(size(4));
            for at in (0..16).filter(|at| set & 1 << at != 0) {
                puzzle.set(cells[at], grid[cells[at]]);
            }
            count += grids;
            puzzles.push(puzzle);
        }
    }
    let classes = classes(&layout, &puzzles);
    let mut kinds: BTreeMap<usize, usize> = BTreeMap::new();
    for (puzzle, _) in classes.values() {
        *kinds.entry(puzzle.filled()).or_default() += 1;
    }
    // Computed for this project by another program, which listed all sets of cells of all 288 grids.
    assert_eq!(kinds, BTreeMap::from([(4, 13), (5, 22), (6, 1)]));
    // The same by plain listing: of all that moves make of a puzzle, the least.
    let moves = moves(&layout, &layout);
    let least = |puzzle: &Grid| moves.iter().map(|how| plainly_named(&how.apply(puzzle))).min();
    let listed: BTreeSet<_> = puzzles.iter().map(|puzzle| (puzzle.filled(), least(puzzle))).collect();
    let listed = |givens: usize| listed.iter().filter(|(filled, _)| *filled == givens).count();
    assert_eq!([4, 5, 6].map(listed), [13, 22, 1]);
    // Two ways to one number: what stands in the grids, and how many dresses each class has.
    let dresses = classes.values().map(|(puzzle, _)| dresses(&layout, 128, puzzle)).sum::<u128>();
    assert_eq!((count, dresses), (85_632, 85_632));
}

#[test]
fn a_full_grid_with_many_symmetries() {
    // 648 is the largest number that a grid of size 9 has: E. Russell, F. Jarvis, "Mathematics of Sudoku II", Mathematical
    // Spectrum 39(2), 2006 (from memory). Computed for this project by another program.
    let grid = "123456789456789123789123456231564897564897231897231564312645978645978312978312645";
    assert_eq!(symmetries(&boxes(3, 3), &Grid::from_line(grid).unwrap()), 648);
}

#[test]
fn published_puzzles_of_size_9_are_all_different() {
    // Each of G. Royle's 17-clue puzzles is another one up to what is the same here; those of `tests/data/cases.tsv`
    // are some of them, and four from elsewhere.
    let published: Vec<_> = cases().into_iter().filter(|case| case.id.starts_with("pub9")).collect();
    let forms: HashSet<Form> = published.iter().map(|case| form(&case.layout, &case.givens)).collect();
    assert!(published.len() > 4);
    assert_eq!(forms.len(), published.len());
}

#[test]
fn one_digit_moved_makes_another_puzzle() {
    // G. McGuire, B. Tugemann, G. Civario, "There is no 16-Clue Sudoku", arXiv:1201.0749, 2012 (from memory): one solution,
    // and with the 43 one cell further left 9734.
    let puzzle = "...8.1..........435............7.8........1...2..3....6......75..34........2..6..";
    let moved = "...8.1.........43.5............7.8........1...2..3....6......75..34........2..6..";
    let form = |line| form(&boxes(3, 3), &Grid::from_line(line).unwrap());
    assert_ne!(form(puzzle), form(moved));
}

#[test]
fn drawings_that_differ_may_hold_one_puzzle() {
    let mut random = Random::new(8);
    let grid = some_digits(&mut random, size(6), 2);
    let plain: Vec<u8> = (0..6).collect();
    let turned = Transformation::new(size(6), true, &plain, &plain, &plain).unwrap().apply(&grid);
    assert_eq!(form(&boxes(2, 3), &grid), form(&boxes(3, 2), &turned));
    assert_ne!(form(&boxes(2, 3), &grid), form(&boxes(2, 3), &turned));
    // The same boxes, drawn as regions; a house that says again what a row says.
    for (rows, columns) in [(2, 3), (3, 3)] {
        let layout = boxes(rows, columns);
        let size = layout.size();
        let grid = some_digits(&mut random, size, 3);
        let region = |cell: Cell| char::from(b'A' + cell.row() / rows * rows + cell.col() / columns);
        let regions = Layout::with_regions(size, &size.all_cells().map(region).collect::<Vec<_>>()).unwrap();
        assert_eq!(form(&regions, &grid), form(&layout, &grid));
        let again = layout.clone().and_house("again", layout.houses()[1].cells.clone()).unwrap();
        assert_eq!(form(&again, &grid), form(&layout, &grid));
        assert_ne!(form(&layout.clone().and_diagonals(), &grid), form(&layout, &grid));
    }
}
