//! What each word and sign is, for editors that show it: givens, entries, marks, statements, names.

use super::convert::Encoding;
use super::outbox::{Message, put};
use super::state::Snapshot;
use crate::board::{Cell, Digit};
use crate::book::{Board, Book, Puzzle, Sheet, Token, Verdict};
use crate::notation::{Keyword, LineKind, Section, Span, StepLine, braces};
use std::collections::BTreeMap;
use std::ops::Range as Lined;
use std::sync::{Arc, Mutex, PoisonError};
use tower_lsp::ls_types::{
    SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokensEdit, SemanticTokensLegend, Uri,
};

/// What something is. Its place in [`Kind::ALL`] is its number in the protocol.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Statement,
    Text,
    Comment,
    Given,
    Entry,
    Mark,
    Id,
    Pattern,
    Reference,
}

impl Kind {
    /// All of them, as types that every editor has a look for.
    const ALL: [(Kind, SemanticTokenType); 9] = [
        (Kind::Statement, SemanticTokenType::KEYWORD),
        (Kind::Text, SemanticTokenType::STRING),
        (Kind::Comment, SemanticTokenType::COMMENT),
        (Kind::Given, SemanticTokenType::NUMBER),
        (Kind::Entry, SemanticTokenType::VARIABLE),
        (Kind::Mark, SemanticTokenType::PARAMETER),
        (Kind::Id, SemanticTokenType::CLASS),
        (Kind::Pattern, SemanticTokenType::FUNCTION),
        (Kind::Reference, SemanticTokenType::MACRO),
    ];
}

/// The one modifier: a digit that is not that of the solution.
const WRONG: SemanticTokenModifier = SemanticTokenModifier::new("wrong");

/// What numbers of types and bits of modifiers mean.
pub fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend {
        token_types: Kind::ALL.iter().map(|(_, name)| name.clone()).collect(),
        token_modifiers: vec![WRONG],
    }
}

/// A word or sign of a section.
#[derive(Clone, Copy)]
struct Piece {
    span: Span,
    kind: Kind,
    wrong: bool,
}

/// What the words and signs of a text are, from the first of these lines to before the last.
pub fn answer(snapshot: &Snapshot, wanted: &Lined<u32>) -> Vec<SemanticToken> {
    let book = &snapshot.book;
    let mut tokens = Tokens { encoding: snapshot.encoding, found: Vec::new(), line: 0, column: 0 };
    for at in snapshot.sections_in(wanted) {
        let before = snapshot.lines_before(at);
        for piece in pieces(book, at, snapshot.settings.spoil()) {
            tokens.add(&book.tree.sections[at], before, piece, wanted);
        }
    }
    tokens.found
}

/// The tokens that were last told of each text: of the next ones only the change is told.
#[derive(Default)]
pub struct Told(Mutex<BTreeMap<Uri, Last>>);

/// What was told last of a text, and with which id.
type Last = (u64, Arc<[SemanticToken]>);

/// Tokens as a client is told of them.
pub enum Telling {
    /// All of them; with an id, if a change of them may be asked for.
    All(Option<u64>, Arc<[SemanticToken]>),
    /// Those that are others than before.
    Change(u64, Vec<SemanticTokensEdit>),
}

/// The tokens of a part of a text, of which no change is told.
pub fn part(tokens: Vec<SemanticToken>) -> Telling {
    Telling::All(None, tokens.into())
}

impl Told {
    /// Tells of all tokens of a text.
    pub fn all(&self, uri: &Uri, tokens: Vec<SemanticToken>) -> Telling {
        let (id, tokens, _) = self.next(uri, tokens);
        Telling::All(Some(id), tokens)
    }

    /// Tells of those that are others than what was told with the id `previous`; of all, if that was not the last.
    pub fn change(&self, uri: &Uri, tokens: Vec<SemanticToken>, previous: &str) -> Telling {
        match self.next(uri, tokens) {
            (id, new, Some((last, old))) if previous == last.to_string() => {
                Telling::Change(id, changes(&old, &new))
            }
            (id, new, _) => Telling::All(Some(id), new),
        }
    }

    /// These tokens are told next: with which id, and what was told last.
    fn next(&self, uri: &Uri, tokens: Vec<SemanticToken>) -> (u64, Arc<[SemanticToken]>, Option<Last>) {
        let mut told = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let last = told.remove(uri);
        let (id, tokens) = (last.as_ref().map_or(1, |(last, _)| last + 1), Arc::from(tokens));
        told.insert(uri.clone(), (id, Arc::clone(&tokens)));
        (id, tokens, last)
    }

    /// A text was closed.
    pub fn forget(&self, uri: &Uri) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).remove(uri);
    }
}

impl Message for Telling {
    fn write(&self, to: &mut Vec<u8>) {
        match self {
            Telling::All(id, tokens) => {
                to.push(b'{');
                if let Some(id) = id {
                    put(to, r#""resultId":"#, id.to_string().as_str());
                    to.push(b',');
                }
                to.extend_from_slice(b"\"data\":[");
                numbers(tokens, to);
                to.extend_from_slice(b"]}");
            }
            Telling::Change(id, edits) => {
                put(to, r#"{"resultId":"#, id.to_string().as_str());
                put(to, r#","edits":"#, edits);
                to.push(b'}');
            }
        }
    }
}

/// Writes tokens out: five numbers each, most of them of one digit.
fn numbers(tokens: &[SemanticToken], to: &mut Vec<u8>) {
    to.reserve(tokens.len() * 12);
    for (at, token) in tokens.iter().enumerate() {
        let SemanticToken { delta_line, delta_start, length, token_type, token_modifiers_bitset } = token;
        let numbers = [delta_line, delta_start, length, token_type, token_modifiers_bitset];
        for (place, number) in numbers.into_iter().enumerate() {
            if at + place > 0 {
                to.push(b',');
            }
            match u8::try_from(*number) {
                Ok(digit @ 0..10) => to.push(b'0' + digit),
                _ => number.write(to),
            }
        }
    }
}

/// The changes that make `new` of `old`: at most one.
fn changes(old: &[SemanticToken], new: &[SemanticToken]) -> Vec<SemanticTokensEdit> {
    let same = old.iter().zip(new).take_while(|(old, new)| old == new).count();
    let (old, new) = (&old[same..], &new[same..]);
    let behind = old.iter().rev().zip(new.iter().rev()).take_while(|(old, new)| old == new).count();
    let (gone, come) = (&old[..old.len() - behind], &new[..new.len() - behind]);
    if gone.is_empty() && come.is_empty() {
        return Vec::new();
    }
    // The protocol counts the numbers that tokens are made of.
    let numbers = |tokens: usize| u32::try_from(5 * tokens).unwrap_or(u32::MAX);
    vec![SemanticTokensEdit {
        start: numbers(same),
        delete_count: numbers(gone.len()),
        data: (!come.is_empty()).then(|| come.to_vec()),
    }]
}

/// Tokens as the protocol has them: each by its distance from the one before.
struct Tokens {
    encoding: Encoding,
    found: Vec<SemanticToken>,
    line: u32,
    column: u32,
}

impl Tokens {
    fn add(&mut self, section: &Section, before: u32, piece: Piece, wanted: &Lined<u32>) {
        let range = super::convert::range_in(section, piece.span, self.encoding);
        let line = range.start.line + before;
        if !wanted.contains(&line) || range.end.line != range.start.line {
            return;
        }
        let column = range.start.character;
        let number = Kind::ALL.iter().position(|(kind, _)| *kind == piece.kind).unwrap_or_default();
        self.found.push(SemanticToken {
            delta_line: line - self.line,
            delta_start: if line == self.line { column - self.column } else { column },
            length: range.end.character - column,
            token_type: u32::try_from(number).unwrap_or_default(),
            token_modifiers_bitset: u32::from(piece.wrong),
        });
        (self.line, self.column) = (line, column);
    }
}

/// The words and signs of a section in order; none lies in another.
fn pieces(book: &Book, at: usize, spoil: bool) -> Vec<Piece> {
    let (section, meaning) = (&*book.tree.sections[at], &book.meanings[at]);
    let mut pieces = Vec::new();
    let mut put = |span: Span, kind| pieces.push(Piece { span, kind, wrong: false });
    for statement in &section.statements {
        put(statement.word, Kind::Statement);
        for value in statement.values.iter().filter(|value| value.quoted) {
            put(value.span, Kind::Text);
        }
        if matches!(statement.keyword, Some(Keyword::Needs | Keyword::Avoids | Keyword::Teaches)) {
            for value in statement.values.iter().filter(|value| !value.quoted) {
                put(value.span, Kind::Pattern);
            }
        }
    }
    for line in &section.lines {
        match line.kind {
            LineKind::Comment => put(line.span, Kind::Comment),
            LineKind::Prose => {
                braces(&section.text, line.span).for_each(|brace| put(brace.span, Kind::Reference));
            }
            LineKind::Step => match section.step(line) {
                Some(StepLine::Step(_, Some(reason))) => put(reason.pattern, Kind::Pattern),
                Some(StepLine::Say(prose)) => {
                    braces(&section.text, *prose).for_each(|brace| put(brace.span, Kind::Reference));
                }
                Some(StepLine::Ask(question, _)) => put(*question, Kind::Text),
                Some(StepLine::Point(name)) => put(*name, Kind::Id),
                Some(StepLine::Finish(patterns)) => {
                    for pattern in patterns {
                        put(*pattern, Kind::Pattern);
                    }
                }
                Some(StepLine::Allow(_, why)) => put(*why, Kind::Text),
                None | Some(StepLine::Step(_, None) | StepLine::Show(_)) => {}
            },
            _ => {}
        }
    }
    for puzzle in meaning.puzzles() {
        puzzle.id.iter().for_each(|id| put(id.span, Kind::Id));
    }
    for reference in book.references_in(0, at) {
        put(reference.spot.span, Kind::Id);
    }
    for puzzle in meaning.puzzles() {
        of_grids(section, puzzle, spoil, &mut pieces);
    }
    // Of what lies in one another the inner is told, and nothing where both begin alike.
    pieces.sort_by_key(|piece| (piece.span.start, piece.span.end));
    let mut apart: Vec<Piece> = Vec::with_capacity(pieces.len());
    for piece in pieces.into_iter().filter(|piece| piece.span.start < piece.span.end) {
        match apart.last() {
            Some(last) if piece.span.start < last.span.end => {}
            _ => apart.push(piece),
        }
    }
    apart
}

/// The digits and marks of a puzzle's grids and sheets.
fn of_grids(section: &Section, puzzle: &Puzzle, spoil: bool, pieces: &mut Vec<Piece>) {
    let Some(layout) = &puzzle.layout else { return };
    let answer = puzzle.verdict_at_once().filter(|_| spoil);
    let wrong = |cell: Cell, digit: Digit| match answer {
        Some(Verdict::One(solution)) => solution.get(cell) != Some(digit),
        _ => false,
    };
    let cells = || layout.size().all_cells();
    let mut board = |board: &Board, kind| {
        for (cell, digit) in cells().filter_map(|cell| Some((cell, board.grid.get(cell)?))) {
            let wrong = kind == Kind::Entry && wrong(cell, digit);
            pieces.push(Piece { span: board.place(section, cell), kind, wrong });
        }
    };
    puzzle.givens.iter().for_each(|it| board(it, Kind::Given));
    puzzle.position.iter().for_each(|it| board(it, Kind::Entry));
    puzzle.solution.iter().for_each(|it| board(it, Kind::Given));
    for sheet in &puzzle.sheets {
        let token = |cell| of_token(puzzle, sheet, cell, &wrong);
        let told = cells().filter_map(|cell| Some((cell, token(cell)?)));
        pieces.extend(told.map(|(cell, (kind, wrong))| Piece {
            span: sheet.place(section, cell),
            kind,
            wrong,
        }));
    }
}

/// What stands in a cell of a sheet, and whether it is wrong.
fn of_token(
    puzzle: &Puzzle,
    sheet: &Sheet,
    cell: Cell,
    wrong: &impl Fn(Cell, Digit) -> bool,
) -> Option<(Kind, bool)> {
    let is_given = puzzle.givens.as_ref().is_some_and(|board| board.grid.get(cell).is_some());
    match sheet.token(cell) {
        Token::Empty => None,
        Token::Digit(_) if is_given => Some((Kind::Given, false)),
        Token::Digit(digit) | Token::Known(digit) => Some((Kind::Entry, wrong(cell, digit))),
        Token::Closed(_) | Token::Open(_) => Some((Kind::Mark, false)),
    }
}
