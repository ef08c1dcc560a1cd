//! Another name: an id for a puzzle or a lesson, wherever it is named; in a grid a digit, which trades names with the other
//! one in all that is told of the puzzle.

use super::actions::edit;
use super::dressing;
use super::place::Place;
use super::state::Snapshot;
use crate::board::Digit;
use crate::book::is_id;
use tower_lsp::ls_types::{Position, PrepareRenameResponse, TextEdit, WorkspaceEdit};

/// What a rename comes to.
pub struct Renamed {
    /// What changes.
    pub edit: WorkspaceEdit,
    /// What there is to say of it.
    pub told: Option<String>,
}

/// What would be renamed at a place.
pub fn prepare(snapshot: &Snapshot, position: Position) -> Option<PrepareRenameResponse> {
    let place = Place::of(snapshot, position);
    let (name, span) = match place.digit() {
        Some((digit, span)) => (digit.to_string(), span),
        None => snapshot.id_at(&place).map(|(id, span)| (id.to_owned(), span))?,
    };
    let range = snapshot.range(place.at, span);
    Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder: name })
}

/// The edits that give what bears the id at a place a new one, or the digit there the name of another, in all files.
///
/// # Errors
/// Why that cannot be.
pub fn answer(snapshot: &Snapshot, position: Position, new: &str) -> Result<Option<Renamed>, String> {
    let place = Place::of(snapshot, position);
    if let Some((digit, _)) = place.digit() {
        return exchange(snapshot, &place, digit, new.trim()).map(Some);
    }
    let Some((id, _)) = snapshot.id_at(&place) else { return Ok(None) };
    if !is_id(new) {
        return Err(format!("`{new}` cannot be an id: letters, figures, `-`, `.` and `_` can stand in one"));
    }
    if !snapshot.is_whole {
        return Err(dressing::NOT_ALL_READ.to_owned());
    }
    if new != id && !snapshot.bearers(|it| it == new).is_empty() {
        return Err(format!("`{new}` is the id of another puzzle or lesson"));
    }
    let places = snapshot.locations(&snapshot.mentions(|it| it == id));
    let edits = places.into_iter().map(|place| (place.uri, TextEdit::new(place.range, new.to_owned())));
    Ok(Some(Renamed { edit: edit(snapshot, edits.collect()), told: None }))
}

/// Two digits trade names.
fn exchange(snapshot: &Snapshot, place: &Place, digit: Digit, new: &str) -> Result<Renamed, String> {
    let all = dressing::size(place)?.digits();
    let mut symbols = new.chars();
    let other = symbols.next().filter(|_| symbols.next().is_none()).and_then(Digit::from_symbol);
    let other = other.filter(|other| all.contains(*other)).ok_or_else(|| {
        let last = all.iter().last().map_or('1', Digit::symbol);
        format!("`{new}` is no digit of this puzzle: its digits are 1 to {last}")
    })?;
    let dressed = dressing::exchanged(snapshot, place, digit, other)?;
    let figures = dressing::figures_in_words(snapshot, &dressed.figures);
    let told = figures.filter(|_| digit != other);
    let told = told.map(|stays| format!("{digit} and {other} have traded names; {stays}."));
    Ok(Renamed { edit: edit(snapshot, dressed.edits), told })
}
