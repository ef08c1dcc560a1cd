//! Hover: a cell's candidates and why each other digit is out; what a statement means; the page of a pattern, of a way of
//! seeing or of a finding; a step of a walkthrough.

use super::markup;
use super::place::{Block, Place};
use super::state::Snapshot;
use super::step_hover;
use crate::board::{Candidates, Cell, Digit, DigitSet, Grid, Layout};
use crate::book::{Puzzle, Token};
use crate::ladder::{Ladder, NameKind, PatternName, named};
use crate::lint::Finding;
use crate::notation::{Keyword, Span, read_cells};
use crate::words::Signs;
use std::fmt::Write as _;
use std::ops::Range;
use tower_lsp::ls_types::{Hover, HoverContents, HoverParams};

/// What there is to say of a place.
pub fn answer(snapshot: &Snapshot, params: &HoverParams) -> Option<Hover> {
    let place = Place::of(snapshot, params.text_document_position_params.position);
    let (span, value) = on_cell(snapshot, &place)
        .or_else(|| on_statement(&place))
        .or_else(|| on_finding(&place))
        .or_else(|| on_pattern(snapshot, &place))
        .or_else(|| step_hover::on_step(snapshot, &place))
        .or_else(|| on_id(snapshot, &place))?;
    let range = Some(snapshot.range(place.at, span));
    let contents = HoverContents::Markup(markup::shown(value, !snapshot.settings.can.hover_plainly));
    Some(Hover { contents, range })
}

/// A cell of a grid or sheet, or one that a claim names.
fn on_cell(snapshot: &Snapshot, place: &Place) -> Option<(Span, String)> {
    let puzzle = place.puzzle()?;
    if let Some((block, cell, span)) = place.cell() {
        return Some((span, cell_text(puzzle, block, cell)?));
    }
    let span = place.word()?;
    if let Some(text) = step_hover::of_cell(snapshot, place, span) {
        return Some((span, text));
    }
    let cell = cell_at(place, span, puzzle.layout.as_ref()?)?;
    let block = puzzle.sheets.first().map(Block::Sheet);
    let block = block.or(puzzle.position.as_ref().or(puzzle.givens.as_ref()).map(Block::Board))?;
    Some((span, cell_text(puzzle, block, cell)?))
}

/// The one cell that a word names.
pub fn cell_at(place: &Place, span: Span, layout: &Layout) -> Option<Cell> {
    let cells = read_cells(&place.section.text, span)?;
    let cells = cells.first()?.cells(&place.section.text, layout.size().side()).ok()?;
    if let [cell] = cells[..] { Some(cell) } else { None }
}

/// `2 3 4 can stand here`
pub fn can_stand(digits: DigitSet, signs: Signs) -> String {
    let only = if digits.len() == 1 { "only " } else { "" };
    let digits: Vec<String> = signs.each(digits).collect();
    let digits = if digits.is_empty() { "nothing".to_owned() } else { digits.join(" ") };
    format!("{only}{digits} can stand here")
}

fn cell_text(puzzle: &Puzzle, block: Block, cell: Cell) -> Option<String> {
    let layout = puzzle.layout.as_deref()?;
    let base = puzzle.position.as_ref().or(puzzle.givens.as_ref()).map(|board| &board.grid);
    let signs = Signs(puzzle.facts.signs());
    let given = base.and_then(|grid| grid[cell]);
    if let Some(digit) = given {
        return Some(format!("**{cell}** is given as {}.", signs.of(digit)));
    }
    let (grid, marks) = match block {
        Block::Board(board) => (board.grid.clone(), None),
        Block::Sheet(sheet) => {
            let empty = Grid::empty(layout.size());
            (sheet.grid(base.unwrap_or(&empty)), Some(sheet.token(cell)))
        }
    };
    if let Some(digit) = grid[cell] {
        return Some(format!("**{cell}** holds {}.{}", signs.of(digit), again(layout, &grid, cell, digit)));
    }
    let digits = Candidates::of(layout, &grid).at(cell);
    let mut text = format!("**{cell}**: {}.\n", can_stand(digits, signs));
    if let Some(marks @ (Token::Closed(_) | Token::Open(_) | Token::Known(_))) = marks {
        let _ = writeln!(text, "\nMarked `{marks}`.");
    }
    let out = (1..=layout.size().side()).filter_map(Digit::new).filter(|digit| !digits.contains(*digit));
    let reasons: String = out.filter_map(|digit| why_out(layout, &grid, cell, digit, signs)).collect();
    if !reasons.is_empty() {
        let _ = write!(text, "\n{reasons}");
    }
    Some(text)
}

/// `- 4 is out: r3c7 holds it, in row 3`
fn why_out(layout: &Layout, grid: &Grid, cell: Cell, digit: Digit, signs: Signs) -> Option<String> {
    let by = layout.peers(cell).iter().find(|peer| grid[*peer] == Some(digit))?;
    let house = layout.houses_of(cell).find(|house| house.cells.contains(&by))?;
    Some(format!("- {} is out: {by} holds it, in {}\n", signs.of(digit), house.name))
}

/// Where the digit of a cell stands again in its sight.
fn again(layout: &Layout, grid: &Grid, cell: Cell, digit: Digit) -> String {
    let twice = layout.peers(cell).iter().find(|peer| grid[*peer] == Some(digit));
    twice.map_or(String::new(), |other| format!(" So does {other}, which it sees."))
}

/// The keyword of a statement.
fn on_statement(place: &Place) -> Option<(Span, String)> {
    let (_, statement) = place.statement()?;
    let keyword: Keyword = statement.keyword?;
    let here = statement.word.start <= place.byte && place.byte < statement.word.end;
    here.then(|| (statement.word, format!("**{}**\n\n{}", keyword.word(), keyword.meaning())))
}

/// The name of a finding.
fn on_finding(place: &Place) -> Option<(Span, String)> {
    let word = place.word()?;
    let finding = Finding::named(place.section.at(word))?;
    Some((word, format!("**{}**\n\n{}", finding.name, finding.page())))
}

/// The most words of a name.
const MOST_WORDS: usize = 3;

/// The name of a pattern or of a way of seeing: the longest around the place, where names are read.
fn on_pattern(snapshot: &Snapshot, place: &Place) -> Option<(Span, String)> {
    let (_, line) = place.line()?;
    let text = place.section.at(line.span);
    let here = (place.byte.saturating_sub(line.span.start)) as usize;
    let names = names_around(place, text, here)?;
    let is_part = |c: char| c.is_alphanumeric() || c == '-';
    let mut words = Vec::new();
    let mut rest = names.start;
    while let Some(start) = text[rest..names.end].find(is_part).map(|at| rest + at) {
        let end = text[start..names.end].find(|c| !is_part(c)).map_or(names.end, |at| start + at);
        words.push(start..end);
        rest = end;
    }
    let at = words.iter().position(|word| word.start <= here && here <= word.end)?;
    let (span, row) = (1..=MOST_WORDS).rev().find_map(|count| {
        let mut firsts = (at + 1).saturating_sub(count)..=at;
        firsts.find_map(|first| {
            let span = words[first].start..words.get(first + count - 1)?.end;
            Some((span.clone(), named(&text[span])?))
        })
    })?;
    let span = Span::new(span.start, span.end).shifted(line.span.start as usize);
    Some((span, pattern_text(row, &snapshot.book.ladder)))
}

/// The part of a line around a place in which the names of patterns are read: behind `needs` and the like, behind the `by`
/// of a walk, in the braces of prose.
fn names_around(place: &Place, text: &str, here: usize) -> Option<Range<usize>> {
    let (before, after) = text.split_at_checked(here)?;
    let (_, statement) = place.statement()?;
    match statement.keyword? {
        Keyword::Needs | Keyword::Avoids | Keyword::Teaches => Some(0..text.len()),
        Keyword::Steps => Some(text.find(" by ")?..text.len()),
        _ => {
            let open = before.rfind('{').filter(|open| !before[*open..].contains('}'))?;
            Some(open..here + after.find('}')?)
        }
    }
}

/// What there is to say of a name of the ladder.
pub fn pattern_text(row: &PatternName, ladder: &Ladder) -> String {
    let kind = match (row.kind, ladder.level(row.name)) {
        (NameKind::Pattern, Some(level)) => {
            let called = ladder.level_name(level);
            let called = called.map_or(String::new(), |name| format!(", {}", markup::words(name)));
            format!("a pattern of level {level}{called}")
        }
        (NameKind::Pattern, None) => "a pattern that the ladder of this file leaves out".to_owned(),
        (NameKind::Group, _) => "several patterns of the ladder under one name".to_owned(),
        (NameKind::Seeing, _) => {
            "a way of seeing: how a reader comes upon a step, whatever pattern it is".to_owned()
        }
    };
    let also = match row.aliases {
        [] => String::new(),
        aliases => format!("Also called {}.\n\n", aliases.join(", ")),
    };
    format!("**{}**: {kind}.\n\n{also}{}", row.name, row.page)
}

/// The id of a puzzle or lesson.
fn on_id(snapshot: &Snapshot, place: &Place) -> Option<(Span, String)> {
    let word = place.word()?;
    let id = place.section.at(word);
    let own = std::iter::once((&snapshot.uri, &snapshot.book));
    let mut books = own.chain(snapshot.others.iter().map(|(uri, book)| (uri, book)));
    books.find_map(|(uri, book)| {
        let puzzle =
            book.puzzles().find(|puzzle| puzzle.id.as_ref().is_some_and(|known| known.text == id))?;
        let what = if puzzle.lesson { "lesson" } else { "puzzle" };
        let title = markup::words(&puzzle.title.join(" "));
        let file = uri.as_str().rsplit('/').next().unwrap_or_default();
        Some((word, format!("**{id}** {title}\n\nA {what} of `{file}`.")))
    })
}
