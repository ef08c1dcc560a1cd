//! A puzzle could not be compared with the others.
//!
//! ## Why
//! To tell whether two puzzles are the same in another dress, the lines of each are brought into an order of its own. Where
//! a grid is large and nearly empty, or full of symmetries, so many lines look alike that the search for that order
//! stops at a limit, the same on every machine. Then nothing is said of the puzzle, rather than something guessed.
//!
//! ## Found
//! No puzzle with one solution is known that shows it at the usual sizes; the limit is there for files that are made to
//! take long.
//!
//! ## Fixed
//! By hand: nothing needs to be done; compare the puzzle by eye if it matters.

use super::same::compared;
use super::{Check, Draft, Finding, Group, Severity};
use crate::book::{SectionId, Workspace};

/// See the page above.
pub static FINDING: Finding = Finding {
    name: "repeats-undecided",
    group: Group::Books,
    severity: Severity::Info,
    check: Check::Workspace(check),
    source: include_str!("repeats_undecided.rs"),
};

fn check(workspace: &Workspace) -> Vec<(SectionId, Draft)> {
    let undecided = compared(workspace).into_iter().filter_map(|one| {
        let why = one.form.err()?;
        let help = "leave it, or compare the puzzle by eye";
        Some((one.section, Draft::new(one.puzzle.head, why.to_string(), help)))
    });
    undecided.collect()
}
