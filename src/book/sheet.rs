//! Solvers' sheets as they stand in a file.

use super::board::{check_shape, has_rows, rows};
use super::{Fault, FaultKind};
use crate::board::{Cell, Digit, DigitSet, Grid, Layout};
use crate::notation::{Line, Section, Span, is_open};
use std::fmt;

/// A solver's sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sheet {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// One token a cell, in reading order.
    pub tokens: Vec<Token>,
    /// The side of the board, in cells.
    pub side: u8,
    /// The statement, as an index into the section's statements.
    pub statement: usize,
}

/// What a sheet says of one cell.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Token {
    /// Nothing.
    Empty,
    /// `5`: written in.
    Digit(Digit),
    /// `5!`: known and not yet written in.
    Known(Digit),
    /// `46`: one of these.
    Closed(DigitSet),
    /// `46?`: noted here, with no claim about the rest of the cell.
    Open(DigitSet),
}

/// As the notation writes it.
impl fmt::Display for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Token::Empty => write!(f, "."),
            Token::Digit(digit) => write!(f, "{digit}"),
            Token::Known(digit) => write!(f, "{digit}!"),
            Token::Closed(digits) => write!(f, "{digits}"),
            Token::Open(digits) => write!(f, "{digits}?"),
        }
    }
}

impl Sheet {
    /// What it says of `cell`.
    pub fn token(&self, cell: Cell) -> Token {
        self.tokens[usize::from(cell.row()) * usize::from(self.side) + usize::from(cell.col())]
    }

    /// Says something else of `cell`.
    pub fn set(&mut self, cell: Cell, token: Token) {
        self.tokens[usize::from(cell.row()) * usize::from(self.side) + usize::from(cell.col())] = token;
    }

    /// The digits that stand on it: those of `base`, which it began from, and what was written where that has none.
    pub fn grid(&self, base: &Grid) -> Grid {
        let mut grid = base.clone();
        for cell in base.empty_cells() {
            if let Token::Digit(digit) = self.token(cell) {
                grid.set(cell, Some(digit));
            }
        }
        grid
    }

    /// Where `cell` stands in the section that the sheet was read from; the statement's word if the sheet has no such
    /// cell.
    pub fn place(&self, section: &Section, cell: Cell) -> Span {
        let statement = &section.statements[self.statement];
        let row = rows(section, statement).nth(usize::from(cell.row()));
        let cells = row.map(|row| self.cells(section, row));
        cells.and_then(|cells| cells.get(usize::from(cell.col())).copied()).unwrap_or(statement.word)
    }

    /// Each of its cells with where it stands in the section that the sheet was read from, in reading order.
    pub fn places(&self, section: &Section) -> impl Iterator<Item = (Cell, Span)> {
        let rows = rows(section, &section.statements[self.statement]).zip(0..self.side);
        rows.flat_map(|(line, row)| {
            let cells = self.cells(section, line).into_iter().zip(0..self.side);
            cells.map(move |(span, col)| (Cell::new(row, col), span))
        })
    }

    /// Where the cells of one of its rows stand.
    fn cells(&self, section: &Section, row: &Line) -> Vec<Span> {
        match pieces(section, row) {
            pieces if pieces.len() == usize::from(self.side) => pieces,
            pieces => characters(section, &pieces),
        }
    }

    /// Reads the block of `statement` as a sheet for this layout: `None` if it has no rows yet.
    pub(super) fn read(
        section: &Section,
        statement: usize,
        layout: &Layout,
    ) -> Result<Option<Sheet>, Vec<Fault>> {
        let block = &section.statements[statement];
        if !has_rows(section, block) {
            return Ok(None);
        }
        let size = layout.size();
        check_shape(section, block, size, true, |row| cells(section, row, layout).len())?;
        let mut tokens = Vec::with_capacity(size.cells());
        let mut faults: Vec<Fault> = Vec::new();
        let mut run = None;
        for row in rows(section, block) {
            let mut wrong = None;
            for span in cells(section, row, layout) {
                match token(section, span, size.side()) {
                    Ok(token) => tokens.push(token),
                    Err(fault) => wrong = wrong.or(Some(fault)),
                }
            }
            let kind = wrong.as_ref().map(|fault| std::mem::discriminant(&fault.kind));
            faults.extend(wrong.filter(|_| kind != run));
            run = kind;
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let name = block.values.first().filter(|value| !value.quoted).map(|&value| section.value(value));
        Ok(Some(Sheet { name, tokens, side: size.side(), statement }))
    }
}

/// The pieces that blanks part.
fn pieces(section: &Section, row: &Line) -> Vec<Span> {
    section.tokens(row).collect()
}

/// The single characters of pieces.
fn characters(section: &Section, pieces: &[Span]) -> Vec<Span> {
    let of_piece = |piece: &Span| {
        let start = piece.start as usize;
        let chars = section.at(*piece).char_indices();
        chars.map(move |(at, c)| Span::new(start + at, start + at + c.len_utf8())).collect::<Vec<_>>()
    };
    pieces.iter().flat_map(of_piece).collect()
}

/// The cells of a row: its pieces, one a cell; or, where that does not come out and no mark is in it, the characters of
/// one piece or of pieces as wide as a box.
fn cells(section: &Section, row: &Line, layout: &Layout) -> Vec<Span> {
    let pieces = pieces(section, row);
    let side = layout.size().usize();
    let box_width = layout.boxes().map_or(side, |boxes| usize::from(boxes.columns));
    let marked = |piece: &Span| section.at(*piece).contains(['?', '!']);
    let undivided = pieces.len() == 1 && side > 1;
    let boxwise = pieces.len() * box_width == side && pieces.iter().any(|piece| piece.len() == box_width);
    if pieces.len() == side || pieces.iter().any(marked) || !(undivided || boxwise) {
        pieces
    } else {
        characters(section, &pieces)
    }
}

/// Reads one token.
fn token(section: &Section, span: Span, side: u8) -> Result<Token, Fault> {
    let text = section.at(span);
    let unreadable = |why: String| Err(Fault { span, kind: FaultKind::MarkUnreadable(why) });
    let body = text.trim_end_matches(['?', '!']);
    if body.chars().all(is_open) && body.len() == text.len() {
        return match body.chars().count() {
            1 => Ok(Token::Empty),
            _ => unreadable("several empty cells stand in one piece".to_owned()),
        };
    }
    let mut digits = DigitSet::EMPTY;
    for (at, symbol) in body.char_indices() {
        let Some(digit) = Digit::from_symbol(symbol).filter(|digit| digit.value() <= side) else {
            if is_open(symbol) {
                return unreadable("an empty cell can stand only by itself".to_owned());
            }
            let start = span.start as usize + at;
            let span = Span::new(start, start + symbol.len_utf8());
            return Err(Fault { span, kind: FaultKind::SymbolOutside(symbol, side) });
        };
        if !digits.insert(digit) {
            return unreadable(format!("it names {digit} twice"));
        }
    }
    match (&text[body.len()..], digits.only()) {
        ("", Some(digit)) => Ok(Token::Digit(digit)),
        ("", None) => Ok(Token::Closed(digits)),
        ("?", _) if !digits.is_empty() => Ok(Token::Open(digits)),
        ("!", Some(digit)) => Ok(Token::Known(digit)),
        ("!", None) if !digits.is_empty() => {
            unreadable(format!("`!` says that a cell's digit is known, and here are {}", digits.len()))
        }
        _ => unreadable("a mark is digits, and at most one `?` or `!` behind them".to_owned()),
    }
}
