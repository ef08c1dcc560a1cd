//! A chain as a picture has it: what is supposed, what each link leaves, and what ends it.

use super::branches::{LinkName, Placed};
use super::placed;
use super::retold::{self, Branch, Empty, From, Joint, Retold};
use crate::board::{Cell, Digit};
use crate::step::{Deduction, Position};

type Candidate = (Cell, Digit);

/// A chain link by link, in the order in which [`super::super::tell()`] tells it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Thread {
    /// What is supposed.
    pub supposed: Vec<(Cell, Digit)>,
    /// Whether that is supposed to be so, and not to be out.
    pub is_so: bool,
    /// The links, those of a branch one after the other.
    pub links: Vec<ThreadLink>,
    /// What is left with nothing in the end; nothing where the chain joins its two ends.
    pub end: Option<ThreadEnd>,
}

/// A link of a chain.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ThreadLink {
    /// What it is called.
    pub name: LinkName,
    /// Whether it needs what is supposed.
    pub from_start: bool,
    /// The links before it that it needs.
    pub from: Vec<LinkName>,
    /// What it leaves of what it reads: one of these candidates is true, or of several digits as many as there are.
    pub leaves: Vec<(Cell, Digit)>,
}

/// The end of a chain in nothing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ThreadEnd {
    /// Whether it needs what is supposed.
    pub from_start: bool,
    /// The links that it needs.
    pub from: Vec<LinkName>,
    /// The candidates that are out then: all that something has, or so many of some cells that too few are left.
    pub out: Vec<(Cell, Digit)>,
}

/// A chain that is told in one course; `None` of any other step, and of one that is told in cases.
pub fn thread(before: &Position, step: &Deduction) -> Option<Thread> {
    if !step.pattern.is_chain() {
        return None;
    }
    match retold::retell(before, step) {
        Retold::Chain { begin, joints, .. } => {
            let supposed = begin.cells.iter().map(|cell| (cell, begin.digit)).collect();
            let (links, _) = links(step, &joints, &From::default());
            Some(Thread { supposed, is_so: false, links, end: None })
        }
        Retold::Branches(branches) => match &branches[..] {
            [branch] if !branch.joints.is_empty() => Some(of_branch(before, step, branch)),
            _ => None,
        },
        Retold::Cases(..) | Retold::InCases { .. } | Retold::Many { .. } => None,
    }
}

fn of_branch(before: &Position, step: &Deduction, branch: &Branch) -> Thread {
    let (links, from) = links(step, &branch.joints, &branch.from);
    let all = |cell: Cell| before.candidates(cell).iter().map(move |digit| (cell, digit));
    let out = match branch.empty {
        Empty::Cell(cell) => all(cell).collect(),
        Empty::Place(house, digit) => before.cells(house, digit).iter().map(|cell| (cell, digit)).collect(),
        Empty::Cells(cells, left) => {
            cells.iter().flat_map(all).filter(|(_, digit)| !left.contains(*digit)).collect()
        }
        Empty::Struck | Empty::All => Vec::new(),
    };
    let end = ThreadEnd { from_start: branch.from.start, from, out };
    Thread { supposed: branch.supposed.clone(), is_so: true, links, end: Some(end) }
}

/// The links in their order, and the names of those that the end needs.
fn links(step: &Deduction, joints: &[Joint], end: &From) -> (Vec<ThreadLink>, Vec<LinkName>) {
    let (placed, _) = placed(step, joints, end);
    let name = |at: usize| placed.iter().find(|placed| placed.at == at).map(|placed| placed.name);
    let names = |from: &From| {
        let mut names: Vec<LinkName> = from.joints.iter().filter_map(|&at| name(at)).collect();
        names.sort_unstable();
        names
    };
    let link = |placed: &Placed| {
        let joint = &joints[placed.at];
        let leaves: Vec<Candidate> = joint.nodes.concat();
        ThreadLink { name: placed.name, from_start: joint.from.start, from: names(&joint.from), leaves }
    };
    (placed.iter().map(link).collect(), names(end))
}
