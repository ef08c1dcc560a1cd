//! The board and the search against what others found out: cases with known answers, published counts, and a SAT
//! solver.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "every line of it is a test")]

mod cases;
mod counts;
#[allow(dead_code, reason = "the checks of reasoning use the rest")]
mod random;
mod sat;
mod search;
