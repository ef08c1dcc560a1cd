//! A grid: which cells hold which digit.

use std::fmt;
use std::ops::Index;

use super::{Cell, CellSet, Digit, DigitSet, HouseName, Layout, Size};

/// A size and, for each cell, a digit or none. Shown as one line of symbols, `.` for an empty cell.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Grid {
    size: Size,
    cells: Box<[Option<Digit>]>,
}

/// A digit that stands more than once in a house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The digit.
    pub digit: Digit,
    /// The cells of the house that hold it, two or more, in reading order.
    pub cells: Vec<Cell>,
    /// The house.
    pub house: HouseName,
}

/// Why a line is not a grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum GridLineError {
    /// A character that is neither a symbol nor an empty cell.
    NotASymbol {
        /// The character.
        symbol: char,
        /// Its place in the line, in characters from 1.
        at: usize,
    },
    /// A digit that a grid of this size does not use.
    TooGreat {
        /// The digit.
        digit: Digit,
        /// Its place in the line, in characters from 1.
        at: usize,
        /// The size.
        size: Size,
    },
    /// The count of symbols fits no size.
    NoSize {
        /// How many symbols there are.
        found: usize,
    },
    /// The count of symbols does not fit the size that was asked for.
    WrongCount {
        /// How many symbols there are.
        found: usize,
        /// The size.
        size: Size,
    },
}

impl fmt::Display for GridLineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            GridLineError::NotASymbol { symbol, at } => write!(
                f,
                "character {at} is {symbol:?}; a cell is a digit `1` to `9`, a letter `A` to `P`, or `.` or `0` if empty"
            ),
            GridLineError::TooGreat { digit, at, size } => write!(
                f,
                "character {at} is `{digit}`, which stands for {}; a grid of size {size} holds 1 to {size}",
                digit.value()
            ),
            GridLineError::NoSize { found } => {
                let (symbols, make) = if *found == 1 { ("symbol", "makes") } else { ("symbols", "make") };
                write!(f, "{found} {symbols} {make} no square grid")?;
                let near =
                    |range: &mut dyn Iterator<Item = u8>| range.filter_map(Size::new).map(Size::cells).next();
                let fewer = near(&mut (4..=25).rev().filter(|&side| usize::from(side).pow(2) < *found));
                let more = near(&mut (4..=25).filter(|&side| usize::from(side).pow(2) > *found));
                match (fewer, more) {
                    (Some(fewer), Some(more)) => write!(f, "; {fewer} or {more} would"),
                    (Some(count), None) | (None, Some(count)) => write!(f, "; {count} would"),
                    (None, None) => Ok(()),
                }
            }
            GridLineError::WrongCount { found, size } => {
                let symbols = if *found == 1 { "symbol" } else { "symbols" };
                write!(f, "{found} {symbols}; a grid of size {size} has {}", size.cells())
            }
        }
    }
}

impl std::error::Error for GridLineError {}

impl Grid {
    /// A grid with no digit in it.
    pub fn empty(size: Size) -> Grid {
        Grid { size, cells: vec![None; size.cells()].into() }
    }

    /// Reads one symbol a cell in reading order, `.` or `0` for empty; the size follows from the count.
    ///
    /// # Errors
    /// If a character is no symbol, or none of that size, or if the count is no size.
    pub fn from_line(line: &str) -> Result<Grid, GridLineError> {
        let found = symbols_of(line)?;
        let size = Size::from_cell_count(found).ok_or(GridLineError::NoSize { found })?;
        Grid::from_line_of(size, line)
    }

    /// Reads one symbol a cell in reading order, `.` or `0` for empty, as a grid of this size.
    ///
    /// # Errors
    /// If a character is no symbol, or none of that size, or if the count does not fit the size.
    pub fn from_line_of(size: Size, line: &str) -> Result<Grid, GridLineError> {
        let found = symbols_of(line)?;
        if found != size.cells() {
            return Err(GridLineError::WrongCount { found, size });
        }
        let cells = line.chars().map(Digit::from_symbol).collect::<Vec<_>>();
        match cells
            .iter()
            .zip(1..)
            .find_map(|(cell, at)| Some((cell.filter(|d| d.value() > size.side())?, at)))
        {
            Some((digit, at)) => Err(GridLineError::TooGreat { digit, at, size }),
            None => Ok(Grid { size, cells: cells.into() }),
        }
    }

    /// The grid with these cells, in reading order.
    pub(crate) fn from_cells(size: Size, cells: Vec<Option<Digit>>) -> Grid {
        assert_eq!(cells.len(), size.cells(), "there are as many cells as the size has");
        Grid { size, cells: cells.into() }
    }

    /// The cells, in reading order.
    pub(crate) fn cells(&self) -> &[Option<Digit>] {
        &self.cells
    }

    /// The size.
    pub fn size(&self) -> Size {
        self.size
    }

    /// The digit of a cell, `None` if it is empty.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn get(&self, cell: Cell) -> Option<Digit> {
        self[cell]
    }

    /// Writes a digit into a cell, or empties it.
    ///
    /// # Panics
    /// If the grid has no such cell or uses no such digit.
    pub fn set(&mut self, cell: Cell, digit: Option<Digit>) {
        assert!(self.size.contains(cell), "the grid has no {cell}");
        assert!(digit.is_none_or(|digit| digit.value() <= self.size.side()), "the grid has no such digit");
        self.cells[self.size.index(cell)] = digit;
    }

    /// How many cells hold a digit.
    pub fn filled(&self) -> usize {
        self.cells.iter().flatten().count()
    }

    /// Whether every cell holds a digit.
    pub fn is_full(&self) -> bool {
        self.cells.iter().all(Option::is_some)
    }

    /// The cells that hold a digit, in reading order, each with its digit.
    pub fn digits(&self) -> impl Iterator<Item = (Cell, Digit)> {
        self.size.all_cells().zip(&self.cells).filter_map(|(cell, digit)| Some((cell, (*digit)?)))
    }

    /// The cells that hold no digit, in reading order.
    pub fn empty_cells(&self) -> impl Iterator<Item = Cell> {
        self.size.all_cells().zip(&self.cells).filter_map(|(cell, digit)| digit.is_none().then_some(cell))
    }

    /// Every digit that stands more than once in a house of the layout, which has the same size: house by house
    /// in the layout's order, digits rising within one. Two equal digits that share two houses are in it twice.
    pub fn clashes(&self, layout: &Layout) -> Vec<Clash> {
        let mut clashes = Vec::new();
        if !self.has_clash(layout) {
            return clashes;
        }
        for house in layout.houses() {
            let (mut once, mut twice) = (DigitSet::EMPTY, DigitSet::EMPTY);
            for digit in house.cells.iter().filter_map(|cell| self[*cell]) {
                if !once.insert(digit) {
                    twice.insert(digit);
                }
            }
            for digit in twice.iter() {
                let holds = |cell: &Cell| self[*cell] == Some(digit);
                let cells = house.cells.iter().copied().filter(holds).collect();
                clashes.push(Clash { digit, cells, house: house.name.clone() });
            }
        }
        clashes
    }

    /// Whether a digit stands more than once in a house of the layout, which has the same size.
    pub fn has_clash(&self, layout: &Layout) -> bool {
        let mut seen = vec![DigitSet::EMPTY; layout.houses().len()];
        let mut cells = self.cells.iter().zip(layout.all_slots());
        cells.any(|(digit, slots)| {
            digit.is_some_and(|digit| slots.iter().any(|slot| !seen[slot.house.place()].insert(digit)))
        })
    }

    /// The cells in which two grids of one size differ.
    pub fn differing(&self, other: &Grid) -> CellSet {
        self.size.all_cells().filter(|&cell| self[cell] != other[cell]).collect()
    }
}

/// How many characters a line has, if each is a symbol or an empty cell.
fn symbols_of(line: &str) -> Result<usize, GridLineError> {
    let mut count = 0;
    for (symbol, at) in line.chars().zip(1..) {
        if !matches!(symbol, '.' | '0') && Digit::from_symbol(symbol).is_none() {
            return Err(GridLineError::NotASymbol { symbol, at });
        }
        count = at;
    }
    Ok(count)
}

impl Index<Cell> for Grid {
    type Output = Option<Digit>;

    fn index(&self, cell: Cell) -> &Option<Digit> {
        assert!(self.size.contains(cell), "the grid has no {cell}");
        &self.cells[self.size.index(cell)]
    }
}

impl fmt::Display for Grid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.cells.iter().map(|cell| cell.map_or('.', Digit::symbol)).collect::<String>())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrong(line: &str) -> String {
        Grid::from_line(line).unwrap_err().to_string()
    }

    #[test]
    fn a_line_of_symbols_is_a_grid() {
        let grid = Grid::from_line("1..0.2....3....4").unwrap();
        assert_eq!(grid.to_string(), "1....2....3....4");
        assert_eq!((grid.size().side(), grid.filled(), grid.is_full()), (4, 4, false));
        assert_eq!(grid[Cell::new(1, 1)].unwrap().to_string(), "2");
        let cells: Vec<String> = grid.digits().map(|(cell, digit)| format!("{cell} {digit}")).collect();
        assert_eq!(cells, ["r1c1 1", "r2c2 2", "r3c3 3", "r4c4 4"]);
        assert_eq!(grid.empty_cells().count(), 12);
        assert_eq!(Grid::from_line(&"p".repeat(625)).unwrap().to_string(), "P".repeat(625));
    }

    #[test]
    fn a_line_that_is_no_grid_says_why() {
        assert_eq!(wrong("1"), "1 symbol makes no square grid; 16 would");
        assert_eq!(wrong("12"), "2 symbols make no square grid; 16 would");
        assert_eq!(wrong(&".".repeat(80)), "80 symbols make no square grid; 64 or 81 would");
        assert_eq!(wrong(&".".repeat(1000)), "1000 symbols make no square grid; 625 would");
        assert_eq!(
            wrong("1..5............"),
            "character 4 is `5`, which stands for 5; a grid of size 4 holds 1 to 4"
        );
        assert!(wrong("1é.").starts_with("character 2 is 'é'; a cell is"));
        assert!(wrong("1\u{1b}.").starts_with("character 2 is '\\u{1b}'; a cell is"));
        let nine = Grid::from_line_of(Size::new(9).unwrap(), "1...............").unwrap_err();
        assert_eq!(nine.to_string(), "16 symbols; a grid of size 9 has 81");
    }

    #[test]
    fn clashes_name_house_digit_and_cells() {
        let layout = Layout::classic(Size::new(4).unwrap()).unwrap().and_diagonals();
        let grid = Grid::from_line("11......1......2").unwrap();
        let shown: Vec<String> = grid
            .clashes(&layout)
            .iter()
            .map(|clash| {
                let cells: Vec<String> = clash.cells.iter().map(Cell::to_string).collect();
                format!("{} twice in {}: {}", clash.digit, clash.house, cells.join(" "))
            })
            .collect();
        let expected =
            ["1 twice in row 1: r1c1 r1c2", "1 twice in col 1: r1c1 r3c1", "1 twice in box 1: r1c1 r1c2"];
        assert_eq!(shown, expected);
    }
}
