//! Reasoning held against what it is not made of: solutions, a SAT solver, brute force.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may stop, and its tables are for reading"
)]

#[allow(dead_code, reason = "the outside checks use the rest")]
#[path = "../outside/random.rs"]
mod random;

mod grades;
mod sound;
