//! Tables with a heading line.

use super::import::{Draft, Id, Piece, Place};
use super::record::{Field, Record, Records};
use super::symbols::{self, Look, Reading, Refusal};
use super::text::trim;
use super::{Column, Columns, TroubleKind, form};
use crate::board::Grid;

/// What may stand between fields.
const SEPARATORS: [char; 3] = ['\t', ';', ','];
/// A heading stands within the first so many records.
const HEADING_WITHIN: usize = 10;
/// So many records tell what a table is like.
const SAMPLE: usize = 20;

/// The separator by which one of the first lines is a heading line.
pub(super) fn separator_of_heading(text: &str) -> Option<char> {
    SEPARATORS.into_iter().find(|&separator| {
        let mut records = Records::of(text, separator);
        let heading = records
            .by_ref()
            .take(HEADING_WITHIN)
            .find(|record| Columns::of_heading(record.texts()).is_some());
        let Some(heading) = heading else { return false };
        let rows: Vec<Record> = records.take(SAMPLE).collect();
        if heading.fields.len() == 1 {
            // Also a title above a grid may be the word "Puzzle".
            return rows.first().is_some_and(|row| form::is_puzzle(row.raw));
        }
        // Also a title may hold a comma; but then the rows of the grid below hold none.
        2 * rows.iter().filter(|row| row.fields.len() > 1 || row.too_many).count() >= rows.len()
    })
}

/// The separator by which the first rows have a grid as one of their fields.
pub(super) fn separator_of_rows(text: &str) -> Option<char> {
    SEPARATORS.into_iter().find(|&separator| {
        let mut records = Records::of(text, separator).take(SAMPLE).filter(|record| record.fields.len() > 1);
        records.any(|record| Columns::seen_in(record.texts()).is_some())
    })
}

/// The separator that stands in most of the first rows.
fn commonest_separator(text: &str) -> char {
    let rows = |separator: char| {
        Records::of(text, separator).take(SAMPLE).filter(|record| record.fields.len() > 1).count()
    };
    // The last of equals is taken, so the order is turned round.
    SEPARATORS.into_iter().rev().max_by_key(|&separator| rows(separator)).unwrap_or(',')
}

/// Reads a table whose columns are named by `columns`, or else by its heading line.
pub(super) fn read<'a>(text: &'a str, columns: Option<&Columns>, emit: &mut dyn FnMut(Piece<'a>)) {
    let by_heading = separator_of_heading(text);
    let separator = by_heading
        .filter(|_| columns.is_none())
        .or_else(|| separator_of_rows(text))
        .or(by_heading)
        .unwrap_or_else(|| commonest_separator(text));
    if columns.is_none() && by_heading.is_none() {
        return unnamed(text, separator, emit);
    }
    let mut reader = Reader { columns: columns.cloned(), fixed: columns.is_some(), level_above: false };
    for record in Records::of(text, separator) {
        emit(reader.record(&record));
    }
}

/// A table that nothing names the columns of: all of it is kept, and the first row told what the columns seem to be.
fn unnamed<'a>(text: &'a str, separator: char, emit: &mut dyn FnMut(Piece<'a>)) {
    let seen = Records::of(text, separator).take(SAMPLE).find_map(|record| Columns::seen_in(record.texts()));
    let columns = seen.map_or_else(|| "id,givens".to_owned(), |columns| columns.to_string());
    let mut trouble = Some(TroubleKind::NoHeading { columns });
    for record in Records::of(text, separator) {
        let place = Place { line: record.line, column: 1 };
        emit(Piece::Kept { raw: record.raw, trouble: trouble.take().map(|kind| (place, kind)) });
    }
}

struct Reader {
    columns: Option<Columns>,
    /// The columns were named beforehand, and a heading line does not change them.
    fixed: bool,
    /// The row above had a level.
    level_above: bool,
}

impl Reader {
    fn record<'a>(&mut self, record: &Record<'a>) -> Piece<'a> {
        let place = Place { line: record.line, column: 1 };
        let kept = |kind: Option<TroubleKind>| Piece::Kept {
            raw: record.raw,
            trouble: kind.map(|kind| (place, kind)),
        };
        if record.too_many {
            return kept(Some(TroubleKind::TooManyFields));
        }
        let Some(columns) = &self.columns else {
            self.columns = Columns::of_heading(record.texts());
            return kept(self.columns.is_none().then_some(TroubleKind::BeforeHeading));
        };
        if let Some(again) = Columns::of_heading_among_rows(record.texts()) {
            if !self.fixed {
                self.columns = Some(again);
            }
            return kept(Some(TroubleKind::HeadingAgain));
        }
        let row = row(record, columns);
        let draft = match row {
            Ok(draft) => draft,
            Err(_) if trim(record.raw).starts_with('#') => return kept(None),
            Err((place, kind)) => return Piece::Kept { raw: record.raw, trouble: Some((place, kind)) },
        };
        Piece::Puzzle(Box::new(self.watch_levels(draft)))
    }

    /// Notes where levels stop: of merged cells, only the first has a value.
    fn watch_levels<'a>(&mut self, mut draft: Draft<'a>) -> Draft<'a> {
        let has_column = self.columns.as_ref().is_some_and(|columns| columns.have(&Column::Level));
        let has_level = draft.level.is_some() || draft.extras.iter().any(|(key, _)| key == "level");
        if has_column && !has_level && self.level_above {
            draft.troubles.push((draft.place, TroubleKind::LevelBlank));
        }
        self.level_above = has_level;
        draft
    }
}

type Left = (Place, TroubleKind);

fn place(field: &Field) -> Place {
    Place { line: field.line, column: field.column }
}

/// Where in a field a refusal is.
fn refused(field: &Field, refusal: Refusal) -> Left {
    (Place { line: field.line, column: field.column + refusal.at }, refusal.kind)
}

/// One row as a puzzle.
fn row<'a>(record: &Record<'_>, columns: &Columns) -> Result<Draft<'a>, Left> {
    let field = |column: Column| {
        record.fields.iter().enumerate().find(|(at, _)| columns.at(*at) == column).map(|(_, field)| field)
    };
    let Some(givens) = field(Column::Givens) else {
        return Err((Place { line: record.line, column: 1 }, TroubleKind::NoGivens));
    };
    let solution = field(Column::Solution).filter(|field| !trim(&field.text).is_empty());
    let (reading, solution_grid, mut troubles) = grids(givens, solution)?;
    let mut draft = Draft::new(place(givens), reading.grid, reading.look);
    draft.solution = solution_grid;
    draft.troubles.append(&mut troubles);
    if record.open_quote {
        draft.troubles.push((Place { line: record.line, column: 1 }, TroubleKind::QuoteOpen));
    }
    let beyond = record.fields.iter().skip(columns.len()).find(|field| !trim(&field.text).is_empty());
    if let Some(field) = beyond {
        let fields = record.fields.len();
        draft.troubles.push((place(field), TroubleKind::FieldsExtra { fields, columns: columns.len() }));
    }
    for (at, field) in record.fields.iter().enumerate() {
        let column = columns.at(at);
        let said = trim(&field.text);
        match column {
            Column::Id => draft.id = Some(Id { text: symbols::peel(said).to_owned(), place: place(field) }),
            _ if said.is_empty() => {}
            Column::Givens => {}
            Column::Solution => {
                if draft.solution.is_none() {
                    draft.extras.push(("solution".into(), said.into()));
                }
            }
            Column::Title => draft.title = title(said).into(),
            Column::Level => {
                draft.level = whole(said);
                if draft.level.is_none() {
                    draft.keep("level", said, place(field), TroubleKind::LevelUnreadable);
                }
            }
            Column::Number => {
                draft.number = whole(said);
                if draft.number.is_none() {
                    draft.keep("number", said, place(field), TroubleKind::NumberUnreadable);
                }
            }
            Column::Extra(key) => draft.extras.push((key, said.into())),
        }
    }
    if columns.have(&Column::Id) && draft.id.is_none() {
        draft.id = Some(Id { text: String::new(), place: draft.place });
    }
    Ok(draft)
}

/// The grids of a row: its givens, and its solution if there is one that can be read.
fn grids(givens: &Field, solution: Option<&Field>) -> Result<(Reading, Option<Grid>, Vec<Left>), Left> {
    let mut troubles = Vec::new();
    let solution_grid = match solution.map(|field| (field, symbols::read(&field.text))) {
        None => None,
        Some((_, Ok(reading))) => Some(reading.grid),
        Some((field, Err(refusal))) => {
            let (place, kind) = refused(field, refusal);
            troubles.push((place, TroubleKind::SolutionUnreadable(Box::new(kind))));
            None
        }
    };
    let read = symbols::read(&givens.text);
    let agree =
        |reading: &Reading| solution_grid.as_ref().is_none_or(|grid| grid.size() == reading.grid.size());
    if !read.as_ref().is_ok_and(agree)
        && let Some(digits) = symbols::number(&givens.text)
        && let Some((grid, front, back)) = solution_grid.as_ref().and_then(|grid| restore(digits, grid))
    {
        troubles.push((place(givens), TroubleKind::ZerosRestored { front, back }));
        return Ok((Reading { grid, look: Look::Plain }, solution_grid, troubles));
    }
    let reading = read.map_err(|refusal| refused(givens, refusal))?;
    match solution_grid {
        Some(grid) if grid.size() != reading.grid.size() => {
            let sizes = TroubleKind::SizesDiffer { givens: reading.grid.size(), solution: grid.size() };
            Err((place(givens), sizes))
        }
        solution_grid => Ok((reading, solution_grid, troubles)),
    }
}

/// The grid that `digits` were before zeros were lost at both ends, if the solution leaves just one way to put them
/// back; and how many at the front and at the end.
fn restore(digits: &str, solution: &Grid) -> Option<(Grid, usize, usize)> {
    let lost = solution.size().cells().checked_sub(digits.len()).filter(|&lost| lost > 0)?;
    let answer = solution.to_string();
    let mut ways = (0..=lost).filter(|&front| {
        let there = &answer.as_bytes()[front..front + digits.len()];
        digits.bytes().zip(there).all(|(digit, &right)| digit == b'0' || digit == right)
    });
    let front = ways.next()?;
    if ways.next().is_some() {
        return None;
    }
    let back = lost - front;
    let grid = Grid::from_line(&format!("{}{digits}{}", "0".repeat(front), "0".repeat(back))).ok()?;
    Some((grid, front, back))
}

/// A whole number, also as spreadsheets write one: `3.0`, `3,00`.
fn whole(field: &str) -> Option<u32> {
    let core = symbols::peel(field);
    let (digits, rest) = core.split_once(['.', ',']).unwrap_or((core, ""));
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit()) && rest.bytes().all(|byte| byte == b'0');
    digits.parse().ok().filter(|_| plain)
}

/// A title without the `="…"` that keeps a spreadsheet from reading it.
fn title(field: &str) -> &str {
    let formula = field.strip_prefix("=\"").and_then(|rest| rest.strip_suffix('"'));
    formula.unwrap_or(field)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;

    #[test]
    fn zeros_are_put_back_only_where_one_way_is_left() {
        let solution = Grid::from_line("1234341221434321").unwrap();
        let restored = |digits: &str| {
            restore(digits, &solution).map(|(grid, front, back)| (grid.to_string(), front, back))
        };
        assert_eq!(restored("23434122143432"), Some((".23434122143432.".into(), 1, 1)));
        assert_eq!(restored("41221434321"), Some((".....41221434321".into(), 5, 0)));
        assert_eq!(restored("1"), None, "there are four places for it");
        assert_eq!(restored("5"), None);
        assert_eq!(restored("1234341221434321"), None, "nothing is lost");
    }

    #[test]
    fn whole_numbers_are_read_as_spreadsheets_write_them() {
        assert_eq!(
            [whole("3"), whole("3.0"), whole("'12"), whole("3,00")],
            [Some(3), Some(3), Some(12), Some(3)]
        );
        assert_eq!([whole("3.5"), whole("-1"), whole("hard"), whole("1/2/2025"), whole("")], [None; 5]);
    }

    #[test]
    fn the_separator_is_found() {
        assert_eq!(separator_of_heading("id;givens, of old;solution\n1;2;3"), None);
        assert_eq!(separator_of_heading("id;givens;title, with comma\n1;2;3"), Some(';'));
        assert_eq!(separator_of_heading("id\tgivens\n1\t2"), Some('\t'));
        assert_eq!(commonest_separator("1;2\n3;4,5"), ';');
    }

    #[test]
    fn a_size_must_be_the_same_in_both_grids() {
        let field = |text: &str| Field { text: text.into(), line: 1, column: 1 };
        let four = field("1..............2");
        let five = field(&"1".repeat(25));
        let left = grids(&four, Some(&five)).err().unwrap().1;
        let size = |side| Size::new(side).unwrap();
        assert_eq!(left, TroubleKind::SizesDiffer { givens: size(4), solution: size(5) });
    }
}
