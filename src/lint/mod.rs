//! Findings: one file each, in one table.
//!
//! A finding's file holds its page (the comment at its top, which `explain` prints and whose example a test executes),
//! its check, and its fixes. Checks come in kinds ([`Check`]): most only put words to a fault that reading has already
//! found; some look at a puzzle, and some at the whole workspace.

mod check;
mod finding;
mod report;

pub use check::*;
pub use finding::*;
pub use report::*;
