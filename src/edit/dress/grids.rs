//! Grids and sheets in another dress.

use super::Dresser;
use crate::board::{Cell, DigitSet, Grid};
use crate::book::{Puzzle, Sheet, Token};
use crate::edit::rewrite;
use crate::format;
use crate::notation::{Keyword, LineKind, Section, Span, Statement};

impl Dresser<'_> {
    /// What stands below a statement.
    pub fn block(&mut self, puzzle: &Puzzle, statement: &Statement) {
        match statement.keyword {
            Some(Keyword::Givens | Keyword::Position | Keyword::Solution | Keyword::Puzzle) => {
                self.grid(statement, true);
            }
            Some(Keyword::Regions) => self.regions(statement),
            Some(Keyword::Work) => {
                let sheets = puzzle.sheets.iter();
                let here = |sheet: &&Sheet| self.section.statements[sheet.statement].line == statement.line;
                if let Some(sheet) = sheets.clone().find(here) {
                    self.sheet(sheet, statement);
                }
            }
            _ => self.lines(statement),
        }
    }

    /// A grid of digits. Where boxes get another shape and its rows show them, these are written anew.
    pub fn grid(&mut self, statement: &Statement, shows_boxes: bool) {
        let cells = signs(self.section, statement);
        let size = self.dress.how.size();
        if cells.len() != size.cells() {
            return;
        }
        let is_listed = self.section.block(statement).iter().any(|line| line.kind == LineKind::Listed);
        if self.dress.from.boxes() == self.dress.to.boxes() || is_listed || !shows_boxes {
            return self.move_signs(&cells, Dresser::symbol);
        }
        let line: String = cells.iter().map(|(_, sign)| *sign).collect();
        if let Ok(grid) = Grid::from_line(&line.replace('_', ".")) {
            let rows = format::grid_lines(&self.dress.how.apply(&grid), self.dress.to.boxes());
            self.whole.extend(rewrite(self.section, statement, &rows));
        }
    }

    /// The letters of regions, which are no digits.
    fn regions(&mut self, statement: &Statement) {
        let cells = signs(self.section, statement);
        if cells.len() == self.dress.how.size().cells() {
            self.move_signs(&cells, |_, letter| letter);
        }
    }

    fn move_signs(&mut self, cells: &[(Span, char)], renamed: impl Fn(&Self, char) -> char) {
        let side = self.dress.how.size().usize();
        let place = |cell: Cell| usize::from(cell.row()) * side + usize::from(cell.col());
        for cell in self.dress.how.size().all_cells() {
            let sign = renamed(self, cells[place(self.dress.how.source(cell))].1);
            self.put(cells[place(cell)].0, sign.to_string());
        }
    }

    /// A sheet. Its tokens are not equally wide: where they move, its rows are written anew.
    fn sheet(&mut self, sheet: &Sheet, statement: &Statement) {
        let size = self.dress.how.size();
        if self.dress.moves() {
            let how = &self.dress.how;
            let tokens = size.all_cells().map(|cell| self.token(sheet.token(how.source(cell)))).collect();
            let rows = format::sheet_lines(&Sheet { tokens, ..sheet.clone() });
            self.whole.extend(rewrite(self.section, statement, &rows));
            return;
        }
        for cell in size.all_cells() {
            let span = sheet.place(self.section, cell);
            let (old, new) = (sheet.token(cell), self.token(sheet.token(cell)));
            if old != new {
                self.put(span, new.to_string());
            }
        }
    }

    fn token(&self, token: Token) -> Token {
        let how = &self.dress.how;
        let renamed = |digits: DigitSet| digits.iter().map(|digit| how.digit(digit)).collect();
        match token {
            Token::Empty => Token::Empty,
            Token::Digit(digit) => Token::Digit(how.digit(digit)),
            Token::Known(digit) => Token::Known(how.digit(digit)),
            Token::Closed(digits) => Token::Closed(renamed(digits)),
            Token::Open(digits) => Token::Open(renamed(digits)),
        }
    }
}

/// The cells of a grid as they stand.
fn signs(section: &Section, statement: &Statement) -> Vec<(Span, char)> {
    section.block(statement).iter().flat_map(|line| section.symbols(line)).collect()
}
