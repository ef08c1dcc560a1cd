//! Grids and sheets.

use super::Writer;
use super::page::{Page, Role};
use crate::board::{BoxShape, Digit, Grid, Size};
use crate::book::{Entry, Sheet, Token};
use crate::notation::{Block, Ending, Keyword, Line, LineKind, Section, Statement, is_open};

/// From this side on an empty line parts bands: in inches of print the eye needs it.
const PARTED_FROM: u8 = 12;

/// The rows of a block, written anew.
pub(super) struct Rows {
    rows: Vec<String>,
    /// An empty line stands before each this-many rows.
    band: Option<usize>,
}

impl Rows {
    /// Writes the rows in place of those of `lines`, with the comments of these; frames and empty lines go.
    pub fn write(self, writer: &Writer, lines: &[Line], page: &mut Page) {
        let mut rows = self.rows.into_iter().enumerate();
        for line in lines {
            match line.kind {
                LineKind::Row | LineKind::Tokens => {
                    let Some((at, mut row)) = rows.next() else { continue };
                    if at > 0 && self.band.is_some_and(|band| at % band == 0) {
                        page.push(
                            Role::Blank,
                            String::new(),
                            if line.ending == Ending::None { Ending::Lf } else { line.ending },
                        );
                    }
                    super::statement::push_comment(&mut row, comment(writer.section.at(line.span)));
                    page.push(Role::Other, row, line.ending);
                }
                LineKind::Comment => writer.plain(line, page),
                _ => {}
            }
        }
    }
}

/// The comment of a row, from its sign on. A row holds no such sign.
fn comment(line: &str) -> &str {
    line.find('#').map_or("", |at| &line[at..])
}

impl Writer<'_> {
    /// The rows of a grid or a sheet in their written form; `None` where the block is none, or not of its puzzle's shape.
    pub(super) fn grid(&self, at: usize, statement: &Statement) -> Option<Rows> {
        let keyword = statement.keyword?;
        match keyword.shape().block {
            Block::Work => {
                let puzzle = self.puzzle(at)?;
                let sheet = puzzle.sheets.iter().find(|sheet| sheet.statement == at)?;
                Some(sheet_rows(sheet))
            }
            Block::Grid => {
                let rows = symbol_rows(self.section, statement);
                let size = Size::new(u8::try_from(rows.len()).ok()?)?;
                let whole = rows.iter().all(|row| row.len() == size.usize());
                let boxes = self.boxes(at, keyword, statement, size)?;
                whole.then(|| grid_rows(&rows, boxes, keyword == Keyword::Regions))
            }
            _ => None,
        }
    }

    /// The boxes that blanks part, `Some(None)` where none do; `None` where the grid does not fit its puzzle.
    #[allow(clippy::option_option, reason = "unknown, and known to be none, are two answers")]
    fn boxes(
        &self,
        at: usize,
        keyword: Keyword,
        statement: &Statement,
        size: Size,
    ) -> Option<Option<BoxShape>> {
        let layout = match keyword {
            Keyword::Regions => return Some(None),
            Keyword::Answer => {
                let id = statement.values.first().map(|&value| self.section.value(value))?;
                let entries = self.book.meanings.iter().flat_map(|meaning| &meaning.entries);
                let puzzle = entries.filter_map(|entry| match entry {
                    Entry::Puzzle(puzzle) => Some(puzzle),
                    _ => None,
                });
                let mut same = puzzle.filter(|puzzle| puzzle.id.as_ref().is_some_and(|own| own.text == id));
                match same.next() {
                    Some(puzzle) => puzzle.layout.clone(),
                    // Its puzzle is in another file: the usual boxes, whatever that file says, so that one file
                    // has one form.
                    None => return Some(size.default_boxes()),
                }
            }
            _ => self.puzzle(at)?.layout.clone(),
        }?;
        (layout.size() == size).then(|| layout.boxes())
    }
}

fn symbol_rows(section: &Section, statement: &Statement) -> Vec<Vec<char>> {
    let rows = section.block(statement).iter().filter(|line| line.kind == LineKind::Row);
    rows.map(|row| section.symbols(row).map(|(_, symbol)| symbol).collect()).collect()
}

fn grid_rows(rows: &[Vec<char>], boxes: Option<BoxShape>, letters: bool) -> Rows {
    let write = |row: &Vec<char>| {
        let mut text = String::from(" ");
        for (col, &symbol) in row.iter().enumerate() {
            let between = boxes.is_some_and(|boxes| col > 0 && col % usize::from(boxes.columns) == 0);
            text.push_str(if between { "  " } else { " " });
            let open = !letters && is_open(symbol);
            text.push(if open { '.' } else { symbol.to_ascii_uppercase() });
        }
        text
    };
    let parted = rows.len() >= usize::from(PARTED_FROM);
    let band = boxes.filter(|_| parted).map(|boxes| usize::from(boxes.rows));
    Rows { rows: rows.iter().map(write).collect(), band }
}

/// The rows of a grid in their written form, without the empty lines that part the bands of large ones.
pub fn grid_lines(grid: &Grid, boxes: Option<BoxShape>) -> Vec<String> {
    let symbol = |cell| grid[cell].map_or('.', Digit::symbol);
    let symbols: Vec<char> = grid.size().all_cells().map(symbol).collect();
    let rows: Vec<Vec<char>> = symbols.chunks(grid.size().usize()).map(<[char]>::to_vec).collect();
    grid_rows(&rows, boxes, false).rows
}

/// The rows of a sheet in their written form.
pub fn sheet_lines(sheet: &Sheet) -> Vec<String> {
    sheet_rows(sheet).rows
}

fn sheet_rows(sheet: &Sheet) -> Rows {
    let tokens: Vec<String> = sheet.tokens.iter().map(Token::to_string).collect();
    // Four wide, or else 7, 10, 13 …: so one longer mark seldom moves all the others.
    let widest = tokens.iter().map(String::len).max().unwrap_or(1) + 1;
    let width = if widest <= 4 { 4 } else { 4 + (widest - 4).div_ceil(3) * 3 };
    let row = |row: &[String]| {
        let cells: Vec<String> = row.iter().map(|token| format!("{token:<width$}")).collect();
        format!("  {}", cells.concat().trim_end())
    };
    Rows { rows: tokens.chunks(usize::from(sheet.side)).map(row).collect(), band: None }
}
