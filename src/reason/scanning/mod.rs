//! Scanning: nothing is written but digits. A reader crosses lines against a box, counts what a house still misses, and
//! remembers a few facts. Every candidate that a step passes over has a witness: a digit that stands, or a fact.
//!
//! A **plan** is a digit to write with the facts that must first be remembered for it. The plan of the lowest level is
//! taken, then the one with the fewest facts, then the one nearest to the step before; so no fact is stated that
//! nothing needs.

mod idea;
mod placements;
mod plan;
mod reach;
mod remember;
mod rounds;
mod third_line;
mod view;
mod ways;

use super::nearest::Focus;
use super::off::Sign;
use super::tables::places;
use crate::board::{CellSet, Grid, HouseId, HouseName, Layout};
use crate::step::{Claim, Deduction, Position, Seen};

pub use placements::FEW;
use plan::Start;
use view::View;
pub use ways::{gives, says};

/// The highest level of a step under scanning; what needs more needs marks.
pub const HIGHEST_LEVEL: u8 = 5;
/// From so many facts held at once a step is of the highest level.
pub const MANY_FACTS: usize = 4;
/// The level of a step that leans on two facts; what is easier leans on one at most.
const TWO_FACTS_LEVEL: u8 = 4;

/// A step under scanning, and what it asks of a reader.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Scanned {
    /// The step.
    pub step: Deduction,
    /// What must be looked at and kept in mind for it, 1 to [`HIGHEST_LEVEL`].
    pub level: u8,
    /// How many houses and facts a reader consults for it.
    pub looks: usize,
    /// How many facts are in play: those remembered before it and not yet spent, and its own.
    pub held: usize,
}

/// A reader who scans: the digits that stand, and the facts that are remembered.
#[derive(Clone, Debug)]
pub struct Scanner {
    bands: Vec<Band>,
    view: View,
    /// What the steps so far have claimed: facts have the numbers of their steps.
    told: Vec<Vec<Claim>>,
    plan: Vec<Scanned>,
    sign: Sign,
}

/// Three boxes side by side, and the three lines through them.
#[derive(Clone, Debug)]
struct Band {
    boxes: [HouseId; 3],
    lines: [HouseId; 3],
    /// For each box and each line, the places in the box of the cells that both have.
    on_lines: [[u32; 3]; 3],
}

impl Scanner {
    /// A reader who sees this grid and remembers nothing.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn new(layout: &Layout, grid: &Grid) -> Scanner {
        Scanner::of(layout, View::new(layout, grid))
    }

    /// A reader who sees this grid and remembers some of the steps before, which are numbered from 1.
    ///
    /// # Panics
    /// If the grid is not of the layout's size.
    pub fn remembering(
        layout: &Layout,
        grid: &Grid,
        told: Vec<Vec<Claim>>,
        facts: impl IntoIterator<Item = usize>,
    ) -> Scanner {
        let mut scanner = Scanner::new(layout, grid);
        for step in facts {
            if let Some(claims) = step.checked_sub(1).and_then(|at| told.get(at)) {
                scanner.view.remember(step, claims);
            }
        }
        Scanner { told, ..scanner }
    }

    /// A reader for whom all candidates of this position are on the table.
    pub fn with_marks(position: &Position) -> Scanner {
        let view = View { sight: position.clone(), known: position.clone(), facts: Vec::new() };
        Scanner::of(position.layout(), view)
    }

    fn of(layout: &Layout, view: View) -> Scanner {
        Scanner { bands: bands(layout), view, told: Vec::new(), plan: Vec::new(), sign: Sign::here() }
    }

    /// What the reader knows: candidates as far as digits and remembered facts close them.
    pub fn known(&self) -> &Position {
        &self.view.known
    }

    /// The next step, if the checker accepts it; nearest to the focus where there are several of its kind. `None` where
    /// scanning is stuck.
    pub fn next(&mut self, focus: Option<&Focus>) -> Option<Scanned> {
        let scanned = self.planned(focus).filter(|scanned| self.proves(&scanned.step))?;
        self.note(&scanned.step.claims);
        Some(scanned)
    }

    /// The next step of the plan, which is made where there is none. None where nobody waits any more: what was looked for
    /// then ended too early.
    fn planned(&mut self, focus: Option<&Focus>) -> Option<Scanned> {
        if self.plan.is_empty() {
            self.plan = self.start(focus).easiest()?;
        }
        (!self.sign.is_set()).then(|| self.plan.remove(0))
    }

    /// Takes a step that somebody else found, and plans anew after it.
    pub fn take(&mut self, claims: &[Claim]) {
        self.plan.clear();
        self.note(claims);
    }

    fn note(&mut self, claims: &[Claim]) {
        self.told.push(claims.to_vec());
        self.view.take(self.told.len(), claims);
    }

    /// Whether a digit can be written by steps no higher than a level, none of which is seen in this way; where facts
    /// are first to be stated for it, these neither. A third line and the long count of the same line are one step.
    pub fn goes_on_without(&self, seen: Seen, level: u8) -> bool {
        self.start(None).within(level, Some(seen)).is_some()
    }

    fn start<'a>(&'a self, focus: Option<&'a Focus>) -> Start<'a> {
        Start { view: &self.view, bands: &self.bands, told: self.told.len(), focus, sign: &self.sign }
    }
}

impl Scanned {
    /// The step with the level that comes from how many facts are held with it.
    fn when_held(mut self) -> Scanned {
        if !self.step.places() && self.held >= MANY_FACTS {
            self.level = HIGHEST_LEVEL;
        }
        self
    }
}

/// The bands and stacks in which three boxes share three lines.
fn bands(layout: &Layout) -> Vec<Band> {
    let mut found = Vec::new();
    if layout.boxes().is_none() {
        return found;
    }
    let directions: [fn(&HouseName) -> bool; 2] =
        [|name| matches!(name, HouseName::Row(_)), |name| matches!(name, HouseName::Column(_))];
    for is_line in directions {
        let lines: Vec<HouseId> = layout.house_ids().filter(|&id| is_line(&layout.at(id).name)).collect();
        for trio in lines.chunks_exact(3) {
            let all = trio.iter().fold(CellSet::EMPTY, |all, &line| all | *layout.at(line).set());
            let boxes: Vec<HouseId> = layout
                .house_ids()
                .filter(|&id| layout.at(id).name.is_block() && layout.at(id).set().is_subset(&all))
                .collect();
            if let (Ok(boxes), Ok(lines)) = (boxes.try_into(), trio.to_vec().try_into()) {
                found.push(Band { boxes, lines, on_lines: on_lines(layout, boxes, lines) });
            }
        }
    }
    found
}

fn on_lines(layout: &Layout, boxes: [HouseId; 3], lines: [HouseId; 3]) -> [[u32; 3]; 3] {
    boxes.map(|house| lines.map(|line| places(layout, house, *layout.at(line).set())))
}
