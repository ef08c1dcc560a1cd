//! Which patterns there are, what they are called, in which order they are tried, and what level each has.

mod levels;
mod names;
mod order;
mod pattern;

pub use names::*;
pub use order::{Ladder, Rung};
pub use pattern::Pattern;
