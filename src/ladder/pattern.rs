//! The patterns.

/// A pattern of the ladder; sets and fish with their size.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub enum Pattern {
    /// A house has one open cell.
    LastOpenCell,
    /// A digit has one place in a box or region.
    BoxHiddenSingle,
    /// A cell has one candidate.
    NakedSingle,
    /// A digit has one place in a row, a column, a diagonal or an extra house.
    LineHiddenSingle,
    /// All places of a digit in a house lie in sight of cells outside it.
    LockedCandidates,
    /// So many digits have as many places in a house: 2 or more.
    HiddenSet(u8),
    /// So many cells of a house have as many candidates: 2 or more.
    NakedSet(u8),
    /// In so many rows the places of a digit lie in as many columns, or the other way round: 2 to 4.
    Fish(u8),
    /// Links of one digit, each a house with two places for it, lead from one to the other of two places.
    SingleDigitChain,
    /// A fish of two to four lines, but for some places.
    FinnedFish,
    /// A cell with two candidates, and for each of these another such cell.
    XyWing,
    /// A cell with three candidates, and two cells with two of these.
    XyzWing,
    /// Two cells with the same two candidates, and a house that has one of these only in their sight.
    WWing,
    /// Four corners that would hold two digits in two ways.
    UniqueRectangle,
    /// Six cells or more that would hold two digits in two ways.
    UniqueLoop,
    /// All open cells would hold two digits, in two ways.
    LastBivalueTrap,
    /// Cells with two candidates, one passing to the next.
    XyChain,
    /// Cells with two candidates and digits with two places in a house, one passing to the next.
    AlternatingChain,
    /// The same, where several cells take the part of one, or an almost locked set that of a cell.
    GroupedChain,
    /// Two or three sets of cells, each with one candidate more than cells.
    AlmostLockedSets,
    /// A candidate is supposed, and all that follows by looking.
    BranchingChain,
    /// A candidate is tried until something has nothing left.
    Trial,
}

impl Pattern {
    /// Every pattern of a grid with so many cells along a side.
    pub fn all(side: u8) -> impl Iterator<Item = Pattern> {
        let others = [
            Pattern::LastOpenCell,
            Pattern::BoxHiddenSingle,
            Pattern::NakedSingle,
            Pattern::LineHiddenSingle,
            Pattern::LockedCandidates,
            Pattern::Fish(2),
            Pattern::Fish(3),
            Pattern::Fish(4),
            Pattern::SingleDigitChain,
            Pattern::FinnedFish,
            Pattern::XyWing,
            Pattern::XyzWing,
            Pattern::WWing,
            Pattern::UniqueRectangle,
            Pattern::UniqueLoop,
            Pattern::LastBivalueTrap,
            Pattern::XyChain,
            Pattern::AlternatingChain,
            Pattern::GroupedChain,
            Pattern::AlmostLockedSets,
            Pattern::BranchingChain,
            Pattern::Trial,
        ];
        // Of more than half of a house the rest is the smaller set.
        let sets = (2..=side / 2).flat_map(|size| [Pattern::HiddenSet(size), Pattern::NakedSet(size)]);
        others.into_iter().chain(sets)
    }

    /// Whether it writes a digit by one look.
    pub fn is_single(self) -> bool {
        matches!(
            self,
            Pattern::LastOpenCell
                | Pattern::BoxHiddenSingle
                | Pattern::NakedSingle
                | Pattern::LineHiddenSingle
        )
    }

    /// Whether it passes from base to base, told link by link.
    pub fn is_chain(self) -> bool {
        matches!(
            self,
            Pattern::XyChain
                | Pattern::AlternatingChain
                | Pattern::GroupedChain
                | Pattern::AlmostLockedSets
                | Pattern::BranchingChain
                | Pattern::Trial
        )
    }

    /// Its name in [`NAMES`](super::NAMES).
    pub fn name(self) -> &'static str {
        match self {
            Pattern::LastOpenCell => "last open cell",
            Pattern::BoxHiddenSingle => "box hidden single",
            Pattern::NakedSingle => "naked single",
            Pattern::LineHiddenSingle => "line hidden single",
            Pattern::LockedCandidates => "locked candidates",
            Pattern::HiddenSet(2) => "hidden pair",
            Pattern::HiddenSet(3) => "hidden triple",
            Pattern::HiddenSet(4) => "hidden quad",
            Pattern::HiddenSet(_) => "hidden set",
            Pattern::NakedSet(2) => "naked pair",
            Pattern::NakedSet(3) => "naked triple",
            Pattern::NakedSet(4) => "naked quad",
            Pattern::NakedSet(_) => "naked set",
            Pattern::Fish(2) => "x-wing",
            Pattern::Fish(3) => "swordfish",
            Pattern::Fish(_) => "jellyfish",
            Pattern::SingleDigitChain => "single-digit chain",
            Pattern::FinnedFish => "finned fish",
            Pattern::XyWing => "xy-wing",
            Pattern::XyzWing => "xyz-wing",
            Pattern::WWing => "w-wing",
            Pattern::UniqueRectangle => "unique rectangle",
            Pattern::UniqueLoop => "unique loop",
            Pattern::LastBivalueTrap => "last-bivalue trap",
            Pattern::XyChain => "xy-chain",
            Pattern::AlternatingChain => "alternating chain",
            Pattern::GroupedChain => "grouped chain",
            Pattern::AlmostLockedSets => "almost locked sets",
            Pattern::BranchingChain => "branching chain",
            Pattern::Trial => "trial",
        }
    }
}
