//! What is drawn, and nothing of how.

use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, HouseId, Layout, Size};
use crate::step::{Claim, Position};
use crate::words::{Naming, Signs, Thread};

/// A picture of a grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub(super) layout: Layout,
    /// What is in each cell, in reading order.
    cells: Vec<Content>,
    /// What is printed for each digit, the first for 1; empty for the usual symbols.
    pub(super) signs: Vec<String>,
    pub(super) title: Option<String>,
    pub(super) caption: Option<String>,
    /// How rows and columns are labelled at the edges, if they are.
    pub(super) edges: Option<Naming>,
    pub(super) shaded: CellSet,
    pub(super) ringed: CellSet,
    /// The cells that are drawn, where not all are.
    only: Option<CellSet>,
    /// Houses with a line around them.
    pub(super) outlined: Vec<HouseId>,
    /// What is remembered, drawn small in the cells.
    pub(super) facts: Vec<Claim>,
    pub(super) sights: Vec<Sight>,
    /// The chains of the steps that are drawn.
    pub(super) threads: Vec<Thread>,
}

/// What is in a cell. Nothing, by default.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Content {
    /// Its digit.
    pub stands: Stands,
    /// Closed marks: the cell holds one of these.
    pub closed: DigitSet,
    /// Open marks: noted here, with no claim about others.
    pub open: DigitSet,
    /// What it cannot hold, where that is drawn.
    pub barred: DigitSet,
}

/// The digit of a cell.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub enum Stands {
    /// None.
    #[default]
    Nothing,
    /// Printed with the puzzle.
    Given(Digit),
    /// Written in.
    Entered(Digit),
    /// Known and not yet written in.
    Known(Digit),
}

impl Stands {
    /// The digit, if there is one.
    pub fn digit(self) -> Option<Digit> {
        match self {
            Stands::Nothing => None,
            Stands::Given(digit) | Stands::Entered(digit) | Stands::Known(digit) => Some(digit),
        }
    }
}

/// A digit that closes a cell to itself: a line is drawn between the two.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Sight {
    /// Where the digit stands.
    pub(super) from: Cell,
    /// The cell that it closes.
    pub(super) to: Cell,
}

/// A fact as it is drawn in one of its cells.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Noted {
    /// Bits of the digits, see [`DigitSet::bits`].
    bits: u32,
    /// The cell holds none of them, and not one of them.
    pub(super) none: bool,
}

impl Noted {
    pub(super) fn digits(self) -> DigitSet {
        DigitSet::from_bits(self.bits)
    }
}

impl Picture {
    /// A grid: the digits that `givens` has are drawn as given, the others as written in.
    ///
    /// # Panics
    /// If the three are not of one size.
    pub fn new(layout: &Layout, givens: &Grid, grid: &Grid) -> Picture {
        let size = layout.size();
        assert!(size == grid.size() && size == givens.size(), "layout and grids are of one size");
        let content = |cell| {
            let stands = match (givens.get(cell), grid.get(cell)) {
                (Some(digit), _) => Stands::Given(digit),
                (None, Some(digit)) => Stands::Entered(digit),
                (None, None) => Stands::Nothing,
            };
            Content { stands, ..Content::default() }
        };
        Picture {
            layout: layout.clone(),
            cells: size.all_cells().map(content).collect(),
            signs: Vec::new(),
            title: None,
            caption: None,
            edges: None,
            shaded: CellSet::EMPTY,
            ringed: CellSet::EMPTY,
            only: None,
            outlined: Vec::new(),
            facts: Vec::new(),
            sights: Vec::new(),
            threads: Vec::new(),
        }
    }

    /// With a title: what the picture is of, for those who do not see it. It must not tell what the grid does not show.
    #[must_use]
    pub fn titled(self, title: &str) -> Picture {
        Picture { title: Some(title.to_owned()), ..self }
    }

    /// With a caption, printed below it.
    #[must_use]
    pub fn captioned(self, caption: &str) -> Picture {
        Picture { caption: Some(caption.to_owned()), ..self }
    }

    /// With rows and columns labelled at the edges, as cells are called.
    #[must_use]
    pub fn with_edges(self, naming: Naming) -> Picture {
        Picture { edges: Some(naming), ..self }
    }

    /// With these signs printed for the digits, the first for 1. One for each digit; else the usual symbols stay.
    #[must_use]
    pub fn with_signs(self, signs: Vec<String>) -> Picture {
        let signs = if signs.len() == self.size().usize() { signs } else { Vec::new() };
        Picture { signs, ..self }
    }

    /// The layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The caption.
    pub fn caption(&self) -> Option<&str> {
        self.caption.as_deref()
    }

    /// What is in a cell.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn content(&self, cell: Cell) -> &Content {
        &self.cells[self.index(cell)]
    }

    /// What is in a cell, to be changed.
    ///
    /// # Panics
    /// If the grid has no such cell.
    pub fn content_mut(&mut self, cell: Cell) -> &mut Content {
        let at = self.index(cell);
        &mut self.cells[at]
    }

    /// Marks every open cell with those of these digits that it can hold.
    pub fn mark(&mut self, known: &Position, digits: DigitSet) {
        for cell in self.size().all_cells() {
            self.content_mut(cell).closed |= known.candidates(cell) & digits;
        }
    }

    /// Strikes digits from cells.
    pub fn strike(&mut self, struck: &[(Cell, DigitSet)]) {
        for &(cell, digits) in struck {
            self.content_mut(cell).barred |= digits;
        }
    }

    /// Shades cells, beside those that are.
    pub fn shade(&mut self, cells: CellSet) {
        self.shaded |= cells;
    }

    /// Rings cells, beside those that are.
    pub fn ring(&mut self, cells: CellSet) {
        self.ringed |= cells;
    }

    /// Draws only these cells; called again, these too.
    pub fn only(&mut self, cells: CellSet) {
        self.only = Some(self.only.unwrap_or_default() | cells);
    }

    /// Draws a remembered fact, small, in those of its cells that are open; once, if it comes again.
    pub fn remember(&mut self, claim: &Claim) {
        if !self.facts.contains(claim) {
            self.facts.push(claim.clone());
        }
    }

    /// Whether a cell is drawn. None outside the grid is.
    pub(super) fn shows(&self, cell: Cell) -> bool {
        self.size().contains(cell) && self.only.is_none_or(|only| only.contains(cell))
    }

    /// The cells that are drawn, in reading order.
    pub(super) fn shown(&self) -> impl Iterator<Item = Cell> {
        self.size().all_cells().filter(|&cell| self.shows(cell))
    }

    pub(super) fn size(&self) -> Size {
        self.layout.size()
    }

    /// What is printed for a digit.
    pub(super) fn sign(&self, digit: Digit) -> String {
        Signs(&self.signs).of(digit)
    }

    /// What is printed for digits, rising.
    pub(super) fn signs(&self, digits: DigitSet) -> Vec<String> {
        Signs(&self.signs).each(digits).collect()
    }

    /// The facts as they are drawn in a cell; none in one that holds a digit.
    pub(super) fn noted(&self, cell: Cell) -> Vec<Noted> {
        if self.content(cell).stands != Stands::Nothing {
            return Vec::new();
        }
        let here = self.facts.iter().filter(|claim| claim.cells().contains(cell));
        let mut noted: Vec<Noted> = here
            .map(|claim| Noted { bits: claim.digits().bits(), none: matches!(claim, Claim::IsNot { .. }) })
            .collect();
        noted.sort_unstable();
        noted.dedup();
        noted
    }

    /// Whether a closed cell is drawn as a cross, because there is but one digit to which cells are closed and no mark
    /// that the cross could be taken to speak of.
    pub(super) fn crosses(&self) -> bool {
        let marked = |content: &Content| !(content.closed | content.open).is_empty();
        let barred = self.cells.iter().fold(DigitSet::EMPTY, |all, content| all | content.barred);
        barred.only().is_some() && !self.cells.iter().any(marked)
    }

    /// The box or region of a cell, by its place among the houses; `None` outside the grid and where nothing is drawn.
    pub(super) fn block(&self, row: Option<u8>, col: Option<u8>) -> Option<HouseId> {
        let side = self.size().side();
        let cell = Cell::new(row.filter(|&row| row < side)?, col.filter(|&col| col < side)?);
        if !self.shows(cell) {
            return None;
        }
        let slots = self.layout.slots(cell).iter().map(|slot| slot.house);
        slots.into_iter().find(|&house| self.layout.at(house).name.is_block())
    }

    fn index(&self, cell: Cell) -> usize {
        assert!(self.size().contains(cell), "the grid has no {cell}");
        usize::from(cell.row()) * self.size().usize() + usize::from(cell.col())
    }
}
