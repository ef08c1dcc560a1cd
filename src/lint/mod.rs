//! Findings: one file each, in one table.
//!
//! A finding's file holds its page (the comment at its top, which `explain` prints and whose example a test executes),
//! its check, and its fixes. Checks come in kinds ([`Check`]): most only put words to a fault that reading has already
//! found; some look at a puzzle, and some at the whole workspace.

mod allow;
mod check;
mod finding;
mod ids;
mod mend;
mod place;
mod repeats;
mod report;
mod sheet;
mod slip;
mod table;
mod wording;

// Lines.
mod block_without_start;
mod brace_open;
mod encoding;
mod not_indented;
mod quote_open;
mod repeated_statement;
mod statement_indented;
mod unknown_statement;
mod value_missing;
mod value_unreadable;

// Items.
mod grid_missing;
mod id_missing;
mod id_repeated;
mod id_shape;
mod id_unknown;
mod number_repeated;
mod point_unknown;
mod puzzle_missing;
mod reference_unknown;

// Grids.
mod boxes_unsaid;
mod mark_unreadable;
mod regions_shape;
mod row_length;
mod row_unreadable;
mod rows_extra;
mod rows_missing;
mod size_unsaid;
mod symbol_outside;

// Puzzles.
mod avoids_wrong;
mod cell_without_candidate;
mod clues_wrong;
mod constraint_unchecked;
mod constraint_unreadable;
mod digit_without_place;
mod givens_clash;
mod level_wrong;
mod many_solutions;
mod needs_wrong;
mod no_solution;
mod not_minimal;
mod pattern_unknown;
mod scanning_wrong;
mod solution_wrong;
mod symmetry_wrong;
mod undecided;

// Sheets.
mod mark_impossible;
mod mark_missing;
mod work_against_given;
mod work_clash;
mod work_wrong;

// Walks.
mod cell_outside;
mod digit_outside;
mod house_unknown;
mod reason_unreadable;
mod show_unreadable;
mod step_incomplete;
mod step_unreadable;

// Books.
mod allow_unused;

pub use check::*;
pub use finding::*;
pub use mend::*;
pub use report::*;
pub use table::FINDINGS;
