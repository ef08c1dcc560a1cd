//! Reasoning held against what it is not made of: a SAT solver, brute force, and a reader who has only the digits.
//!
//! The long runs are `cargo test --release --test reasoning -- --ignored --nocapture`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may stop, and its tables are for reading"
)]

#[allow(dead_code, reason = "the outside checks use the rest")]
#[path = "../outside/known.rs"]
mod known;
#[allow(dead_code, reason = "likewise")]
#[path = "../outside/random.rs"]
mod random;
#[allow(dead_code, reason = "likewise")]
#[path = "../outside/sat.rs"]
mod sat;

mod definitions;
mod puzzles;
mod room;

mod cases;
mod chains;
mod cheapest;
mod climbs;
mod complete;
mod grades;
mod grouped;
mod plans;
mod proofs;
mod replay;
mod shares;
mod sound;
mod teach;
mod unique;
