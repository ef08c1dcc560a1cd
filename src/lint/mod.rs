//! Findings: one file each, in one table.
