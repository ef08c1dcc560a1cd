//! The findings, in the order in which they are listed: by group, and in each group the errors first.

#[allow(clippy::wildcard_imports, reason = "one name from each of the modules of this room")]
use super::*;

/// Every finding.
pub static FINDINGS: &[&Finding] = &[
    // Lines.
    &unknown_statement::FINDING,
    &value_missing::FINDING,
    &value_unreadable::FINDING,
    &quote_open::FINDING,
    &brace_open::FINDING,
    &statement_indented::FINDING,
    &block_without_start::FINDING,
    &repeated_statement::FINDING,
    &encoding::FINDING,
    &not_indented::FINDING,
    // Items.
    &puzzle_missing::FINDING,
    &id_missing::FINDING,
    &id_repeated::FINDING,
    &id_unknown::FINDING,
    &point_unknown::FINDING,
    &reference_unknown::FINDING,
    &grid_missing::FINDING,
    &id_shape::FINDING,
    &number_repeated::FINDING,
    // Grids.
    &row_unreadable::FINDING,
    &row_length::FINDING,
    &rows_missing::FINDING,
    &rows_extra::FINDING,
    &symbol_outside::FINDING,
    &boxes_unsaid::FINDING,
    &regions_shape::FINDING,
    &mark_unreadable::FINDING,
    &size_unsaid::FINDING,
    // Puzzles.
    &givens_clash::FINDING,
    &cell_without_candidate::FINDING,
    &digit_without_place::FINDING,
    &no_solution::FINDING,
    &many_solutions::FINDING,
    &solution_wrong::FINDING,
    &pattern_unknown::FINDING,
    &constraint_unreadable::FINDING,
    &undecided::FINDING,
    &level_wrong::FINDING,
    &needs_wrong::FINDING,
    &avoids_wrong::FINDING,
    &scanning_wrong::FINDING,
    &symmetry_wrong::FINDING,
    &clues_wrong::FINDING,
    &not_minimal::FINDING,
    &constraint_unchecked::FINDING,
    // Sheets.
    &work_against_given::FINDING,
    &work_clash::FINDING,
    &work_wrong::FINDING,
    &mark_impossible::FINDING,
    &mark_missing::FINDING,
    // Walks.
    &step_unreadable::FINDING,
    &step_incomplete::FINDING,
    &cell_outside::FINDING,
    &digit_outside::FINDING,
    &house_unknown::FINDING,
    &reason_unreadable::FINDING,
    &show_unreadable::FINDING,
    // Books.
    &allow_unused::FINDING,
];
