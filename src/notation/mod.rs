//! Text to syntax tree and back: the notation, read without ever failing and without losing a byte.
//!
//! [`read()`] turns the text of a file into a [`Tree`]. The tree holds every byte (printing it gives the file
//! back) and, beside what could be read, a [`Fault`] for each place that could not. What a puzzle's size, layout
//! or other files say plays no part here; meaning is made one room up, in `book/`.

mod block;
mod claim;
mod fault;
mod keyword;
mod line;
mod look;
mod meaning;
mod outer;
mod prose;
mod read;
mod reader;
mod scan;
mod span;
mod statement;
mod step;
#[cfg(test)]
mod tests;
mod text;
mod tree;

pub use claim::*;
pub use fault::*;
pub use keyword::*;
pub use line::{is_blank, is_cell, is_gap, is_open, is_quote};
pub use prose::*;
pub use read::*;
pub use span::*;
pub use step::*;
pub use text::Text;
pub use tree::*;
