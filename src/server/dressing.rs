//! A puzzle in another dress: turned, mirrored, with other names for its digits; in all files in which it is told.

use super::actions::Deed;
use super::convert::Lines;
use super::deeds::Offer;
use super::place::Place;
use super::state::Snapshot;
use crate::board::{Digit, Size};
use crate::book::{Book, Entry, Puzzle};
use crate::edit::{Change, Dress, Names, Tied};
use crate::notation::{Keyword, Span};
use crate::sameness::{Transformation, Turn};
use tower_lsp::ls_types::{TextEdit, Uri};

/// The kind of the actions that turn and mirror.
const TURN: &str = "refactor.rewrite.turn";

/// The kind of the actions that name digits anew.
const RELABEL: &str = "refactor.rewrite.relabel";

/// The turns that are offered: the others are two of them, one after the other.
const TURNS: [(Turn, &str); 6] = [
    (Turn::Right, "turn by a quarter to the right"),
    (Turn::Left, "turn by a quarter to the left"),
    (Turn::Half, "turn by half"),
    (Turn::Across, "mirror from left to right"),
    (Turn::Down, "mirror from top to bottom"),
    (Turn::Diagonal, "mirror in the diagonal from top left"),
];

/// The plain names that are offered.
const NAMES: [(Names, &str); 2] = [
    (Names::AsGiven, "name the digits in the order in which they are given"),
    (Names::FirstRow, "name the digits so that the first row comes in order"),
];

/// What a puzzle is put into, and what of that nobody can change.
pub struct Dressed {
    /// What changes, in all files.
    pub edits: Vec<(Uri, TextEdit)>,
    /// Where prose names a digit, a line or a cell outside of braces: the file and the line, counted from 1.
    pub figures: Vec<(Uri, u32)>,
}

/// The turns and the names that are offered on the line of a puzzle or a lesson with a grid of its own.
pub fn offers(snapshot: &Snapshot, place: &Place) -> Vec<Offer> {
    let keyword = place.statement().and_then(|(_, statement)| statement.keyword);
    let Some(puzzle) = place.puzzle().filter(|_| matches!(keyword, Some(Keyword::Puzzle | Keyword::Lesson)))
    else {
        return Vec::new();
    };
    let Some(size) = puzzle.layout.as_ref().map(|layout| layout.size()) else { return Vec::new() };
    let offer = |title: &str, kind: &'static str, deed, how| {
        let not_now = why_not(snapshot, place, how);
        Offer { title: title.to_owned(), kind: kind.into(), deed, not_now }
    };
    let turns = TURNS.map(|(turn, title)| offer(title, TURN, Deed::Turn(turn), turn.of(size)));
    let names = NAMES
        .into_iter()
        .filter_map(|(names, title)| Some(offer(title, RELABEL, Deed::Name(names), names.of(puzzle)?)));
    turns.into_iter().chain(names).collect()
}

/// What a turn changes.
///
/// # Errors
/// Why it cannot be made.
pub fn turned(snapshot: &Snapshot, place: &Place, turn: Turn) -> Result<Vec<(Uri, TextEdit)>, String> {
    let size = size(place)?;
    true_afterwards(snapshot, dressed(snapshot, place, turn.of(size))?)
}

/// What plain names for the digits change.
///
/// # Errors
/// Why they cannot be given.
pub fn named(snapshot: &Snapshot, place: &Place, names: Names) -> Result<Vec<(Uri, TextEdit)>, String> {
    let how = place.puzzle().and_then(|puzzle| names.of(puzzle)).ok_or("The digits are named so already.")?;
    true_afterwards(snapshot, dressed(snapshot, place, how)?)
}

/// What it changes to exchange two digits; prose outside of braces stays as it is.
///
/// # Errors
/// Why it cannot be done.
pub fn exchanged(snapshot: &Snapshot, place: &Place, one: Digit, other: Digit) -> Result<Dressed, String> {
    dressed(snapshot, place, Transformation::swapping(size(place)?, one, other))
}

/// The size of the puzzle at a place.
///
/// # Errors
/// If none is known.
pub fn size(place: &Place) -> Result<Size, String> {
    let layout = place.puzzle().and_then(|puzzle| puzzle.layout.as_ref());
    Ok(layout.ok_or("No puzzle that could be read stands here.")?.size())
}

/// Why a puzzle cannot be put into a dress in which all that is told of it is true; `None` if it can.
fn why_not(snapshot: &Snapshot, place: &Place, how: Transformation) -> Option<String> {
    let puzzle = place.puzzle()?;
    let dress = match Dress::of(place.section, puzzle, how) {
        Ok(dress) => dress,
        Err(tied) => return Some(tied.to_string()),
    };
    let figure = dress.figures(place.section, puzzle).into_iter().next()?;
    Some(stays(&[snapshot.range(place.at, figure).start.line + 1]))
}

/// The edits of a dress in which nothing stays as it was.
fn true_afterwards(snapshot: &Snapshot, dressed: Dressed) -> Result<Vec<(Uri, TextEdit)>, String> {
    let told = figures_in_words(snapshot, &dressed.figures);
    told.map_or(Ok(dressed.edits), |told| Err(format!("Nothing is changed: {told}.")))
}

/// That prose stays as it is, as a sentence without its end; `None` where none does.
pub fn figures_in_words(snapshot: &Snapshot, figures: &[(Uri, u32)]) -> Option<String> {
    let (uri, _) = figures.first()?;
    let here: Vec<u32> = figures.iter().filter(|(other, _)| other == uri).map(|(_, line)| *line).collect();
    let name = uri.as_str().rsplit('/').next().unwrap_or_default();
    Some(if *uri == snapshot.uri { stays(&here) } else { format!("in {name}, {}", stays(&here)) })
}

fn stays(lines: &[u32]) -> String {
    let numbers: Vec<String> = lines.iter().map(u32::to_string).collect();
    let named = match &numbers[..] {
        [line] => format!("line {line} names"),
        [first @ .., last] => format!("lines {} and {last} name", first.join(", ")),
        [] => String::new(),
    };
    format!("{named} digits, lines or cells outside of braces, which stay as they are")
}

/// Why nothing is changed that other files may tell of.
pub const NOT_ALL_READ: &str = "Nothing is changed: not all files of its folder are read yet.";

/// A puzzle in another dress, with its answers and the lessons that start from it, in all files.
fn dressed(snapshot: &Snapshot, place: &Place, how: Transformation) -> Result<Dressed, String> {
    let puzzle = place.puzzle().ok_or("No puzzle stands here.")?;
    if !snapshot.is_whole {
        return Err(NOT_ALL_READ.to_owned());
    }
    let dress =
        Dress::of(place.section, puzzle, how).map_err(|tied| format!("Nothing is changed: {tied}."))?;
    let id = puzzle.id.as_ref().map(|id| id.text.as_str());
    let mut dressed = Dressed { edits: Vec::new(), figures: Vec::new() };
    for (file, (uri, book)) in snapshot.files().enumerate() {
        let mut told: Vec<Told> = Vec::new();
        if file == 0 {
            told.extend(told_before(book, &dress, (place.at, puzzle)));
            told.push((place.at, dress.puzzle(place.section, puzzle), dress.figures(place.section, puzzle)));
        }
        if let Some(id) = id {
            told.extend(told_elsewhere(book, &dress, id)?);
        }
        if told.is_empty() {
            continue;
        }
        let lines = Lines::of(book, snapshot.encoding);
        for (at, changes, figures) in told {
            let edit = |change: Change| TextEdit::new(lines.range(at, change.span), change.text);
            dressed.edits.extend(changes.into_iter().map(|change| (uri.clone(), edit(change))));
            let line = |span: Span| (uri.clone(), lines.range(at, span).start.line + 1);
            dressed.figures.extend(figures.into_iter().map(line));
        }
    }
    Ok(dressed)
}

/// A section of a file, what changes in it, and the figures in its prose.
type Told = (usize, Vec<Change>, Vec<Span>);

/// The texts of its file that speak of a puzzle, which stands in this section.
fn told_before(book: &Book, dress: &Dress, (at, puzzle): (usize, &Puzzle)) -> Vec<Told> {
    let is_meant = |text: usize| {
        book.spoken_of(text).is_some_and(|(other, it)| other == at && it.statements == puzzle.statements)
    };
    let mut told = Vec::new();
    for (text, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            if matches!(entry, Entry::Preface | Entry::Part) && is_meant(text) {
                told.push((text, dress.text(section, item), Vec::new()));
            }
        }
    }
    told
}

/// The answers of a puzzle that stand apart from it, and the lessons that start from it.
///
/// # Errors
/// Which of them cannot be read.
fn told_elsewhere(book: &Book, dress: &Dress, id: &str) -> Result<Vec<Told>, String> {
    let why = |what: String| move |tied: Tied| format!("Nothing is changed, for the sake of {what}: {tied}.");
    let mut told = Vec::new();
    for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
        for entry in &meaning.entries {
            match entry {
                Entry::Answer(answer) if answer.id.as_ref().is_some_and(|it| it.text == id) => {
                    let changes =
                        dress.answer(book, at, answer).map_err(why(format!("the answer of `{id}`")))?;
                    told.push((at, changes, Vec::new()));
                }
                Entry::Puzzle(lesson) if lesson.borrows(section).is_some_and(|(it, _)| it == id) => {
                    let name = lesson.id.as_ref().map_or("without an id", |id| &*id.text);
                    let changes =
                        dress.lesson(section, lesson).map_err(why(format!("the lesson `{name}`")))?;
                    told.push((at, changes, dress.figures(section, lesson)));
                }
                _ => {}
            }
        }
    }
    Ok(told)
}
