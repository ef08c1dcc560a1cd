//! The board and the search against what others found out: cases with known answers, published counts, and a SAT
//! solver.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "every line of it is a test")]

mod cases;
mod counts;
#[allow(dead_code, reason = "the tests of reasoning use the rest")]
mod random;
#[allow(dead_code, reason = "likewise")]
mod sat;
mod search;
mod ways;
