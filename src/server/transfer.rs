//! What stands on a solver's sheet, as the next steps of the walkthrough.
//!
//! A teacher who has worked on a sheet expects the walk to tell how its reader comes to the same sheet, and no more: each
//! digit that was written in or is known (`5!`), closed marks that are fewer than the candidates, and the facts of the
//! `known` block beside it, become steps where the ladder has a step for them. Open marks claim nothing and become
//! none. A step that the sheet does not show is not added, though more would follow by it: what no step gives is left for
//! the author, and the title of the action says so.

use super::place::{Block, Place};
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::{Sheet, known};
use crate::edit::{Change, add_lines};
use crate::replay::{Wanted, Way};

/// So many cells that are left are named in the title; more are counted.
const NAMED: usize = 3;

/// What the action that writes the steps is called: it says what these leave. `None` where the place is on no sheet, or
/// nothing of it follows.
pub fn title(snapshot: &Snapshot, place: &Place) -> Option<String> {
    let (_, way) = lead(snapshot, place)?;
    let title = "write the sheet as the next steps";
    let left = left(&way);
    Some(if left.is_empty() { title.to_owned() } else { format!("{title}, without {left}") })
}

/// The change that writes what a sheet has beyond the end of the walkthrough without a name as its next lines, in an order
/// in which each follows; `None` as for the title.
pub fn change(snapshot: &Snapshot, place: &Place) -> Option<Change> {
    let (at, way) = lead(snapshot, place)?;
    Some(add_lines(place.section, &at.walk, &way.lines))
}

fn lead<'a>(snapshot: &'a Snapshot, place: &Place<'a>) -> Option<(WalkAt<'a>, Way)> {
    let Some(Block::Sheet(sheet)) = place.block() else { return None };
    let at = WalkAt::unnamed(snapshot, place)?;
    let way = way(place, &at, sheet);
    (!way.lines.is_empty()).then_some((at, way))
}

fn way(place: &Place, at: &WalkAt, sheet: &Sheet) -> Way {
    let facts = known(place.section, at.puzzle, Some(sheet), &at.start.layout);
    at.replay().end.toward(&at.ground(), Wanted { sheet, facts: &facts })
}

/// What the steps leave, in words; empty for nothing.
fn left(way: &Way) -> String {
    let cells = match way.cells.len() {
        0 => None,
        1..=NAMED => Some(way.cells.iter().map(|cell| cell.to_string()).collect::<Vec<_>>().join(" ")),
        many => Some(format!("{many} cells")),
    };
    let facts = match way.facts {
        0 => None,
        1 => Some("a fact".to_owned()),
        many => Some(format!("{many} facts")),
    };
    [cells, facts].into_iter().flatten().collect::<Vec<_>>().join(" and ")
}
