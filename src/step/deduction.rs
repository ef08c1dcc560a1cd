//! A step with everything that a reader needs to follow it, and a checker to judge it.

use smallvec::SmallVec;

use super::Claim;
use crate::board::{Cell, Digit, DigitSet, HouseId};
use crate::ladder::Pattern;

/// How a reader looks at a grid.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Hash)]
pub enum Method {
    /// Every candidate is on the table.
    Marks,
    /// Nothing is written but digits; a few facts are remembered.
    Scanning,
}

/// How a reader comes upon a step under scanning.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub enum Seen {
    /// Lines, boxes and remembered facts close all other cells to the digit.
    Crossing,
    /// By what a house still misses.
    Counting,
    /// Two boxes of a band keep digits in two lines, so that the third box has them in the third.
    ThirdLine,
    /// A remembered set resolves.
    Settling,
}

impl Seen {
    /// All of them, in the order of [`ladder::NAMES`](crate::ladder::NAMES).
    pub const ALL: [Seen; 4] = [Seen::Crossing, Seen::Counting, Seen::ThirdLine, Seen::Settling];

    /// The name that is written.
    pub fn name(self) -> &'static str {
        match self {
            Seen::Crossing => "crossing",
            Seen::Counting => "counting",
            Seen::ThirdLine => "third line",
            Seen::Settling => "settling",
        }
    }
}

impl Method {
    /// The name that is written.
    pub fn name(self) -> &'static str {
        match self {
            Method::Marks => "marks",
            Method::Scanning => "scanning",
        }
    }
}

/// What a step reads: one of several candidates is true.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub enum Base {
    /// The cell holds one of its candidates.
    Cell(Cell),
    /// The digit has a place in the house.
    Place(HouseId, Digit),
    /// The puzzle has one solution, so that one of the extras is true.
    Swap(Swap),
}

/// Open cells, each with two candidates beside the extras, in which no house has a digit more than twice nor just once:
/// if none of the extras were true, these candidates could all be exchanged, and there would be a second solution.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub struct Swap {
    /// The cells, in reading order.
    pub cells: Vec<Cell>,
    /// The further candidates of these cells, in the order of cells and digits.
    pub extras: Vec<(Cell, Digit)>,
}

/// What a step takes for granted beside the rules.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Hash)]
pub enum Premise {
    /// The puzzle has one solution.
    OneSolution,
}

impl Premise {
    /// The name that is written.
    pub fn name(self) -> &'static str {
        match self {
            Premise::OneSolution => "one-solution",
        }
    }
}

/// Why a cell cannot hold a digit: all of `by` together.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Witness {
    /// An open cell.
    pub cell: Cell,
    /// What it cannot hold.
    pub digit: Digit,
    /// Mostly one.
    pub by: Vec<By>,
}

/// What a [`Witness`] points at.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub enum By {
    /// A cell that holds the digit.
    Cell(Cell),
    /// An earlier step of the walk, counted from 1, whose claims are remembered.
    Step(usize),
}

/// The most bases that a step may read, but for a trial.
pub const MOST_BASES: usize = 30;

/// A step of reasoning with its proof. Most write one digit, and have what that takes in themselves.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Deduction {
    /// What it is.
    pub pattern: Pattern,
    /// How the reader looks at the grid.
    pub method: Method,
    /// How it is seen, under scanning.
    pub seen: Option<Seen>,
    /// The houses to look at, that of the pattern first.
    pub houses: SmallVec<[HouseId; 4]>,
    /// What it says.
    pub claims: SmallVec<[Claim; 1]>,
    /// What it reads: from these, and from no house and no cell holding two, follow the claims and what they clear.
    pub bases: SmallVec<[Base; 1]>,
    /// Under scanning, why cells and digits that the bases pass over are closed; none with marks.
    pub witnesses: Vec<Witness>,
    /// How many of its bases the proof may split into cases, one within the other, the first first: none up to level 6 of
    /// the default ladder.
    pub splits: u8,
}

impl Deduction {
    /// A step with every candidate on the table.
    pub fn with_marks(
        pattern: Pattern,
        houses: impl IntoIterator<Item = HouseId>,
        claims: impl IntoIterator<Item = Claim>,
        bases: impl IntoIterator<Item = Base>,
    ) -> Deduction {
        Deduction {
            pattern,
            method: Method::Marks,
            seen: None,
            houses: houses.into_iter().collect(),
            claims: claims.into_iter().collect(),
            bases: bases.into_iter().collect(),
            witnesses: Vec::new(),
            splits: 0,
        }
    }

    /// The most bases that it may read: few enough to keep together, unless it is a trial.
    pub fn most_bases(&self) -> usize {
        if self.pattern == Pattern::Trial { usize::MAX } else { MOST_BASES }
    }

    /// How many houses and cells a reader consults.
    pub fn looks(&self) -> usize {
        if self.houses.is_empty() { self.bases.len() } else { self.houses.len() }
    }

    /// The digits that its claims speak of.
    pub fn digits(&self) -> DigitSet {
        self.claims.iter().fold(DigitSet::EMPTY, |digits, claim| digits | claim.digits())
    }

    /// Whether it writes a digit into a cell.
    pub fn places(&self) -> bool {
        self.claims.iter().any(Claim::places)
    }

    /// What it takes for granted beside the rules.
    pub fn premise(&self) -> Option<Premise> {
        self.bases.iter().any(|base| matches!(base, Base::Swap(_))).then_some(Premise::OneSolution)
    }

    /// The earlier steps that it leans on, rising.
    pub fn facts_used(&self) -> Vec<usize> {
        let mut used: Vec<usize> = self
            .witnesses
            .iter()
            .flat_map(|witness| &witness.by)
            .filter_map(|by| match by {
                By::Step(n) => Some(*n),
                By::Cell(_) => None,
            })
            .collect();
        used.sort_unstable();
        used.dedup();
        used
    }
}
