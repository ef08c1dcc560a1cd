//! Facts with a meaning of their own: geometry, and what is claimed of a puzzle.

use crate::board::{BoxShape, Size};
use crate::notation::Span;

/// A fact's value, and where it is said.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fact<T> {
    /// What is said.
    pub value: T,
    /// Where: the whole statement's line, if `own`; meaningless if not.
    pub span: Span,
    /// Said in the puzzle itself, and not before the first puzzle of its file or part.
    pub own: bool,
}

/// What is said of a puzzle, by itself or by default. Each is `None` where it is unsaid or could not be read.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Facts {
    /// `size`.
    pub size: Option<Fact<Size>>,
    /// `boxes`.
    pub boxes: Option<Fact<BoxShape>>,
    /// `rules diagonals`.
    pub diagonals: Option<Fact<bool>>,
    /// `house NAME CELLS`, each.
    pub houses: Vec<Fact<ExtraHouse>>,
    /// `marks`.
    pub marks: Option<Fact<Marks>>,
    /// `clues N[-M]`: least and most.
    pub clues: Option<Fact<(u16, u16)>>,
    /// `symmetry`.
    pub symmetry: Option<Fact<Symmetry>>,
    /// `minimal`.
    pub minimal: Option<Fact<()>>,
    /// `number`: unique in its file.
    pub number: Option<Fact<u32>>,
    /// `size` or geometry is said and could not be read: no layout can be trusted.
    pub geometry_broken: bool,
}

/// An extra house as written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ExtraHouse {
    /// Its name.
    pub name: String,
    /// Its cells, zero-based row and column, in the order written.
    pub cells: Vec<(u8, u8)>,
}

/// What open marks mean.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Marks {
    /// `free`: noted, no claim about the rest.
    Free,
    /// `by-box`: where a box has an open mark of a digit, its digit is in one of the cells so marked.
    ByBox,
}

/// How the pattern of givens is carried to itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Symmetry {
    /// `half-turn`
    HalfTurn,
    /// `quarter-turn`
    QuarterTurn,
    /// `mirror-across`: left and right.
    MirrorAcross,
    /// `mirror-down`: top and bottom.
    MirrorDown,
    /// `mirror-diagonal`: in the diagonal from top left to bottom right, or in the other.
    MirrorDiagonal,
    /// `none`: none of these.
    None,
}
