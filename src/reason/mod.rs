//! Human reasoning: how a person would find the next step. One file a family of patterns; each finder offers every
//! step that its pattern gives, and the one nearest to the step before is taken, so that a walk reads as one thread.

mod branches;
mod chains;
mod choose;
mod climb;
mod finned_fish;
mod fish;
mod links;
mod lists;
mod locked;
mod nearest;
mod numbers;
mod off;
mod pairs;
mod parts;
pub mod scanning;
mod sets;
mod single_digit_chain;
mod singles;
mod strays;
mod tables;
mod unique;
mod walk;
mod wings;

use crate::board::{Cell, Digit, Layout};
use crate::ladder::{Ladder, Pattern};
use crate::proof;
use crate::step::{Deduction, Position};

use climb::Noted;
pub use climb::{Climb, Look};
pub use nearest::Focus;
use nearest::{Nearest, Offers};
use off::MOST_IN_A_CLIMB;
pub use off::{is_called_off, while_wanted};
pub use scanning::{Scanned, Scanner};
use singles::Single;
use tables::Tables;
pub use walk::{Step, Walk};

/// A step, if the checker accepts it; a chain less what it can do without. What is split more than once is found so.
fn proved(position: &Position, step: Deduction) -> Option<Deduction> {
    proof::with_marks(position, &step).ok()?;
    let may_have_more = step.pattern.is_chain() && step.splits < 2;
    Some(if may_have_more { proof::spared(position, step) } else { step })
}

/// What finds steps, on one layout and with one ladder.
#[derive(Debug)]
pub struct Reasoner {
    layout: Layout,
    tables: Tables,
    patterns: Vec<Pattern>,
    /// How many candidates may be supposed beside others in the trials of one climb.
    supposable: usize,
}

impl Reasoner {
    /// A reasoner with the patterns of a ladder, in its order.
    pub fn new(layout: &Layout, ladder: &Ladder) -> Reasoner {
        let named = |name| Pattern::all(layout.size().side()).filter(move |pattern| pattern.name() == name);
        let patterns = ladder.rungs().iter().flat_map(|rung| named(rung.name.name)).collect();
        Reasoner::with(layout, patterns)
    }

    /// A reasoner with just these patterns, in this order.
    pub fn with(layout: &Layout, patterns: Vec<Pattern>) -> Reasoner {
        let (layout, tables) = (layout.clone(), Tables::new(layout));
        Reasoner { layout, tables, patterns, supposable: MOST_IN_A_CLIMB }
    }

    /// The same that soon gives up trying.
    #[cfg(test)]
    pub(crate) fn supposing_at_most(self, supposable: usize) -> Reasoner {
        Reasoner { supposable, ..self }
    }

    /// The layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The patterns, cheapest first.
    pub fn patterns(&self) -> &[Pattern] {
        &self.patterns
    }

    /// The next step, with every candidate on the table: by the cheapest pattern that gives one, and of its steps the
    /// one nearest to the focus. `None` if no pattern gives one. Not yet proved, for where nobody sees it.
    pub fn unproved(&self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        Climb::new(self).unproved(position, focus)
    }

    /// The next step, see [`Reasoner::unproved`], if the checker accepts it.
    pub fn next(&self, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        proved(position, self.unproved(position, focus)?)
    }

    /// Why an open cell cannot hold a digit that no digit in its sight bars: what is known before, with that digit in the
    /// cell, and a step that strikes it, by the cheapest pattern that gives one, and of its steps one that reads least.
    /// `None` if no pattern gives one.
    pub fn why_not(&self, known: &Position, cell: Cell, digit: Digit) -> Option<(Position, Deduction)> {
        let before = known.allowing(cell, digit);
        let claims = chains::not([(cell, digit)].into_iter());
        let mut climb = Climb::new(self);
        let mut look = climb.look_at(&before);
        let found = self.patterns.iter().find_map(|&pattern| {
            look.giving(pattern, &claims).into_iter().min_by_key(|step| step.bases.len())
        });
        let step = found?;
        let claims = if step.pattern.is_chain() { claims } else { step.claims.clone() };
        let step = proved(&before, Deduction { claims, ..step })?;
        Some((before, step))
    }

    /// The step nearest to the focus that this pattern gives; not yet proved.
    pub fn by(&self, pattern: Pattern, position: &Position, focus: Option<&Focus>) -> Option<Deduction> {
        Climb::by(self, &[pattern]).unproved(position, focus)
    }

    /// The nearest digit that a pattern gives which writes one by one look.
    fn single(&self, pattern: Pattern, position: &Position, focus: Option<&Focus>) -> Option<Single> {
        let mut nearest = Nearest::new(position, focus);
        self.find_singles(pattern, position, &mut nearest);
        nearest.into_best()
    }

    /// The nearest step that another pattern gives.
    fn nearest(
        &self,
        pattern: Pattern,
        position: &Position,
        noted: &mut Noted,
        focus: Option<&Focus>,
    ) -> Option<Deduction> {
        let mut nearest = Nearest::new(position, focus);
        self.find(pattern, position, noted, &mut nearest);
        nearest.into_best()
    }

    fn find_singles(&self, pattern: Pattern, position: &Position, offers: &mut impl Offers<Single>) {
        match pattern {
            Pattern::LastOpenCell => singles::last_open_cell(position, offers),
            Pattern::NakedSingle => singles::naked(&self.tables.rows, position, offers),
            Pattern::BoxHiddenSingle => singles::hidden(&self.tables.blocks, position, offers),
            Pattern::LineHiddenSingle => singles::hidden(&self.tables.not_blocks, position, offers),
            _ => {}
        }
    }

    fn find(
        &self,
        pattern: Pattern,
        position: &Position,
        noted: &mut Noted,
        offers: &mut impl Offers<Deduction>,
    ) {
        let Noted { confined, linked, pairs, parts, strays, patience } = noted;
        if patience.is_over() {
            return;
        }
        let tables = &self.tables;
        match pattern {
            Pattern::HiddenSet(size) => sets::hidden(size, tables, position, parts, offers),
            Pattern::NakedSet(size) => sets::naked(size, tables, position, parts, offers),
            Pattern::Fish(size) => fish::find(size, tables, position, strays, offers),
            Pattern::LockedCandidates => locked::find(tables, position, confined, offers),
            Pattern::SingleDigitChain => single_digit_chain::find(tables, position, strays, offers),
            Pattern::FinnedFish => finned_fish::find(tables, position, strays, offers),
            Pattern::XyWing | Pattern::XyzWing | Pattern::WWing => {
                wings::find(pattern, tables, position, pairs, offers);
            }
            Pattern::UniqueRectangle => unique::rectangles(tables, position, offers),
            Pattern::UniqueLoop => unique::loops(tables, position, pairs, offers),
            Pattern::LastBivalueTrap => unique::last_bivalue_trap(tables, position, offers),
            Pattern::XyChain
            | Pattern::AlternatingChain
            | Pattern::GroupedChain
            | Pattern::AlmostLockedSets => chains::find(pattern, tables, position, linked, offers),
            Pattern::BranchingChain | Pattern::Trial => {
                branches::find(pattern, position, linked, patience, offers);
            }
            _ => {}
        }
    }
}
