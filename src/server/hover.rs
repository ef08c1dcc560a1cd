//! Hover: a cell's candidates and why each other digit is out; what a statement, a name or a finding means.

use super::convert::Lines;
use super::place::{Block, Place};
use super::state::Snapshot;
use crate::board::{Candidates, Cell, Digit, Grid, Layout};
use crate::book::{Puzzle, Token};
use crate::ladder::{NameKind, named};
use crate::lint::Finding;
use crate::notation::{Keyword, Span, read_cells};
use std::fmt::Write as _;
use tower_lsp::ls_types::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};

/// What there is to say of a place.
pub fn answer(snapshot: &Snapshot, params: &HoverParams) -> Option<Hover> {
    let place = Place::of(snapshot, params.text_document_position_params.position);
    let (span, value) = on_cell(&place)
        .or_else(|| on_statement(&place))
        .or_else(|| on_name(&place))
        .or_else(|| on_id(snapshot, &place))?;
    let range = Some(Lines::of(&snapshot.book, snapshot.encoding).range(place.at, span));
    Some(Hover {
        contents: HoverContents::Markup(MarkupContent { kind: MarkupKind::Markdown, value }),
        range,
    })
}

/// A cell of a grid or sheet, or one that a claim names.
fn on_cell(place: &Place) -> Option<(Span, String)> {
    let puzzle = place.puzzle()?;
    if let Some((block, cell, span)) = place.cell() {
        return Some((span, cell_text(puzzle, block, cell)?));
    }
    let span = place.word()?;
    let cells = read_cells(&place.section.text, span)?;
    let side = puzzle.layout.as_ref()?.size().side();
    let [cell] = cells.first()?.cells(&place.section.text, side).ok()?[..] else { return None };
    let block = puzzle.sheets.first().map(Block::Sheet);
    let block = block.or(puzzle.position.as_ref().or(puzzle.givens.as_ref()).map(Block::Board))?;
    Some((span, cell_text(puzzle, block, cell)?))
}

fn cell_text(puzzle: &Puzzle, block: Block, cell: Cell) -> Option<String> {
    let layout = puzzle.layout.as_deref()?;
    let base = puzzle.position.as_ref().or(puzzle.givens.as_ref()).map(|board| &board.grid);
    let given = base.and_then(|grid| grid[cell]);
    if let Some(digit) = given {
        return Some(format!("**{cell}** is given as {digit}."));
    }
    let (grid, marks) = match block {
        Block::Board(board) => (board.grid.clone(), None),
        Block::Sheet(sheet) => {
            let empty = Grid::empty(layout.size());
            (sheet.grid(base.unwrap_or(&empty)), Some(sheet.token(cell)))
        }
    };
    if let Some(digit) = grid[cell] {
        return Some(format!("**{cell}** holds {digit}.{}", again(layout, &grid, cell, digit)));
    }
    let digits = Candidates::of(layout, &grid).at(cell);
    let can = match digits.len() {
        0 => "nothing can stand here".to_owned(),
        1 => format!("only {digits} can stand here"),
        _ => {
            format!("{} can stand here", digits.iter().map(|it| it.to_string()).collect::<Vec<_>>().join(" "))
        }
    };
    let mut text = format!("**{cell}**: {can}.\n");
    if let Some(marks @ (Token::Closed(_) | Token::Open(_) | Token::Known(_))) = marks {
        let _ = writeln!(text, "\nMarked `{marks}`.");
    }
    let out = (1..=layout.size().side()).filter_map(Digit::new).filter(|digit| !digits.contains(*digit));
    let reasons: String = out.filter_map(|digit| why_out(layout, &grid, cell, digit)).collect();
    if !reasons.is_empty() {
        let _ = write!(text, "\n{reasons}");
    }
    Some(text)
}

/// `- 4 is out: r3c7 holds it, in row 3`
fn why_out(layout: &Layout, grid: &Grid, cell: Cell, digit: Digit) -> Option<String> {
    let by = layout.peers(cell).iter().find(|peer| grid[*peer] == Some(digit))?;
    let house = layout.houses_of(cell).find(|house| house.cells.contains(&by))?;
    Some(format!("- {digit} is out: {by} holds it, in {}\n", house.name))
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

/// The name of a finding or of a pattern, of up to three words around the place.
fn on_name(place: &Place) -> Option<(Span, String)> {
    let word = place.word()?;
    let name = place.section.at(word);
    if let Some(finding) = Finding::named(name) {
        return Some((word, format!("**{name}**\n\n{}", finding.page())));
    }
    let (_, line) = place.line()?;
    let text = place.section.at(line.span);
    let is_part = |c: char| c.is_alphanumeric() || c == '-';
    let mut words = Vec::new();
    let mut rest = 0;
    while let Some(start) = text[rest..].find(is_part).map(|at| rest + at) {
        let end = text[start..].find(|c| !is_part(c)).map_or(text.len(), |at| start + at);
        words.push(Span::new(start, end).shifted(line.span.start as usize));
        rest = end;
    }
    let here = words.iter().position(|span| span.start <= place.byte && place.byte <= span.end)?;
    let spans = (1..=3).rev().flat_map(|count| {
        let first = here.saturating_sub(count - 1)..=here;
        first.map(move |first| (first, first + count - 1))
    });
    spans.filter(|(_, last)| *last < words.len()).find_map(|(first, last)| {
        let span = words[first].to(words[last]);
        let known = named(place.section.at(span))?;
        let kind = match known.kind {
            NameKind::Pattern => "a pattern of the ladder",
            NameKind::Group => "several patterns of the ladder under one name",
            NameKind::Seeing => "a way of seeing: how a reader comes upon a step, whatever pattern it is",
        };
        let also = if known.aliases.is_empty() {
            String::new()
        } else {
            format!("\n\nAlso called {}.", known.aliases.join(", "))
        };
        Some((span, format!("**{}**: {kind}.{also}", known.name)))
    })
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
        let title = puzzle.title.join(" ");
        let file = uri.as_str().rsplit('/').next().unwrap_or_default();
        Some((word, format!("**{id}** {title}\n\nA {what} of `{file}`.")))
    })
}
