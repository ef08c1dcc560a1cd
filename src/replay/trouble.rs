//! What can be wrong with a walk.

use crate::board::{Cell, Digit, DigitSet, HouseId};
use crate::ladder::PatternName;
use crate::notation::Span;
use crate::step::{Claim, Deduction};

/// Something wrong with a walk.
#[derive(Clone, PartialEq, Debug)]
pub struct Trouble {
    /// Which of the section's lines.
    pub line: usize,
    /// Where, in bytes of the section.
    pub span: Span,
    /// What.
    pub kind: TroubleKind,
}

/// What is wrong.
#[derive(Clone, PartialEq, Debug)]
pub enum TroubleKind {
    /// A claim is false.
    False(Counter),
    /// A claim is not false, and does not follow yet; of one of a question too.
    Early(Option<Bridge>),
    /// A claim follows, and not by the reason that is given.
    Reason {
        /// Why it does not fit.
        misfit: Misfit,
        /// What fits, where it was found.
        right: Option<Right>,
        /// The highest level that counts if the reason is taken out.
        without: u8,
    },
    /// Every claim of the step was stated before, or holds by what is written or stated. What is the highest level that
    /// counts if its reason is taken out.
    Stale(u8),
    /// A claim in prose is false.
    Prose(Counter),
    /// The walk neither fills the grid nor says how it is finished: how many cells are open, and what to write at its end.
    Unfinished(usize, Option<String>),
    /// The patterns of `finish` do not finish: how many cells they leave open, and what to write instead.
    FinishStuck(usize, Option<String>),
}

/// What shows that a claim is false.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Counter {
    /// In a solution this cell holds this digit.
    Holds(Cell, Digit),
    /// The house misses just these digits.
    Misses(HouseId, DigitSet),
    /// The cell is filled, or its digit is known.
    Settled(Cell),
}

/// What is missing before a claim follows.
#[derive(Clone, PartialEq, Debug)]
pub struct Bridge {
    /// The steps, none of which can be left out.
    pub steps: Vec<Deduction>,
    /// The same, a line of the walk each, without indent.
    pub lines: Vec<String>,
    /// What is claimed, as it reads behind these steps.
    pub claims: Vec<Claim>,
    /// What the reason must then be, empty for none; `None` if it may stay as it is.
    pub reason: Option<String>,
    /// Lines further down that state these steps, or what is then claimed, and would say nothing new.
    pub moved: Vec<usize>,
    /// Lines further down whose reason names a fact that is then settled, each with the reason that fits, or an empty one.
    pub settled: Vec<(usize, String)>,
}

impl Bridge {
    /// Missing steps, where the reason may stay and no line further down is touched.
    pub(super) fn new(steps: Vec<Deduction>, lines: Vec<String>, claims: Vec<Claim>) -> Bridge {
        Bridge { steps, lines, claims, reason: None, moved: Vec::new(), settled: Vec::new() }
    }
}

/// The reason that fits, as it is written after `by`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Right {
    /// In place of the one that is given.
    Instead(String),
    /// The one that is given, with this behind it.
    Added(String),
}

/// Why a reason does not fit.
#[derive(Clone, PartialEq, Debug)]
pub enum Misfit {
    /// No step of this kind gives the claim here, on the facts that are named.
    Kind(&'static PatternName),
    /// No step before this states a fact of this description: where it stands.
    NoFact(Span),
    /// It leans on these facts too, which are not named: step numbers.
    Leans(Vec<usize>),
    /// A fact that is named takes no part.
    IdleFact(Span),
    /// A house that is named takes no part.
    IdleHouse(Span),
    /// Cells or digits that are named take no part.
    IdleNames,
}

impl Misfit {
    /// Where it is told more exactly than by the whole reason.
    pub fn span(&self) -> Option<Span> {
        match self {
            Misfit::NoFact(span) | Misfit::IdleFact(span) | Misfit::IdleHouse(span) => Some(*span),
            Misfit::Kind(_) | Misfit::Leans(_) | Misfit::IdleNames => None,
        }
    }
}
