//! A trial read off its bases: what follows, the cases that are left then, and what becomes of each.

use super::retold::{Empty, Followed, Link, MOST_FOLLOWED, Reading, Retold};
use crate::board::{Cell, Digit};
use crate::step::Base;

type Candidate = (Cell, Digit);

/// So many cases fit a page, and can be told one by one.
const MOST_TOLD: usize = 20;

/// What follows, and how it ends.
pub(super) struct Told {
    pub(super) links: Vec<Link>,
    pub(super) end: End,
}

pub(super) enum End {
    Empty(Empty),
    /// What is left of this base is supposed, one after the other.
    Cases(Base, Vec<(Candidate, Told)>),
}

impl Told {
    /// How many cases are told.
    fn cases(&self) -> usize {
        match &self.end {
            End::Empty(_) => 1,
            End::Cases(_, cases) => cases.iter().map(|(_, told)| told.cases()).sum(),
        }
    }
}

impl Reading<'_> {
    /// A candidate that comes to nothing in several cases. The first base that has several candidates left is split, and so
    /// on within a case.
    pub(super) fn in_cases(&self, struck: Candidate, splits: u8) -> Option<Retold> {
        let left = self.bases.iter().map(|base| self.candidates(base)).collect();
        let cases = self.count(left, struck, splits)?;
        if cases > MOST_TOLD || self.bases.len() > MOST_FOLLOWED {
            let split = self.bases[..splits.into()].to_vec();
            return (cases > 1).then_some(Retold::Many { struck, split, cases });
        }
        let told = self.told(vec![vec![struck]], splits)?;
        Some(Retold::InCases { struck, cases: told.cases(), told })
    }

    /// How many cases one more candidate comes to; `None` if it does not come to nothing by looking at one base at a time.
    fn count(&self, mut left: Vec<Vec<Candidate>>, supposed: Candidate, splits: u8) -> Option<usize> {
        let mut nodes = vec![vec![supposed]];
        while let Some(node) = nodes.pop() {
            for base in &mut left {
                let before = base.len();
                base.retain(|&at| !self.closes(&node, at));
                if base.is_empty() {
                    return Some(1);
                }
                if base.len() < before {
                    nodes.push(base.clone());
                }
            }
        }
        let splits = splits.checked_sub(1)?;
        let cases = left.iter().find(|base| base.len() > 1)?;
        cases.iter().map(|&case| self.count(left.clone(), case, splits)).sum()
    }

    /// What follows from nodes, up to where something has nothing left or a base must be split.
    fn told(&self, mut nodes: Vec<Vec<Candidate>>, splits: u8) -> Option<Told> {
        if let Some(Followed { joints, empty, .. }) = self.to_the_end(&nodes, &[], self.bases) {
            let links = joints.into_iter().map(|joint| joint.link).collect();
            return Some(Told { links, end: End::Empty(empty) });
        }
        let links = self.all_links(&mut nodes);
        if let Some((empty, _)) = self.empty(self.bases, &nodes) {
            return Some(Told { links, end: End::Empty(empty) });
        }
        let splits = splits.checked_sub(1)?;
        let is_open = |at: &Candidate| !nodes.iter().any(|node| self.closes(node, *at));
        let left = |base| self.candidates(base).into_iter().filter(is_open).collect::<Vec<_>>();
        let (base, cases) =
            self.bases.iter().map(|base| (base, left(base))).find(|(_, left)| left.len() > 1)?;
        let case = |&case: &Candidate| {
            let nodes = nodes.iter().cloned().chain([vec![case]]).collect();
            Some((case, self.told(nodes, splits)?))
        };
        let cases = cases.iter().map(case).collect::<Option<_>>()?;
        Some(Told { links, end: End::Cases(base.clone(), cases) })
    }
}
