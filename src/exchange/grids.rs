//! Grids of several lines, one after the other, with text between them.

use super::import::{Draft, Piece, Place};
use super::symbols::{Look, is_gap, symbol};
use super::text::{Line, Lines, chars_before, split_comment, trim};
use super::{TroubleKind, form};
use crate::board::{Digit, Grid, GridLineError, MAX_SIDE, MIN_SIDE, Size};

/// No row of a grid is written in more bytes, whatever stands between its cells.
const LONGEST_ROW: usize = 1000;
/// What stands between cells where each has a field of its own.
const SEPARATORS: [char; 3] = ['\t', ';', ','];
/// Text that says that the grid below is a solution begins so.
const SOLUTION_WORDS: [&str; 3] = ["solution", "answer", "solved"];

/// Reads grids. The line above a grid, if it is no row, is its title; under a title such as "Solution", the solution of
/// the puzzle above.
pub(super) fn read<'a>(text: &'a str, emit: &mut dyn FnMut(Piece<'a>)) {
    let mut reader = Reader {
        text,
        emit,
        run: Run::default(),
        gap: 0,
        adjacent: false,
        title: None,
        remarks: Vec::new(),
        held: None,
    };
    for line in Lines::of(text) {
        reader.line(line);
    }
    reader.flush();
    reader.release();
    reader.untitle();
}

/// The cells of a row: `None` where a character is no symbol.
fn cells(line: &str) -> Option<Vec<char>> {
    let said = trim(split_comment(line).0);
    // A frame is no row, though `-` alone is an empty cell.
    if is_frame(said) {
        return None;
    }
    let by_fields =
        SEPARATORS.into_iter().find(|&separator| said.contains(separator)).and_then(|separator| {
            // Blanks at the end of a line are cells too where tabs part them.
            let fields = split_comment(line).0.split(separator);
            fields.map(|field| one_cell(trim(field))).collect::<Option<Vec<char>>>()
        });
    by_fields.or_else(|| said.chars().filter(|&c| !is_gap(c)).map(symbol).collect())
}

/// The cell that a whole field is.
fn one_cell(field: &str) -> Option<char> {
    let mut symbols = field.chars();
    match (symbols.next(), symbols.next()) {
        (None, _) => Some('.'),
        (Some(c), None) => symbol(c),
        _ => None,
    }
}

/// How many cells a line has, if it can be a row of some grid.
pub(super) fn width(line: &str) -> Option<usize> {
    let cells = Some(line).filter(|line| line.len() <= LONGEST_ROW).and_then(cells)?;
    (usize::from(MIN_SIDE)..=usize::from(MAX_SIDE)).contains(&cells.len()).then_some(cells.len())
}

/// Whether a line only draws: it has no symbol and at least one stroke that is no bar.
fn is_frame(line: &str) -> bool {
    let stroke = |c: char| matches!(c, '+' | '-' | '=' | '\u{2500}'..='\u{257f}' | '\u{2013}' | '\u{2014}');
    let mut strokes = line.chars().filter(|&c| !is_gap(c)).peekable();
    strokes.peek().is_some() && strokes.all(stroke)
}

/// Whether a row's digits all fit a grid of its width: what does not is rather a word.
fn is_proper(line: &str, width: usize) -> bool {
    let digits = cells(line).unwrap_or_default().into_iter().filter_map(Digit::from_symbol);
    digits.into_iter().all(|digit| usize::from(digit.value()) <= width)
}

/// Whether a line that is no row seems to be meant as one: half of it at least are cells of this size.
fn resembles(line: &str, size: usize) -> bool {
    let (mut all, mut good) = (0, 0);
    for c in line.chars().filter(|&c| !is_gap(c)) {
        let digit = Digit::from_symbol(c).is_some_and(|digit| usize::from(digit.value()) <= size);
        all += 1;
        good += usize::from(digit || symbol(c) == Some('.'));
    }
    good * 2 >= all
}

/// Whether a line holds a whole puzzle, as those of a list or a table do.
fn is_lone(line: &str) -> bool {
    let pieces = |c: char| is_gap(c) || SEPARATORS.contains(&c);
    !trim(line).starts_with('#') && line.split(pieces).any(form::is_puzzle)
}

/// Lines that are, or should be, rows of a grid, with no empty line between them.
struct Chunk<'a> {
    rows: Vec<Line<'a>>,
    /// How many empty lines stand before it.
    gap: usize,
}

/// Rows of one width that have not become grids yet.
#[derive(Default)]
struct Run<'a> {
    chunks: Vec<Chunk<'a>>,
    /// How many cells its first row has.
    width: usize,
    /// How many rows it has.
    rows: usize,
}

impl Run<'_> {
    /// Whether no grid is begun and not ended.
    fn is_complete(&self) -> bool {
        self.rows == 0 || self.rows.is_multiple_of(self.width)
    }
}

struct Reader<'a, 'e> {
    text: &'a str,
    emit: &'e mut dyn FnMut(Piece<'a>),
    run: Run<'a>,
    /// How many empty lines stand above.
    gap: usize,
    /// The line above is a row, or a frame below one.
    adjacent: bool,
    /// The last line of text, if no grid has followed yet.
    title: Option<Line<'a>>,
    /// Comments between the rows of the run.
    remarks: Vec<Line<'a>>,
    /// The last puzzle: its solution may follow.
    held: Option<Box<Draft<'a>>>,
}

impl<'a> Reader<'a, '_> {
    fn line(&mut self, line: Line<'a>) {
        let said = trim(line.text);
        if said.is_empty() {
            if self.run.chunks.len() == 1 && self.run.is_complete() {
                self.flush();
            }
            self.gap += 1;
            self.adjacent = false;
        } else if said.starts_with('#') {
            if self.run.is_complete() {
                self.flush();
                self.untitle();
                self.kept(line);
            } else {
                self.remarks.push(line);
            }
        } else if !is_frame(said) {
            self.row_or_text(line);
        }
    }

    fn row_or_text(&mut self, line: Line<'a>) {
        let width = width(line.text);
        let is_row = if self.adjacent && !self.run.is_complete() {
            width.is_some() || resembles(line.text, self.run.width)
        } else if self.run.rows > 0 && width == Some(self.run.width) {
            true
        } else {
            self.flush();
            width.is_some_and(|width| is_proper(line.text, width))
        };
        if !is_row {
            self.flush();
            self.untitle();
            // What another form would read is named, whatever stands below it.
            if is_lone(line.text) {
                self.kept(line);
            } else {
                self.title = Some(line);
            }
            return;
        }
        if self.run.rows == 0 {
            self.run.width = width.unwrap_or_default();
        }
        if !self.adjacent {
            self.run.chunks.push(Chunk { rows: Vec::new(), gap: self.gap });
        }
        if let Some(chunk) = self.run.chunks.last_mut() {
            chunk.rows.push(line);
        }
        self.run.rows += 1;
        self.gap = 0;
        self.adjacent = true;
    }

    /// Passes the last line of text on as a comment: it is no title.
    fn untitle(&mut self) {
        if let Some(title) = self.title.take() {
            self.kept(title);
        }
    }

    /// Passes on the comments that stand before a line.
    fn remarks_before(&mut self, line: Line) {
        let later = self.remarks.iter().position(|remark| remark.start > line.start);
        let remarks: Vec<Line> = self.remarks.drain(..later.unwrap_or(self.remarks.len())).collect();
        for remark in remarks {
            self.kept(remark);
        }
    }

    /// Passes a line on as a comment.
    fn kept(&mut self, line: Line<'a>) {
        self.release();
        let place = Place { line: line.number, column: 1 };
        let trouble = is_lone(line.text).then_some((place, TroubleKind::LoneLine));
        (self.emit)(Piece::Kept { raw: line.text, trouble });
    }

    /// Passes the last puzzle on: nothing of it can follow any more.
    fn release(&mut self) {
        if let Some(draft) = self.held.take() {
            (self.emit)(Piece::Puzzle(draft));
        }
    }

    /// Makes grids of the run.
    fn flush(&mut self) {
        self.adjacent = false;
        let Run { chunks, width, .. } = std::mem::take(&mut self.run);
        // A chunk of whole grids stands for itself; those between belong together.
        let mut parts: Vec<Chunk> = Vec::new();
        for chunk in chunks {
            if chunk.rows.len().is_multiple_of(width) {
                self.join(std::mem::take(&mut parts), width);
                self.grids(&chunk.rows, width);
            } else {
                parts.push(chunk);
            }
        }
        self.join(parts, width);
        for remark in std::mem::take(&mut self.remarks) {
            self.kept(remark);
        }
    }

    /// Makes grids of chunks none of which is a grid. Where it is not certain which belong together, all are left: else
    /// one lost row would shift the grids below it.
    fn join(&mut self, mut chunks: Vec<Chunk<'a>>, width: usize) {
        let Some(len) = chunks.first().map(|chunk| chunk.rows.len()) else { return };
        let total: usize = chunks.iter().map(|chunk| chunk.rows.len()).sum();
        let gaps = || chunks.iter().skip(1).map(|chunk| chunk.gap);
        let (least, most) = (gaps().min().unwrap_or(0), gaps().max().unwrap_or(0));
        if total != width && least < most {
            while let Some(at) = chunks.iter().skip(1).position(|chunk| chunk.gap > least) {
                let rest = chunks.split_off(at + 1);
                self.join(std::mem::replace(&mut chunks, rest), width);
            }
            self.join(chunks, width);
        } else if total == width
            || total.is_multiple_of(width)
                && width.is_multiple_of(len)
                && chunks.iter().all(|chunk| chunk.rows.len() == len)
        {
            let rows: Vec<Line> = chunks.into_iter().flat_map(|chunk| chunk.rows).collect();
            self.grids(&rows, width);
        } else if chunks.iter().any(|chunk| 2 * chunk.rows.len() > width) {
            for chunk in chunks {
                self.left(&chunk.rows, width);
            }
        } else {
            let rows: Vec<Line> = chunks.into_iter().flat_map(|chunk| chunk.rows).collect();
            self.left(&rows, width);
        }
    }

    /// Makes grids of rows, so many as there are.
    fn grids(&mut self, rows: &[Line<'a>], width: usize) {
        for rows in rows.chunks(width) {
            match grid(rows, width) {
                Some(grid) => self.puzzle(rows[0], grid),
                None => self.left(rows, width),
            }
        }
    }

    fn puzzle(&mut self, first: Line<'a>, grid: Grid) {
        self.remarks_before(first);
        let title = self.title.take().map_or("", |line| trim(line.text));
        let is_solution = SOLUTION_WORDS.iter().any(|word| title.to_lowercase().starts_with(word));
        if is_solution && let Some(held) = self.held.as_mut().filter(|held| held.is_solved_by(&grid)) {
            held.solution = Some(grid);
            self.release();
            return;
        }
        self.release();
        let column = chars_before(first.text, trim(first.text)) + 1;
        let mut draft = Draft::new(Place { line: first.number, column }, grid, Look::Plain);
        draft.title = title.into();
        self.held = Some(Box::new(draft));
    }

    /// Leaves rows as they stand, with what stands between them.
    fn left(&mut self, rows: &[Line<'a>], width: usize) {
        let (Some(first), Some(last)) = (rows.first(), rows.last()) else { return };
        self.untitle();
        self.remarks_before(*first);
        self.release();
        let count = TroubleKind::RowCount { found: rows.len(), expected: width };
        let count = (Place { line: first.number, column: 1 }, count);
        let trouble = rows.iter().find_map(|&row| fault(row, width)).unwrap_or(count);
        self.remarks.retain(|remark| remark.start < first.start || remark.start > last.start);
        (self.emit)(Piece::Kept { raw: &self.text[first.start..last.end()], trouble: Some(trouble) });
    }
}

/// The grid of these rows, if each is one of its.
fn grid(rows: &[Line], width: usize) -> Option<Grid> {
    let size = Size::new(u8::try_from(width).ok()?)?;
    let mut line = String::with_capacity(size.cells());
    for row in rows {
        line.extend(Some(row.text).filter(|text| self::width(text) == Some(width)).and_then(cells)?);
    }
    Grid::from_line_of(size, &line).ok()
}

/// What keeps a line from being a row of this width.
fn fault(row: Line, expected: usize) -> Option<(Place, TroubleKind)> {
    let said = split_comment(row.text).0;
    let place = |at: usize| Place { line: row.number, column: at + 1 };
    let Some(cells) = Some(row.text).filter(|text| text.len() <= LONGEST_ROW).and_then(cells) else {
        let strange = said.chars().enumerate().find(|(_, c)| !is_gap(*c) && symbol(*c).is_none());
        let (at, symbol) = strange.unwrap_or((0, '?'));
        return Some((place(at), TroubleKind::RowUnreadable { symbol }));
    };
    if cells.len() != expected {
        return Some((place(0), TroubleKind::RowLength { found: cells.len(), expected }));
    }
    let size = Size::new(u8::try_from(expected).ok()?)?;
    let (cell, digit) = cells.into_iter().enumerate().find_map(|(at, cell)| {
        Digit::from_symbol(cell).filter(|digit| digit.value() > size.side()).map(|digit| (at, digit))
    })?;
    let at = said.chars().enumerate().filter(|(_, c)| !is_gap(*c)).nth(cell).map_or(0, |(at, _)| at);
    let error = GridLineError::TooGreat { digit, at: cell + 1, size };
    Some((place(at), TroubleKind::Grid { error, look: Look::Plain }))
}

#[cfg(test)]
mod tests {
    use super::*;

    const NINE: &str = "53..7....6..195....98....6.8...6...34..8.3..17...2...6.6....28....419..5....8..79";
    const SOLVED: &str = "534678912672195348198342567859761423426853791713924856961537284287419635345286179";

    /// What is read of a text: `TITLE: GRID`, `TITLE: GRID = SOLUTION`, `# comment`, or `! line: trouble`.
    fn said(text: &str) -> Vec<String> {
        let mut said = Vec::new();
        read(text, &mut |piece| {
            said.push(match piece {
                Piece::Kept { raw, trouble: None } => format!("# {raw}"),
                Piece::Kept { trouble: Some((place, kind)), .. } => format!("! {}: {kind:?}", place.line),
                Piece::Puzzle(draft) => {
                    let solution = draft.solution.map_or(String::new(), |grid| format!(" = {grid}"));
                    format!("{}: {}{solution}", draft.title, draft.givens)
                }
            });
        });
        said
    }

    fn rows(line: &str) -> Vec<&str> {
        let side = line.len().isqrt();
        (0..side).map(|row| &line[row * side..(row + 1) * side]).collect()
    }

    fn plain(line: &str) -> String {
        rows(line).join("\n") + "\n"
    }

    fn bands(line: &str, gap: &str) -> String {
        rows(line).chunks(3).map(|rows| rows.join("\n") + "\n").collect::<Vec<_>>().join(gap)
    }

    #[test]
    fn grids_are_read_however_they_are_drawn() {
        let drawn = |row: &&str| row.chars().flat_map(|c| [' ', c]).collect::<String>();
        let spaced: String = rows(NINE).iter().map(|row| drawn(row) + "\n").collect();
        let barred = |row: &&str| ["|", &row[..3], "|", &row[3..6], "|", &row[6..], "|\n"].concat();
        let framed = rows(NINE)
            .chunks(3)
            .map(|rows| rows.iter().map(barred).collect::<String>())
            .collect::<Vec<_>>()
            .join("+---+---+---+\n");
        let heavy = framed.replace('|', "║").replace('+', "╬").replace('-', "═");
        let celled: String = rows(NINE)
            .iter()
            .map(|row| {
                row.chars().map(|c| c.to_string().replace('.', "")).collect::<Vec<_>>().join("\t") + "\n"
            })
            .collect();
        let dashed = spaced.replace('.', "-");
        for text in [plain(NINE), bands(NINE, "\n"), spaced, framed, heavy, celled, dashed] {
            assert_eq!(said(&text), [format!(": {NINE}")], "{text}");
        }
    }

    #[test]
    fn the_line_above_a_grid_is_its_title() {
        let text = format!("My book\n\nPage 1\n{}\nFront Door\n\n{}", plain(NINE), plain(NINE));
        assert_eq!(
            said(&text),
            ["# My book".into(), format!("Page 1: {NINE}"), format!("Front Door: {NINE}")]
        );
    }

    #[test]
    fn a_solution_belongs_to_the_puzzle_above() {
        let text = format!("A\n{}\nSolution:\n{}\nB\n{}", plain(NINE), plain(SOLVED), plain(SOLVED));
        assert_eq!(said(&text), [format!("A: {NINE} = {SOLVED}"), format!("B: {SOLVED}")]);
    }

    #[test]
    fn grids_may_follow_each_other_closely() {
        assert_eq!(said(&plain(NINE).repeat(3)).len(), 3);
        assert_eq!(said(&format!("{}\n\n", bands(NINE, "\n")).repeat(3)).len(), 3);
        assert_eq!(said(&format!("{}\n", bands(NINE, "\n")).repeat(3)), vec![format!(": {NINE}"); 3]);
        assert_eq!(said(&format!("{}{}", plain("1..............."), plain(NINE))).len(), 2);
    }

    #[test]
    fn a_lost_row_costs_one_grid() {
        let short = rows(NINE)[1..].join("\n") + "\n";
        let eight = |line| format!("! {line}: RowCount {{ found: 8, expected: 9 }}");
        let text = format!("{}\n{short}\n{}", plain(NINE), plain(NINE));
        assert_eq!(said(&text), [format!(": {NINE}"), eight(11), format!(": {NINE}")]);
        let text = format!("{short}\n{short}\n");
        assert_eq!(said(&text), [eight(1), eight(10)]);
        let text = format!("A\n{short}B\n{}", plain(NINE));
        assert_eq!(said(&text), ["# A".into(), eight(2), format!("B: {NINE}")]);
    }

    #[test]
    fn bands_of_a_broken_grid_are_not_joined_with_the_next() {
        let two = rows(NINE)[3..].chunks(3).map(|rows| rows.join("\n") + "\n").collect::<Vec<_>>().join("\n");
        let text = format!("{two}\n{}", bands(NINE, "\n"));
        assert_eq!(said(&text), ["! 1: RowCount { found: 15, expected: 9 }"]);
        let text = format!("{two}\n\n{}", bands(NINE, "\n"));
        assert_eq!(said(&text), ["! 1: RowCount { found: 6, expected: 9 }".into(), format!(": {NINE}")]);
    }

    #[test]
    fn a_broken_row_is_named() {
        let with = |row: &str| {
            let mut rows = rows(NINE);
            rows[4] = row;
            said(&(rows.join("\n") + "\n"))
        };
        assert_eq!(with("4..8.3..?"), ["! 5: RowUnreadable { symbol: '?' }"]);
        assert_eq!(with("4..8.3.."), ["! 5: RowLength { found: 8, expected: 9 }"]);
        assert!(with("4..8.O..1")[0].starts_with("! 5: Grid { error: TooGreat"));
    }

    #[test]
    fn comments_stay_and_a_whole_grid_in_a_line_is_named() {
        let text = format!("# a\n{}# b\n", plain(NINE));
        assert_eq!(said(&text), ["# # a".into(), format!(": {NINE}"), "# # b".into()]);
        let text = format!("{}# a\n{}", bands(NINE, "\n# between\n"), plain(NINE));
        assert_eq!(said(&text).iter().filter(|said| said.starts_with('#')).count(), 3);
        let text = format!("{NINE}\n\n{}", plain(NINE));
        assert_eq!(said(&text), ["! 1: LoneLine".into(), format!(": {NINE}")]);
        let text = format!("{NINE}\nA\n{}", plain(NINE));
        assert_eq!(said(&text), ["! 1: LoneLine".into(), format!("A: {NINE}")]);
    }
}
