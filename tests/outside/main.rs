//! The board, the search and the comparison of puzzles against what others found out: cases with known answers,
//! published counts, and a SAT solver.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "every line of it is a test")]

mod bands;
mod cases;
mod counts;
mod known;
#[allow(dead_code, reason = "the tests of reasoning use the rest")]
mod random;
mod sameness;
#[allow(dead_code, reason = "likewise")]
mod sat;
mod search;
mod several;
mod ways;
