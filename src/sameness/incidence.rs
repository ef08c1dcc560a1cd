//! A puzzle as a graph: what lies on what.

use super::partition::{Graph, mixed};
use super::transformation::Transformation;
use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, House, Layout, MAX_SIDE, Size};

/// What a vertex of the graph stands for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// A row or a column.
    Line,
    /// A digit.
    Digit,
    /// A house that is no line.
    House,
    /// A cell.
    Cell,
}

/// The graph of a puzzle. Its vertices are the lines (the rows, then the columns), the digits, the houses that are no
/// lines, and the cells; a cell is joined to whatever it lies on and to the digit that it holds. The symmetries of the
/// graph that keep these four sorts are those of the puzzle.
pub struct Incidence<'a> {
    givens: &'a Grid,
    /// See [`houses_beside_lines`].
    houses: Vec<&'a CellSet>,
}

impl<'a> Incidence<'a> {
    pub fn new(layout: &'a Layout, givens: &'a Grid) -> Incidence<'a> {
        Incidence { givens, houses: houses_beside_lines(layout) }
    }

    fn size(&self) -> Size {
        self.givens.size()
    }

    /// How many lines there are: they are the first vertices.
    pub fn lines(&self) -> usize {
        2 * self.size().usize()
    }

    /// The graph.
    pub fn graph(&self) -> Graph {
        let side = self.size().usize();
        let (columns, digits, houses) = (side, 2 * side, 3 * side);
        let cells = houses + self.houses.len();
        let (row, column) = (|cell: Cell| usize::from(cell.row()), |cell: Cell| usize::from(cell.col()));
        let vertex = |cell| cells + row(cell) * side + column(cell);
        let mut edges = Vec::with_capacity(4 * side * side);
        for cell in self.size().all_cells() {
            edges.extend([(row(cell), vertex(cell)), (columns + column(cell), vertex(cell))]);
        }
        edges.extend(self.givens.digits().map(|(cell, digit)| (digits + digit.place(), vertex(cell))));
        for (number, house) in self.houses.iter().enumerate() {
            edges.extend(house.iter().map(|cell| (houses + number, vertex(cell))));
        }
        Graph::new(cells + side * side, &edges)
    }

    /// For each vertex its sort, and for a line what tells it from others.
    pub fn colours(&self) -> Vec<(Sort, u64)> {
        let side = self.size().usize();
        let lines = weaves(self.givens).into_iter().map(|weave| (Sort::Line, weave));
        let others = [(Sort::Digit, side), (Sort::House, self.houses.len()), (Sort::Cell, side * side)];
        let others = others.into_iter().flat_map(|(sort, count)| std::iter::repeat_n((sort, 0), count));
        lines.chain(others).collect()
    }

    /// The transformation that puts the lines in this order: the first line and those that run like it become rows.
    /// The digits are named in the order in which they then appear.
    pub fn in_order(&self, lines: &[usize]) -> Transformation {
        let side = self.size().usize();
        let transposed = lines[0] >= side;
        let of = |columns: bool| -> Vec<u8> {
            let of_kind = lines.iter().filter(|&&line| (line >= side) == columns);
            of_kind.map(|line| (line % side).to_le_bytes()[0]).collect()
        };
        let (rows, columns) = (of(transposed), of(!transposed));
        let appearing = rows.iter().flat_map(|&row| {
            let cell =
                move |&column| if transposed { Cell::new(column, row) } else { Cell::new(row, column) };
            columns.iter().filter_map(move |column| self.givens[cell(column)])
        });
        Transformation::naming(self.size(), transposed, &rows, &columns, appearing)
    }

    /// All that there is to know of the puzzle after a transformation: the houses that are no lines, and the givens.
    pub fn after(&self, transformation: &Transformation) -> Vec<u8> {
        let back = transformation.inverse();
        let moved = |house: &&CellSet| {
            let mut cells: Vec<_> = house.iter().map(|cell| back.source(cell)).collect();
            cells.sort_unstable();
            cells
        };
        let mut houses: Vec<_> = self.houses.iter().map(moved).collect();
        houses.sort_unstable();
        let houses = houses.iter().flatten().flat_map(|cell| [cell.row(), cell.col()]);
        let givens = transformation.apply(self.givens);
        let digits = self.size().all_cells().map(|cell| givens[cell].map_or(0, Digit::value));
        std::iter::once(self.size().side()).chain(houses).chain(digits).collect()
    }
}

/// The houses that are no lines; of those that have the same cells one.
pub fn houses_beside_lines(layout: &Layout) -> Vec<&CellSet> {
    let mut houses: Vec<&CellSet> = Vec::new();
    for house in layout.houses().iter().filter(|house| !is_line(house)) {
        if !houses.contains(&house.set()) {
            houses.push(house.set());
        }
    }
    houses
}

/// Whether a house is a row or a column, whatever its name.
fn is_line(house: &House) -> bool {
    let first = house.cells[0];
    let all = |part: fn(Cell) -> u8| house.cells.iter().all(|&cell| part(cell) == part(first));
    all(Cell::row) || all(Cell::col)
}

/// What tells full lines from each other, for the rows and then the columns; 0 for lines that are not full. A full line
/// and one that runs alongside make a permutation, from each digit to its neighbour; the lengths of its cycles are the
/// same in every dress.
fn weaves(givens: &Grid) -> Vec<u64> {
    let size = givens.size();
    let full = |cells: &dyn Fn(u8) -> Cell| -> Option<Vec<Digit>> {
        let digits: Vec<Digit> = (0..size.side()).filter_map(|at| givens[cells(at)]).collect();
        (digits.iter().copied().collect::<DigitSet>() == size.digits()).then_some(digits)
    };
    let rows: Vec<_> = (0..size.side()).map(|row| full(&|at| Cell::new(row, at))).collect();
    let columns: Vec<_> = (0..size.side()).map(|column| full(&|at| Cell::new(at, column))).collect();
    let of = |line: &Option<Vec<Digit>>, lines: &[Option<Vec<Digit>>]| {
        let Some(line) = line else { return 0 };
        lines.iter().flatten().fold(0, |sum: u64, other| sum.wrapping_add(weave(line, other)))
    };
    let weaves =
        |lines: &[Option<Vec<Digit>>]| -> Vec<u64> { lines.iter().map(|line| of(line, lines)).collect() };
    [weaves(&rows), weaves(&columns)].concat()
}

/// A number for the lengths of the cycles that lead from one line to the other.
fn weave(one: &[Digit], other: &[Digit]) -> u64 {
    let mut next = [None; MAX_SIDE as usize];
    for (from, &to) in one.iter().zip(other) {
        next[from.place()] = Some(to);
    }
    let mut sum = 0_u64;
    for start in one {
        let mut length = 0;
        let mut at = start.place();
        while let Some(to) = next[at].take() {
            length += 1;
            at = to.place();
        }
        sum = sum.wrapping_add(mixed(1, length));
    }
    mixed(sum, 1)
}
