//! The checker of a deduction. It knows no pattern: it takes what the deduction reads, supposes each candidate that
//! would be struck to be true, and accepts only if some base is then left with nothing.
//!
//! Two looks are repeated. One: what conflicts with all that is left of a base is out. Two: some bases with no
//! candidate in common, whose candidates lie in as many groups of which each holds but one (within a house a cell or a
//! digit; for one digit a row, a column or a block), fill these groups; so what conflicts with all of a group is out,
//! and fewer groups than bases are a contradiction. Where a deduction says so, the first base that has several candidates
//! left is split into its cases, and each of them must come to that; and so on within a case, as deep as it says.
//! Elsewhere no case is split. In cases within cases only the first look counts: so a reader is told of each case what
//! follows, base by base, by all that is read and by nothing else.

mod looks;
mod swap;

use std::fmt;

use smallvec::smallvec;

use crate::board::{Cell, CellSet, Digit, DigitSet, Grid, Layout};
use crate::step::{Base, By, Claim, Deduction, MOST_BASES, Position, Witness};
use looks::{Candidate, Candidates, Looks, refuted};

/// Why a deduction is not accepted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Refusal {
    /// It reads more than [`Deduction::most_bases`] bases, or none.
    BaseCount(usize),
    /// It speaks of a cell that holds a digit, or of a digit that its house has.
    Settled,
    /// From what it reads it does not follow that the cell cannot hold the digit, though it says so.
    DoesNotFollow(Cell, Digit),
    /// A witness does not show what it is there for.
    Witness(Cell, Digit),
    /// A swap is read where more than one solution is possible, or its candidates could not all be exchanged.
    Swap,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::BaseCount(count) => write!(f, "it reads {count} bases"),
            Refusal::Settled => f.write_str("it speaks of what is settled"),
            Refusal::DoesNotFollow(cell, digit) => {
                write!(f, "that {cell} is not {digit} does not follow from what it reads")
            }
            Refusal::Witness(cell, digit) => {
                write!(f, "the witness for {digit} in {cell} does not show it")
            }
            Refusal::Swap => f.write_str("its swap would not give a second solution"),
        }
    }
}

impl std::error::Error for Refusal {}

/// Judges a deduction by the candidates of the position before it.
///
/// # Errors
/// What does not hold.
pub fn with_marks(position: &Position, deduction: &Deduction) -> Result<(), Refusal> {
    let bases: Vec<_> = deduction.bases.iter().map(|base| candidates(position, base)).collect();
    follows(position, deduction, &bases)
}

/// Judges a deduction by the digits that stand, by its witnesses and by the claims of earlier steps, `fact(n)` for step
/// `n`; candidates are not looked at.
///
/// # Errors
/// What does not hold.
pub fn by_scanning<'a>(
    layout: &Layout,
    grid: &Grid,
    fact: impl Fn(usize) -> Option<&'a [Claim]>,
    deduction: &Deduction,
) -> Result<(), Refusal> {
    for witness in &deduction.witnesses {
        if !shows(layout, grid, &fact, witness) {
            return Err(Refusal::Witness(witness.cell, witness.digit));
        }
    }
    let unmarked = Position::unmarked(layout, grid);
    let closed = |at: &Candidate| deduction.witnesses.iter().any(|w| (w.cell, w.digit) == *at);
    let open = |base: &Base| candidates(&unmarked, base).into_iter().filter(|at| !closed(at)).collect();
    let bases: Vec<_> = deduction.bases.iter().map(open).collect();
    follows(&unmarked, deduction, &bases)
}

/// The candidates of which a base says that one is true.
fn candidates(position: &Position, base: &Base) -> Candidates {
    match *base {
        Base::Cell(cell) => position.candidates(cell).iter().map(|digit| (cell, digit)).collect(),
        Base::Place(house, digit) => position.cells(house, digit).iter().map(|cell| (cell, digit)).collect(),
        Base::Swap(ref swap) => swap.extras.iter().copied().collect(),
    }
}

/// Whether all that a deduction strikes from a position follows from bases with these candidates.
fn follows(position: &Position, deduction: &Deduction, bases: &[Candidates]) -> Result<(), Refusal> {
    if bases.is_empty() || bases.len() > deduction.most_bases() {
        return Err(Refusal::BaseCount(bases.len()));
    }
    if !deduction.bases.iter().all(|base| swap::is_valid(position, base)) {
        return Err(Refusal::Swap);
    }
    if !deduction.bases.iter().all(|base| is_open(position, base))
        || !deduction.claims.iter().all(|claim| is_about_open(position, claim))
    {
        return Err(Refusal::Settled);
    }
    let looks = looks(deduction);
    match struck(position, deduction)
        .find(|&at| !refuted(position.layout(), bases, at, deduction.splits, looks))
    {
        None => Ok(()),
        Some((cell, digit)) => Err(Refusal::DoesNotFollow(cell, digit)),
    }
}

/// The candidates that a deduction strikes.
fn struck(position: &Position, deduction: &Deduction) -> impl Iterator<Item = Candidate> {
    let strikes = position.strikes(&deduction.claims);
    strikes.into_iter().flat_map(|(cell, digits)| digits.iter().map(move |digit| (cell, digit)))
}

/// How a deduction is looked at.
fn looks(deduction: &Deduction) -> Looks {
    if deduction.splits < 2 { Looks::Both } else { Looks::One }
}

fn is_open(position: &Position, base: &Base) -> bool {
    match *base {
        Base::Cell(cell) => position.grid().get(cell).is_none(),
        Base::Place(house, digit) => position.missing(house).contains(digit),
        Base::Swap(ref swap) => swap.cells.iter().all(|&cell| position.grid().get(cell).is_none()),
    }
}

fn is_about_open(position: &Position, claim: &Claim) -> bool {
    let open = |cells: CellSet| cells.iter().all(|cell| position.grid().get(cell).is_none());
    let inside = match claim {
        Claim::Within { house, digits, cells } => {
            cells.is_subset(position.layout().at(*house).set()) && digits.is_subset(position.missing(*house))
        }
        Claim::Is { .. } | Claim::IsNot { .. } => true,
    };
    inside && !claim.cells().is_empty() && !claim.digits().is_empty() && open(claim.cells())
}

/// Whether a witness shows that its cell cannot hold its digit.
fn shows<'a>(
    layout: &Layout,
    grid: &Grid,
    fact: impl Fn(usize) -> Option<&'a [Claim]>,
    witness: &Witness,
) -> bool {
    let at = (witness.cell, witness.digit);
    let mut bases: Vec<Candidates> = Vec::new();
    for by in &witness.by {
        match by {
            By::Cell(cell) => match grid.get(*cell) {
                Some(digit) => bases.push(smallvec![(*cell, digit)]),
                None => return false,
            },
            By::Step(n) => {
                let Some(claims) = fact(*n) else { return false };
                for claim in claims {
                    if matches!(claim, Claim::IsNot { cells, digits } if cells.contains(at.0) && digits.contains(at.1))
                    {
                        return true;
                    }
                    bases.extend(remembered(claim));
                }
            }
        }
    }
    grid.get(witness.cell).is_none()
        && bases.len() <= MOST_BASES
        && refuted(layout, &bases, at, 0, Looks::Both)
}

/// What a remembered claim says, as bases.
fn remembered(claim: &Claim) -> Vec<Candidates> {
    let in_cells = |cells: CellSet, digit: Digit| cells.iter().map(move |cell| (cell, digit)).collect();
    let in_cell = |cell: Cell, digits: DigitSet| digits.iter().map(move |digit| (cell, digit)).collect();
    match *claim {
        Claim::Is { cells, digits } => cells.iter().map(|cell| in_cell(cell, digits)).collect(),
        Claim::Within { digits, cells, .. } => digits.iter().map(|digit| in_cells(cells, digit)).collect(),
        Claim::IsNot { .. } => Vec::new(),
    }
}

/// The bases without which all that a deduction strikes would still follow: by marks. Those that a set names for its
/// own sake, its cells or its digits, are among them where nothing depends on them.
pub fn superfluous(position: &Position, deduction: &Deduction) -> Vec<Base> {
    spare(position, deduction).map(|at| deduction.bases[at].clone()).collect()
}

/// Whether a deduction has no superfluous base, see [`superfluous`].
pub fn needs_all(position: &Position, deduction: &Deduction) -> bool {
    spare(position, deduction).next().is_none()
}

/// The places of the bases that are superfluous.
fn spare(position: &Position, deduction: &Deduction) -> impl Iterator<Item = usize> {
    let mut read = Read::of(position, deduction);
    (0..deduction.bases.len()).filter(move |&at| {
        let base = read.bases.remove(at);
        let is_spare = read.follows();
        read.bases.insert(at, base);
        is_spare
    })
}

/// A deduction that is accepted with marks, less the bases that it can do without: each is left out once, the last first; where
/// one is split, so again, since what is left out may change what is split.
pub fn spared(position: &Position, mut deduction: Deduction) -> Deduction {
    let mut read = Read::of(position, &deduction);
    loop {
        let before = read.bases.len();
        for at in (0..before).rev() {
            let base = read.bases.remove(at);
            if read.follows() {
                deduction.bases.remove(at);
            } else {
                read.bases.insert(at, base);
            }
        }
        if read.splits == 0 || read.bases.len() == before {
            return deduction;
        }
    }
}

/// What a deduction reads, and what it strikes. With fewer bases all else that is asked of a deduction holds as it did.
struct Read<'a> {
    layout: &'a Layout,
    bases: Vec<Candidates>,
    struck: Vec<Candidate>,
    splits: u8,
    looks: Looks,
}

impl<'a> Read<'a> {
    fn of(position: &'a Position, deduction: &Deduction) -> Read<'a> {
        Read {
            layout: position.layout(),
            bases: deduction.bases.iter().map(|base| candidates(position, base)).collect(),
            struck: struck(position, deduction).collect(),
            splits: deduction.splits,
            looks: looks(deduction),
        }
    }

    /// Whether what is struck follows from the bases that are left.
    fn follows(&self) -> bool {
        let is_out = |&at: &Candidate| refuted(self.layout, &self.bases, at, self.splits, self.looks);
        !self.bases.is_empty() && self.struck.iter().all(is_out)
    }
}
