//! A point is named that the puzzle's walks do not have.
//!
//! ## Why
//! A lesson starts, and prose speaks of the grid, at a point that a walk of the puzzle names with `point`. Without the
//! point the position is unknown.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! steps
//!   point two-lamps
//!
//! lesson two-looks "Two looks"
//! from       lm-01 at two-lamp
//! #~                  ^^^^^^^^ point-unknown: no walk of `lm-01` has a point `two-lamp`
//! ```
//!
//! ## Fixed
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! size       4
//! givens
//!   1 .  . .
//!   . .  2 .
//!   . 3  . .
//!   . .  . 4
//! steps
//!   point two-lamps
//!
//! lesson two-looks "Two looks"
//! from       lm-01 at two-lamps
//! ```

use super::ids::Ids;
use super::wording::{Comparing, either, nearest, shown};
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{Puzzle, SectionId, Workspace};
use crate::notation::{Keyword, Section};
use std::cell::LazyCell;
use std::collections::{BTreeMap, BTreeSet};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "point-unknown",
    group: Group::Items,
    severity: Severity::Error,
    check: Check::Workspace(check),
    source: include_str!("point_unknown.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let ids = LazyCell::new(|| Ids::of(workspace)); // few references have a point
    let (mut walks, mut comparing) = (BTreeMap::new(), Comparing::new());
    let mut drafts = Vec::new();
    for reference in workspace.references() {
        let (id, Some((point, spot))) = (reference.id, reference.point) else { continue };
        let [bearer] = ids.bearers(id) else { continue };
        let points = || points_of(bearer.puzzle, workspace.section(bearer.section));
        let Some(points) = walks.entry(id).or_insert_with(points) else { continue };
        if points.contains(point) {
            continue;
        }
        let near = if comparing.may_compare(point, points.len()) {
            nearest(point, points.iter().copied())
        } else {
            Vec::new()
        };
        let message = format!("no walk of `{}` has a point `{}`", shown(id), shown(point));
        let help = match near[..] {
            [] => format!("write `point {}` in a walk of that puzzle, or take it out here", shown(point)),
            _ => format!("write {}, if that is meant", either(&near)),
        };
        let draft = Draft::new(spot.span, message, help);
        let draft = near.iter().fold(draft, |draft, near| {
            draft.propose(format!("write `{near}`"), vec![(spot.span, (*near).to_owned())])
        });
        drafts.push((spot.section, draft));
    }
    drafts
}

/// The points of a puzzle's walks. `None` if one of these could not be read, which may have any in one of its lines.
fn points_of<'a>(puzzle: &'a Puzzle, section: &Section) -> Option<BTreeSet<&'a str>> {
    let mut walks = section.statements.iter().filter(|it| it.keyword == Some(Keyword::Steps));
    let points = puzzle.points.iter().map(|point| point.text.as_str());
    walks.all(|walk| !walk.broken).then(|| points.collect())
}
