//! A syntax tree made meaningful: collections, puzzles, their layouts, grids and facts.
//!
//! Whatever is broken is absent (`None`), and a [`Fault`] says why: so nothing that leans on it can be judged by
//! mistake. Each section of a file gets its [`Meaning`] from its own tree and the defaults that hold there, and from
//! nothing else.

mod assertion;
mod begins;
mod between;
mod board;
mod claims;
mod constraint;
mod facts;
mod fault;
mod file;
mod fingerprint;
mod geometry;
mod meaning;
mod puzzle;
mod reference;
mod sheet;
mod symmetry;
#[cfg(test)]
mod tests;
mod values;
mod verdict;
mod walkthrough;
mod words;
mod workspace;

pub use assertion::{Asserted, Assertion, Because, Recalled};
pub use board::{Board, has_rows};
pub use claims::{cells_at, cells_in, house_name, is_id};
pub use facts::*;
pub use fault::*;
pub use file::{Book, Touched};
pub use fingerprint::fingerprint;
pub use geometry::Layouts;
pub use meaning::{Defaults, Meaning};
pub use puzzle::{Answer, Entry, Name, Puzzle};
pub use reference::{Reference, ReferenceBy, Taken};
pub use sheet::*;
pub use verdict::*;
pub use walkthrough::*;
pub use words::words_of;
pub use workspace::*;
