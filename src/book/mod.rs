//! A syntax tree made meaningful: collections, puzzles, their layouts, grids and facts.
//!
//! Whatever is broken is absent (`None`), and a [`Fault`] says why: so nothing that leans on it can be judged by
//! mistake. Each section of a file gets its [`Meaning`] from its own tree and the defaults that hold there, and from
//! nothing else.

mod board;
mod facts;
mod fault;
mod meaning;
mod puzzle;
mod verdict;
mod workspace;

pub use board::*;
pub use facts::*;
pub use fault::*;
pub use meaning::*;
pub use puzzle::*;
pub use verdict::*;
pub use workspace::*;
