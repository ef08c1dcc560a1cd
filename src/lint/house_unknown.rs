//! A house is named that the puzzle does not have.
//!
//! ## Why
//! Every puzzle has rows and columns; boxes, regions, diagonals and extra houses only as its layout says. A claim about a
//! house that is not there cannot be checked.
//!
//! ## Found
//! ```gset
//! puzzle lm-01 "Lamp Oil"
//! known
//!   diagonal 1 misses 1347
//! #~         ^ house-unknown: this puzzle has no diagonal 1
//! givens
//! ```
//!
//! ## Fixed
//! By hand: name a house of the puzzle, or say that it has this one, here by `rules diagonals`.

use super::wording::shown;
use super::{Check, Draft, Finding, Group, Scene, Severity};
use crate::board::HouseName;
use crate::book::{Entry, Fault, FaultKind};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "house-unknown",
    group: Group::Walks,
    severity: Severity::Error,
    check: Check::Meaning(check),
    source: include_str!("house_unknown.rs"),
};

fn check(scene: &Scene, fault: &Fault) -> Option<Draft> {
    let FaultKind::HouseUnknown(house) = &fault.kind else { return None };
    Some(Draft::new(
        fault.span,
        format!("this puzzle has no {}", shown(&house.to_string())),
        help(scene, fault, house),
    ))
}

fn help(scene: &Scene, fault: &Fault, house: &HouseName) -> String {
    let layout = match scene.meaning.entries.get(scene.item_at(fault.span)) {
        Some(Entry::Puzzle(puzzle)) => puzzle.layout.as_ref(),
        _ => None,
    };
    let there: Vec<&HouseName> = layout
        .iter()
        .flat_map(|layout| layout.houses())
        .map(|there| &there.name)
        .filter(|there| std::mem::discriminant(*there) == std::mem::discriminant(house))
        .collect();
    match (there[..].first().zip(there[..].last()), house) {
        (Some((first, last)), _) if first == last => format!("name {first}, the only one of its kind"),
        (Some((first, last)), HouseName::Named(_)) => {
            format!("name one of its extra houses, from {first} to {last}")
        }
        (Some((first, last)), _) => format!("name one from {first} to {last}"),
        (None, HouseName::Box(_)) => "name a region instead: this puzzle has no boxes".to_owned(),
        (None, HouseName::Region(_)) => "name a box instead: this puzzle has no regions".to_owned(),
        (None, HouseName::Diagonal(_)) => {
            "name another house, or write `rules diagonals` if they are houses here".to_owned()
        }
        (None, _) => "name another house, or say by `house` which cells it has".to_owned(),
    }
}
