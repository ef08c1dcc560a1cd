//! Another id for a puzzle or a lesson, wherever it is named.

use super::actions::edit;
use super::convert::Lines;
use super::place::Place;
use super::state::Snapshot;
use crate::book::is_id;
use tower_lsp::ls_types::{Position, PrepareRenameResponse, TextEdit, WorkspaceEdit};

/// What would be renamed at a place.
pub fn prepare(snapshot: &Snapshot, position: Position) -> Option<PrepareRenameResponse> {
    let place = Place::of(snapshot, position);
    let (id, span) = snapshot.id_at(&place)?;
    let range = Lines::of(&snapshot.book, snapshot.encoding).range(place.at, span);
    Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder: id.to_owned() })
}

/// The edits that give what bears the id at a place a new one, in all files.
///
/// # Errors
/// Why that cannot be.
pub fn answer(snapshot: &Snapshot, position: Position, new: &str) -> Result<Option<WorkspaceEdit>, String> {
    let Some((id, _)) = snapshot.id_at(&Place::of(snapshot, position)) else { return Ok(None) };
    if !is_id(new) {
        return Err(format!("`{new}` cannot be an id: letters, figures, `-`, `.` and `_` can stand in one"));
    }
    if new != id && snapshot.mentions(|it| it == new).iter().any(|mention| mention.borne) {
        return Err(format!("`{new}` is the id of another puzzle or lesson"));
    }
    let places = snapshot.locations(&snapshot.mentions(|it| it == id));
    let edits = places.into_iter().map(|place| (place.uri, TextEdit::new(place.range, new.to_owned())));
    Ok(Some(edit(snapshot, edits.collect())))
}
