//! Which patterns there are, and what they are called.

mod names;

pub use names::*;
