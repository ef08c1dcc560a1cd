//! A grid written in one piece: a token of a list, a field of a table.

use super::TroubleKind;
use super::text::is_blank;
use crate::board::{Digit, Grid, GridLineError};

/// No grid is written in more bytes than this, whatever stands between its symbols: 625 cells, with room.
const LONGEST: usize = 16 * 1024;

/// What a grid looked like as it was written, where that tells how it may have been spoilt.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Look {
    /// Nothing but the digits 0 to 9, the first of them not 0: zeros at its front may be lost.
    Number,
    /// No cell of it is empty: the signs for empty cells may be lost.
    Full,
    /// Neither.
    Plain,
}

/// A grid, and what it looked like.
pub(super) struct Reading {
    pub grid: Grid,
    pub look: Look,
}

/// Why there is no grid, and where in the text that is: in characters from its beginning.
pub(super) struct Refusal {
    pub kind: TroubleKind,
    pub at: usize,
}

/// The symbol that a character stands for: full-width characters are the same as plain ones, and `.`, `0`, `_`, `*`,
/// `-`, `·` and `•` are all `.`, an empty cell. `None` if it is no symbol of any size.
pub(super) fn symbol(c: char) -> Option<char> {
    match plain(c) {
        '.' | '0' | '_' | '*' | '-' | '·' | '•' => Some('.'),
        c => Digit::from_symbol(c).map(Digit::symbol),
    }
}

/// A full-width character of East Asian typing as the plain one that it is.
fn plain(c: char) -> char {
    match c {
        '\u{ff01}'..='\u{ff5e}' => char::from_u32(u32::from(c) - 0xff01 + 0x21).unwrap_or(c),
        '\u{3002}' => '.',
        c => c,
    }
}

/// Whether a character parts cells in a drawn grid and says nothing else.
pub(super) fn is_gap(c: char) -> bool {
    is_blank(c) || matches!(c, '|' | '\u{2502}' | '\u{2503}' | '\u{2551}' | '\u{ff5c}')
}

fn is_quote(c: char) -> bool {
    matches!(c, '"' | '\'' | '`' | '«' | '»' | '\u{2018}'..='\u{201f}')
}

/// A field without what spreadsheets and typists put around it: blanks, quotes, `="…"`, a leading apostrophe.
pub(super) fn peel(field: &str) -> &str {
    let field = field.trim_matches(is_blank);
    let formula = field.strip_prefix('=').filter(|rest| rest.starts_with('"') && rest.ends_with('"'));
    formula.unwrap_or(field).trim_matches(|c| is_blank(c) || is_quote(c))
}

/// Reads a grid in one piece. Blanks and bars may part it into pieces of equal length.
pub(super) fn read(field: &str) -> Result<Reading, Refusal> {
    let core = peel(field);
    let before = super::text::chars_before(field, core);
    let refuse = |kind, at| Err(Refusal { kind, at: before + at });
    if core.is_empty() {
        return Err(Refusal { kind: TroubleKind::NoGivens, at: 0 });
    }
    if core.len() > LONGEST {
        return refuse(TroubleKind::TooLong { characters: core.chars().count() }, 0);
    }
    if is_power(core) {
        return refuse(TroubleKind::Power, 0);
    }
    let mut line = String::with_capacity(core.len());
    let mut places = Vec::new();
    let mut pieces: Vec<usize> = Vec::new();
    let mut open = false;
    for (at, c) in core.chars().enumerate() {
        if is_gap(c) {
            open = false;
            continue;
        }
        if !open {
            pieces.push(0);
            open = true;
        }
        if let Some(last) = pieces.last_mut() {
            *last += 1;
        }
        line.push(symbol(c).unwrap_or(c));
        places.push(at);
    }
    let uneven = pieces.windows(2).any(|two| two[0] != two[1]);
    let look = look(core, &line);
    match Grid::from_line(&line) {
        _ if is_grouped(core) && (uneven || Grid::from_line(&line).is_err()) => {
            refuse(TroubleKind::Grouped, 0)
        }
        Err(GridLineError::NotASymbol { symbol: '=', at: 1 }) => refuse(TroubleKind::Formula, 0),
        Err(error @ (GridLineError::NotASymbol { at, .. } | GridLineError::TooGreat { at, .. })) => {
            refuse(TroubleKind::Grid { error, look }, places[at - 1])
        }
        _ if uneven => refuse(TroubleKind::Uneven, 0),
        Err(error) => refuse(TroubleKind::Grid { error, look }, 0),
        Ok(grid) => Ok(Reading { grid, look }),
    }
}

fn look(core: &str, line: &str) -> Look {
    if core.bytes().all(|byte| byte.is_ascii_digit()) && !core.starts_with('0') {
        Look::Number
    } else if !line.contains('.') {
        Look::Full
    } else {
        Look::Plain
    }
}

/// The digits of a field that is written with nothing but 0 to 9: what is left of a grid that a spreadsheet took for a
/// number.
pub(super) fn number(field: &str) -> Option<&str> {
    let core = peel(field);
    (!core.is_empty() && core.len() < LONGEST && core.bytes().all(|byte| byte.is_ascii_digit()))
        .then_some(core)
}

/// Whether it is a number as spreadsheets shorten it, such as `1.2E+80`.
fn is_power(core: &str) -> bool {
    core.len() < 40
        && core.starts_with(|c: char| c.is_ascii_digit())
        && core.contains(['e', 'E'])
        && core.replace(',', ".").parse::<f64>().is_ok()
}

/// Whether it is a number whose digits stand in threes, such as `1,234,567` or `1.234.567`.
fn is_grouped(core: &str) -> bool {
    let Some(mark) = core.chars().find(|c| !c.is_ascii_digit()) else { return false };
    if !matches!(mark, ',' | '.' | '\'' | '\u{2019}') && !is_blank(mark) {
        return false;
    }
    let mut groups = core.split(mark);
    let first = groups.next().map_or(0, str::len);
    let digits = |group: &str| group.len() == 3 && group.bytes().all(|byte| byte.is_ascii_digit());
    (1..=3).contains(&first) && core.starts_with(|c: char| c.is_ascii_digit()) && groups.all(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NINE: &str = "53..7....6..195....98....6.8...6...34..8.3..17...2...6.6....28....419..5....8..79";

    fn line(field: &str) -> Option<String> {
        read(field).ok().map(|reading| reading.grid.to_string())
    }

    fn why(field: &str) -> (TroubleKind, usize) {
        let refusal = read(field).err().unwrap();
        (refusal.kind, refusal.at)
    }

    #[test]
    fn what_stands_around_a_grid_is_no_part_of_it() {
        for dressed in [
            format!("\u{a0}{NINE}\u{200b} "),
            format!("\"{NINE}\""),
            format!("'{NINE}"),
            format!("=\"{NINE}\""),
            format!("\u{201c}{NINE}\u{201d}"),
        ] {
            assert_eq!(line(&dressed).as_deref(), Some(NINE), "{dressed}");
        }
    }

    #[test]
    fn signs_for_empty_cells_and_full_width_characters_are_read() {
        for empty in ['0', '_', '*', '-', '·', '•', '．'] {
            assert_eq!(line(&NINE.replace('.', &empty.to_string())).as_deref(), Some(NINE), "{empty}");
        }
        let wide: String =
            NINE.chars().map(|c| char::from_u32(u32::from(c) - 0x21 + 0xff01).unwrap()).collect();
        assert_eq!(line(&wide).as_deref(), Some(NINE));
        assert_eq!(line(&"a".repeat(625)).as_deref(), Some("A".repeat(625).as_str()));
    }

    #[test]
    fn a_grid_in_equal_pieces_is_one_grid_and_in_others_none() {
        let rows: Vec<&str> = (0..9).map(|row| &NINE[row * 9..row * 9 + 9]).collect();
        assert_eq!(line(&rows.join(" ")).as_deref(), Some(NINE));
        assert_eq!(line(&rows.join("\r\n| ")).as_deref(), Some(NINE));
        assert_eq!(why(&format!("{} 1", &NINE[..80])).0, TroubleKind::Uneven);
        assert_eq!(why(&NINE.replace('.', " ")).0, TroubleKind::Uneven);
    }

    #[test]
    fn what_a_spreadsheet_spoils_is_recognised() {
        assert_eq!(why("1.2E+80").0, TroubleKind::Power);
        assert_eq!(why("5,3007e80").0, TroubleKind::Power);
        assert_eq!(why("1,234,123,412,341").0, TroubleKind::Grouped);
        assert_eq!(why("1.234.123.412.341").0, TroubleKind::Grouped);
        assert_eq!(why("1\u{a0}234\u{a0}123\u{a0}412").0, TroubleKind::Grouped);
        assert_eq!(why("=B7").0, TroubleKind::Formula);
        assert_eq!(why(" ").0, TroubleKind::NoGivens);
        assert_eq!(why(&"1".repeat(1_000_000)).0, TroubleKind::TooLong { characters: 1_000_000 });
        assert_eq!(number("'0120"), Some("0120"));
        assert_eq!(number("1.2"), None);
    }

    #[test]
    fn a_wrong_symbol_is_found_where_it_stands() {
        let (kind, at) = why(&format!(" \"{}", NINE.replacen("..7", ".O7", 1)));
        assert!(matches!(kind, TroubleKind::Grid { error: GridLineError::TooGreat { at: 4, .. }, .. }));
        assert_eq!(at, 5);
        assert_eq!(why("53?.").1, 2);
    }

    #[test]
    fn a_number_that_lost_its_zeros_looks_like_one() {
        let look = |field: &str| match why(field).0 {
            TroubleKind::Grid { look, .. } => look,
            kind => panic!("{kind:?}"),
        };
        assert_eq!(look("530070000600195"), Look::Number);
        assert_eq!(look("030070000600195"), Look::Plain);
        assert_eq!(look("ABC"), Look::Full);
    }
}
