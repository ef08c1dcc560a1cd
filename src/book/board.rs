//! Grids as they stand in a file.

use super::{Fault, FaultKind};
use crate::board::{Cell, Digit, Grid, Size};
use crate::notation::{Line, LineKind, Section, Span, Statement, is_open};
use std::cmp::Ordering;

/// A grid of digits, and where in its section it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Board {
    /// The digits.
    pub grid: Grid,
    /// The statement, as an index into the section's statements.
    pub statement: usize,
}

impl Board {
    /// Where `cell` stands in the section that the board was read from; the statement's word if the board has no such
    /// cell.
    pub fn place(&self, section: &Section, cell: Cell) -> Span {
        let statement = &section.statements[self.statement];
        let size = self.grid.size();
        place(section, statement, size, cell).unwrap_or(statement.word)
    }

    /// Each of its cells with where it stands in the section that the board was read from, in reading order.
    pub fn places<'a>(&self, section: &'a Section) -> impl Iterator<Item = (Cell, Span)> + use<'a> {
        let symbols = rows(section, &section.statements[self.statement]).flat_map(|row| section.symbols(row));
        self.grid.size().all_cells().zip(symbols.map(|(span, _)| span))
    }

    /// Reads the block of `statement` as a grid of this size: `None` if it has no rows yet.
    pub(super) fn read(section: &Section, statement: usize, size: Size) -> Result<Option<Board>, Vec<Fault>> {
        let block = &section.statements[statement];
        let mut cells = vec![None; size.cells()];
        let mut left = cells.iter_mut();
        let (mut even, mut known, mut found) = (true, true, 0);
        for row in rows(section, block) {
            let mut count = 0;
            section.cells(row).for_each(|symbol| {
                let digit = digit(symbol, size);
                known &= digit.is_some() || is_open(symbol);
                if let Some(cell) = left.next() {
                    *cell = digit;
                }
                count += 1;
            });
            even &= count == size.usize();
            found += 1;
        }
        if found == 0 {
            return Ok(None);
        }
        if !even || found != size.usize() {
            check_shape(section, block, size, false, |line| section.cells(line).count())?;
        }
        if !known {
            return Err(outside(section, block, size));
        }
        Ok(Some(Board { grid: Grid::from_cells(size, cells), statement }))
    }
}

/// The digit that a symbol stands for in a grid of this size.
fn digit(symbol: char, size: Size) -> Option<Digit> {
    Digit::from_symbol(symbol).filter(|digit| digit.value() <= size.side())
}

/// The symbols of a block that are neither digits of this size nor empty cells: of each row the first, and of neighbouring
/// rows that have some the first.
fn outside(section: &Section, statement: &Statement, size: Size) -> Vec<Fault> {
    let (mut faults, mut run) = (Vec::new(), false);
    for row in rows(section, statement) {
        let strange = |&(_, symbol): &(Span, char)| digit(symbol, size).is_none() && !is_open(symbol);
        let first = section.symbols(row).find(strange);
        if let Some((span, symbol)) = first.filter(|_| !run) {
            faults.push(Fault { span, kind: FaultKind::SymbolOutside(symbol, size.side()) });
        }
        run = first.is_some();
    }
    faults
}

/// Where a cell stands in a block of rows with one symbol a cell.
pub(super) fn place(section: &Section, statement: &Statement, size: Size, cell: Cell) -> Option<Span> {
    let symbols = rows(section, statement).flat_map(|row| section.symbols(row));
    symbols.map(|(span, _)| span).nth(usize::from(cell.row()) * size.usize() + usize::from(cell.col()))
}

/// The rows of a block.
pub(super) fn rows<'a>(
    section: &'a Section,
    statement: &Statement,
) -> impl Iterator<Item = &'a Line> + use<'a> {
    let is_row = |line: &&Line| matches!(line.kind, LineKind::Row | LineKind::Tokens | LineKind::Listed);
    section.block(statement).iter().filter(is_row)
}

/// Whether a block has a row.
pub fn has_rows(section: &Section, statement: &Statement) -> bool {
    rows(section, statement).next().is_some()
}

/// The line of a list that a block is, if it is one: all cells of a board in one row.
pub(super) fn listed<'a>(section: &'a Section, statement: &Statement) -> Option<&'a Line> {
    section.block(statement).first().filter(|line| line.kind == LineKind::Listed)
}

/// The size that a block has by its own shape: as many rows as each of them has cells.
pub(super) fn own_size(section: &Section, statement: &Statement) -> Option<Size> {
    let mut counts = rows(section, statement).map(|row| section.cells(row).count());
    let side = counts.next()?;
    let mut rows = 1;
    for count in counts {
        rows += 1;
        if count != side || rows > side {
            return None;
        }
    }
    u8::try_from(side).ok().filter(|_| rows == side).and_then(Size::new)
}

/// Whether the rows of a block have the shape of a board of this size; `count` counts the cells of a row. Neighbouring
/// rows that are wrong in the same way are one fault, and rows are counted only where each has the right length.
pub(super) fn check_shape(
    section: &Section,
    statement: &Statement,
    size: Size,
    sheet: bool,
    count: impl Fn(&Line) -> usize,
) -> Result<(), Vec<Fault>> {
    if listed(section, statement).is_some() {
        return Ok(());
    }
    let needed = size.usize();
    let mut faults = Vec::new();
    let mut before = Ordering::Equal;
    let mut found = 0;
    for row in rows(section, statement) {
        let cells = count(row);
        let order = cells.cmp(&needed);
        if order != Ordering::Equal && order != before {
            let kind = FaultKind::RowLength { found: cells, needed, sheet };
            faults.push(Fault { span: row_span(section, row), kind });
        }
        before = order;
        found += 1;
    }
    let row =
        |at: usize| rows(section, statement).nth(at).map_or(statement.word, |row| row_span(section, row));
    if faults.is_empty() && found < needed {
        faults.push(Fault { span: row(found - 1), kind: FaultKind::RowsMissing { found, needed } });
    } else if faults.is_empty() && found > needed {
        faults.push(Fault { span: row(needed), kind: FaultKind::RowsExtra { found, needed } });
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// A row from its first cell to its last.
pub(super) fn row_span(section: &Section, row: &Line) -> Span {
    let mut cells = section.symbols(row).map(|(span, _)| span).chain(section.tokens(row));
    cells.next().map_or(row.span, |first| first.to(cells.last().unwrap_or(first)))
}
