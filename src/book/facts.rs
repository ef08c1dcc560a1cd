//! Facts with a meaning of their own: geometry, and what is claimed of a puzzle.

use crate::board::{BoxShape, Cell, Size};
use crate::notation::Span;
use std::sync::Arc;

/// A fact's value, and where it is said.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fact<T> {
    /// What is said.
    pub value: T,
    /// Where: the whole statement's line, if `own`; nowhere if not.
    pub span: Span,
    /// Said in the puzzle itself, and not before the first puzzle of its file or part.
    pub own: bool,
}

/// Names of patterns, each with its place.
pub type Patterns = Vec<(&'static str, Span)>;

/// What is said of a puzzle, by itself or by default. Each is `None` where it is unsaid or could not be read; what is rarely
/// said, and takes room, is boxed.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Facts {
    /// `size`.
    pub size: Option<Fact<Size>>,
    /// `boxes`.
    pub boxes: Option<Fact<BoxShape>>,
    /// `regions`: a letter for each cell, in reading order. There are as many as a board of some size has cells.
    pub regions: Option<Box<Fact<Arc<str>>>>,
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
    /// `level`.
    pub level: Option<Fact<u16>>,
    /// `levels N-M`: least and most.
    pub levels: Option<Fact<(u16, u16)>>,
    /// `needs`: names of patterns, each with its place; those that could be read.
    pub needs: Option<Box<Fact<Patterns>>>,
    /// `avoids`, likewise.
    pub avoids: Option<Box<Fact<Patterns>>>,
    /// `teaches`, likewise, ways of seeing among them.
    pub teaches: Option<Box<Fact<Patterns>>>,
    /// `scanning [held N]`: at most so many facts held at once, where it is said.
    pub scanning: Option<Fact<Option<usize>>>,
    /// `number`: unique in its file.
    pub number: Option<Fact<u32>>,
    /// `symbols`: what is printed for each digit, the first for 1; as many as the size that they are said for.
    pub symbols: Option<Box<Fact<Arc<[String]>>>>,
    /// `printed DATE MARK`, the last that is said: a reprint stands below what was printed before.
    pub printed: Option<Box<Fact<Printing>>>,
    /// `repeats ID "how"`: the id of the puzzle that this one is, in another dress and on purpose.
    pub repeats: Option<Box<Fact<Arc<str>>>>,
    /// `ids`: the shape of ids, by the first one.
    pub ids: Option<Box<Fact<Arc<str>>>>,
    /// `size` or geometry is said and could not be read: no layout can be trusted.
    pub geometry_broken: bool,
    /// Whether further constraints are said.
    pub constraints: Constraints,
}

/// Whether further constraints are said, none of which is used in solving yet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Debug)]
pub enum Constraints {
    /// None is.
    #[default]
    None,
    /// Some are, and none of them can be understood.
    Unreadable,
    /// Some are that can be understood.
    Unused,
}

/// An extra house as written.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ExtraHouse {
    /// Its name.
    pub name: String,
    /// Its cells, in the order written.
    pub cells: Vec<Cell>,
}

/// When a puzzle went to print, and as what.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Printing {
    /// The day, as in `2026-05-31`.
    pub date: String,
    /// The [`fingerprint`](super::fingerprint()) of the grid at that time; `None` where it is not said.
    pub mark: Option<String>,
}

/// What open marks mean.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Marks {
    /// `free`: noted, no claim about the rest.
    Free,
    /// `by-box`: where a box has an open mark of a digit, its digit is in one of the cells so marked.
    ByBox,
}

impl Marks {
    /// Each with its word.
    pub const WORDS: [(&'static str, Marks); 2] = [("free", Marks::Free), ("by-box", Marks::ByBox)];
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

impl Symmetry {
    /// Each with its word.
    pub const WORDS: [(&'static str, Symmetry); 6] = [
        ("half-turn", Symmetry::HalfTurn),
        ("quarter-turn", Symmetry::QuarterTurn),
        ("mirror-across", Symmetry::MirrorAcross),
        ("mirror-down", Symmetry::MirrorDown),
        ("mirror-diagonal", Symmetry::MirrorDiagonal),
        ("none", Symmetry::None),
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        Symmetry::WORDS.iter().find(|(_, symmetry)| *symmetry == self).map_or("", |(word, _)| word)
    }
}

impl Facts {
    /// What is printed for each digit, the first for 1; empty for the usual symbols.
    pub fn signs(&self) -> &[String] {
        self.symbols.as_ref().map_or(&[], |symbols| &symbols.value)
    }

    /// Whether it takes a grade to judge what is said.
    pub fn graded(&self) -> bool {
        self.level.is_some()
            || self.levels.is_some()
            || self.needs.is_some()
            || self.avoids.is_some()
            || self.scanning.is_some()
    }

    /// The same facts, as defaults of what follows: none of them is a puzzle's own.
    pub(super) fn into_defaults(mut self) -> Facts {
        fn default<T>(fact: Option<&mut Fact<T>>) {
            if let Some(fact) = fact {
                (fact.own, fact.span) = (false, Span::default());
            }
        }
        default(self.size.as_mut());
        default(self.boxes.as_mut());
        default(self.regions.as_deref_mut());
        default(self.diagonals.as_mut());
        default(self.marks.as_mut());
        default(self.clues.as_mut());
        default(self.symmetry.as_mut());
        default(self.minimal.as_mut());
        default(self.level.as_mut());
        default(self.levels.as_mut());
        default(self.needs.as_deref_mut());
        default(self.avoids.as_deref_mut());
        default(self.teaches.as_deref_mut());
        default(self.scanning.as_mut());
        default(self.number.as_mut());
        default(self.symbols.as_deref_mut());
        default(self.ids.as_deref_mut());
        self.houses.iter_mut().for_each(|house| (house.own, house.span) = (false, Span::default()));
        self
    }

    /// Leaves out the defaults that are about boards of another size, or that the puzzle's own facts take the place of.
    pub(super) fn fit(&mut self, size: Size) {
        let own_regions = self.regions.as_ref().is_some_and(|regions| regions.own);
        let own_boxes = self.boxes.as_ref().is_some_and(|boxes| boxes.own);
        self.boxes = self.boxes.take().filter(|boxes| boxes.own || !own_regions && boxes.value.fits(size));
        let fits =
            |regions: &Fact<Arc<str>>| regions.own || !own_boxes && regions.value.len() == size.cells();
        self.regions = self.regions.take().filter(|regions| fits(regions));
        self.symbols = self.symbols.take().filter(|symbols| symbols.value.len() == size.usize());
        self.houses.retain(|house| {
            let cells = &house.value.cells;
            house.own || cells.len() == size.usize() && cells.iter().all(|cell| size.contains(*cell))
        });
    }
}
