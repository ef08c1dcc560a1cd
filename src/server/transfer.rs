//! What was filled in on a solver's sheet, as the next steps of the walkthrough.

use super::place::{Block, Place};
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::{Sheet, Token};
use crate::edit::{Change, add_lines};

/// Whether a place is on a sheet, so that it may be asked what there leads on the walkthrough.
pub fn is_on_sheet(place: &Place) -> bool {
    matches!(place.block(), Some(Block::Sheet(_)))
}

/// The change that writes what a sheet has beyond the end of the walkthrough without a name as its next lines, in an order
/// in which each follows; `None` where the place is on no sheet, or nothing of it follows.
pub fn change(snapshot: &Snapshot, place: &Place) -> Option<Change> {
    let Some(Block::Sheet(sheet)) = place.block() else { return None };
    let at = WalkAt::unnamed(snapshot, place)?;
    let lines = lines(&at, sheet);
    (!lines.is_empty()).then(|| add_lines(place.section, &at.walk, &lines))
}

fn lines(at: &WalkAt, sheet: &Sheet) -> Vec<String> {
    let replay = at.replay();
    let mut wanted = sheet.grid(&at.start.givens);
    for cell in at.start.givens.empty_cells() {
        if let Token::Known(digit) = sheet.token(cell) {
            wanted.set(cell, Some(digit));
        }
    }
    replay.end.toward(&at.ground(), &wanted)
}
