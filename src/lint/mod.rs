//! Findings: one file each, in one table.
//!
//! A finding's file holds its page (the comment at its top, which `explain` prints and whose example a test executes),
//! its check, and its fixes. Checks come in kinds ([`Check`]): most only put words to a fault that reading has already
//! found; some look at a puzzle, and some at the whole workspace. The modules of findings are public for the sake of
//! their pages, which editors link to.

mod allow;
mod allowed;
mod borrowing;
mod check;
mod finding;
mod ids;
mod mend;
mod place;
mod recollection;
mod repeats;
mod report;
mod said;
mod same;
mod sheet;
mod slip;
mod table;
mod walk;
mod wording;

// Lines.
pub mod block_without_start;
pub mod brace_open;
pub mod encoding;
pub mod not_indented;
pub mod quote_open;
pub mod repeated_statement;
pub mod statement_indented;
pub mod unknown_statement;
pub mod value_missing;
pub mod value_unreadable;

// Items.
pub mod grid_missing;
pub mod id_missing;
pub mod id_repeated;
pub mod id_shape;
pub mod id_unknown;
pub mod number_repeated;
pub mod point_unknown;
pub mod puzzle_missing;
pub mod reference_unknown;

// Grids.
pub mod boxes_unsaid;
pub mod mark_unreadable;
pub mod regions_shape;
pub mod row_length;
pub mod row_unreadable;
pub mod rows_extra;
pub mod rows_missing;
pub mod size_unsaid;
pub mod symbol_outside;

// Puzzles.
pub mod avoids_wrong;
pub mod cell_without_candidate;
pub mod clues_wrong;
pub mod constraint_unchecked;
pub mod constraint_unreadable;
pub mod digit_without_place;
pub mod givens_clash;
pub mod level_wrong;
pub mod many_solutions;
pub mod needs_wrong;
pub mod no_solution;
pub mod not_minimal;
pub mod pattern_unknown;
pub mod scanning_wrong;
pub mod solution_wrong;
pub mod symmetry_wrong;
pub mod undecided;

// Sheets.
pub mod known_early;
pub mod known_false;
pub mod mark_impossible;
pub mod mark_missing;
pub mod work_against_given;
pub mod work_clash;
pub mod work_wrong;

// Walks.
pub mod cell_outside;
pub mod digit_outside;
pub mod finish_stuck;
pub mod house_unknown;
pub mod prose_false;
pub mod reason_unreadable;
pub mod show_unreadable;
pub mod step_early;
pub mod step_false;
pub mod step_incomplete;
pub mod step_reason;
pub mod step_stale;
pub mod step_unreadable;
pub mod steps_unfinished;
pub mod teaches_wrong;

// Books.
pub mod allow_unused;
pub mod printed_changed;
pub mod repeated_puzzle;
pub mod repeats_undecided;
pub mod repeats_wrong;

pub use check::*;
pub use finding::*;
pub use mend::*;
pub use report::*;
pub use said::*;
pub use table::FINDINGS;
