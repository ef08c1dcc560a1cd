//! Where a puzzle, a lesson or a point of a walk is, and where it is named.

use super::convert::Lines;
use super::place::Place;
use super::state::Snapshot;
use crate::notation::Span;
use tower_lsp::ls_types::{GotoDefinitionResponse, Location, Position};

/// Where that is borne which is named at a place: an id, or a point of the walks of an id.
pub fn answer(snapshot: &Snapshot, position: Position) -> Option<GotoDefinitionResponse> {
    let place = Place::of(snapshot, position);
    let here = |span: Span| span.start <= place.byte && place.byte <= span.end;
    let mut references = snapshot.book.references_in(0, place.at);
    let pointed = references.find_map(|reference| {
        let (point, spot) = reference.point?;
        here(spot.span).then_some((reference.id, point))
    });
    let found = if let Some((id, point)) = pointed {
        points(snapshot, id, point)
    } else {
        let (id, _) = snapshot.id_at(&place)?;
        snapshot.locations(&snapshot.bearers(|it| it == id))
    };
    (!found.is_empty()).then_some(GotoDefinitionResponse::Array(found))
}

/// So many places are given at once where they are wanted in parts.
const PART: usize = 50;

/// Every place where the id at a place stands; where it is borne, if that is wanted. What was given in parts is not given
/// again.
pub fn references(snapshot: &Snapshot, position: Position, borne_too: bool) -> Option<Vec<Location>> {
    let (id, _) = snapshot.id_at(&Place::of(snapshot, position))?;
    let mut mentions = snapshot.mentions(|it| it == id);
    mentions.retain(|mention| borne_too || !mention.borne);
    let places = snapshot.locations(&mentions);
    if !snapshot.errand.gives_parts() {
        return Some(places);
    }
    let wanted = places.chunks(PART).take_while(|_| !snapshot.errand.is_called_off());
    wanted.for_each(|part| snapshot.errand.part(&part));
    Some(Vec::new())
}

/// Where points of this name are, in the walks of the puzzles that bear this id.
fn points(snapshot: &Snapshot, id: &str, point: &str) -> Vec<Location> {
    let mut found = Vec::new();
    for (uri, book) in snapshot.files() {
        let lines = Lines::of(book, snapshot.encoding);
        for (at, meaning) in book.meanings.iter().enumerate() {
            let bearers =
                meaning.puzzles().filter(|puzzle| puzzle.id.as_ref().is_some_and(|own| own.text == id));
            let named = bearers.flat_map(|puzzle| &puzzle.points).filter(|name| name.text == point);
            found.extend(named.map(|name| Location { uri: uri.clone(), range: lines.range(at, name.span) }));
        }
    }
    found
}
