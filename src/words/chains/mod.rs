//! Chains: what is supposed, what follows link by link, and where it leads.

mod branches;
mod cases;
mod english;
mod german;
mod retold;
mod thread;
mod tongue;

use super::fit::{fits, in_parts};
use super::outline::Line;
use super::tell::Teller;
use super::tongue::Cells;
use crate::board::{Cell, CellSet, DigitSet};
use crate::ladder::Pattern;
use crate::step::{Base, Deduction};
pub use branches::LinkName;
pub(super) use branches::Opening;
use branches::{Placed, in_branches, in_order};
use cases::{End, Told};
use retold::{Branch, Empty, Joint, Link, Node, Retold};
use std::collections::BTreeSet;
use std::fmt::Write as _;
pub use thread::{Thread, ThreadEnd, ThreadLink, thread};
pub(super) use tongue::Chains;

impl Teller<'_> {
    fn retold(&self) -> Retold {
        retold::retell(self.before, self.step)
    }

    /// Where a chain begins and ends.
    pub(super) fn chain_place(&self) -> Vec<String> {
        let cells: Vec<Cell> = ends(&self.retold()).iter().collect();
        in_parts(&cells, &|part: &[Cell], also| {
            self.tongue.look_at_cells(part.iter().copied().collect(), also)
        })
    }

    /// That there is a chain, and what follows.
    pub(super) fn chain_what(&self) -> Vec<String> {
        let named = |cells| self.tongue.chain_at(self.step.pattern, cells);
        let there = if self.full { self.about(ends(&self.retold()), named) } else { Vec::new() };
        [there, self.chain_follows()].concat()
    }

    /// The whole chain; cases in lines of their own.
    pub(super) fn chain_why(&self) -> Vec<Line> {
        let mut lines = match self.retold() {
            Retold::Chain { begin, joints, end, is_loop } => {
                let mut sentences =
                    self.about(begin.cells, |cells| self.tongue.suppose_not(begin.digit, cells));
                sentences.extend(self.joints(&joints, &retold::From::default()).0);
                sentences.extend(self.chain_joins(begin, end, is_loop));
                vec![Line::of(sentences)]
            }
            Retold::Branches(branches) => {
                vec![Line::of(branches.iter().flat_map(|branch| self.branch(branch)).collect())]
            }
            Retold::InCases { struck: (cell, digit), told, cases } => {
                let mut lines = vec![Line::of(vec![self.tongue.suppose(digit, cell)])];
                self.in_cases(&told, &[], &mut lines);
                if cases > 1 {
                    lines.push(Line::of(vec![self.tongue.all_come_to_nothing(cases)]));
                }
                lines
            }
            Retold::Many { struck: (cell, digit), split, cases } => {
                let begin = [self.tongue.suppose(digit, cell)].into_iter();
                let tried = split.iter().filter_map(|base| self.splits(base, None));
                vec![Line::of(begin.chain(tried).chain([self.tongue.many_cases(cases)]).collect())]
            }
            Retold::Cases(base, branches) => {
                let mut lines = vec![Line::of(self.splits(&base, None).into_iter().collect())];
                lines.extend(
                    branches
                        .iter()
                        .zip(1..)
                        .map(|(branch, n)| Line { depth: 1, sentences: self.case(branch, n) }),
                );
                lines.push(Line::of(self.out_in_each(branches.len())));
                lines
            }
        };
        let mut last = if self.full { vec![self.tongue.that_is(self.step.pattern)] } else { Vec::new() };
        last.extend(self.chain_follows());
        match lines.last_mut().filter(|line| line.depth == 0) {
            Some(line) => line.sentences.extend(last),
            None => lines.push(Line::of(last)),
        }
        lines
    }

    /// What both ends of a chain come to.
    fn chain_joins(&self, begin: Node, end: Node, is_loop: bool) -> Vec<String> {
        if is_loop {
            return vec![self.tongue.chain_closes()];
        }
        if self.step.places() {
            return Vec::new();
        }
        let both = self.tongue.one_of_both((begin.digit, begin.cells), (end.digit, end.cells));
        let both = if fits(&both) { both } else { self.tongue.one_end() };
        let out = if begin.digit == end.digit {
            let cells = begin.cells | end.cells;
            vec![self.tongue.no_cell_in_sight(DigitSet::single(begin.digit), cells.len())]
        } else {
            self.out_in_each(2)
        };
        [both].into_iter().chain(out).collect()
    }

    /// How many cases a base has: all of its candidates, or those that are `left` then.
    fn splits(&self, base: &Base, left: Option<usize>) -> Option<String> {
        let then = left.is_some();
        match *base {
            Base::Cell(cell) => {
                let count = left.unwrap_or(self.before.candidates(cell).len());
                Some(self.tongue.splits_cell(count, cell, then))
            }
            Base::Place(house, digit) => {
                let count = left.unwrap_or(self.before.cells(house, digit).len());
                Some(self.tongue.splits_place(count, digit, self.name(house), then))
            }
            Base::Swap(_) => None,
        }
    }

    /// That what is struck is out in each of so many cases.
    fn out_in_each(&self, cases: usize) -> Vec<String> {
        let strikes = self.before.strikes(&self.step.claims).into_iter();
        strikes.map(|(cell, digits)| self.tongue.out_in_each(cases, digits, cell)).collect()
    }

    /// What comes of what is supposed.
    fn branch(&self, branch: &Branch) -> Vec<String> {
        let begin = branch.supposed.iter().map(|&(cell, digit)| self.tongue.suppose(digit, cell)).collect();
        self.comes_of(begin, branch)
    }

    /// What comes of a case; its candidate is supposed last.
    fn case(&self, branch: &Branch, number: usize) -> Vec<String> {
        let Some((&(cell, digit), others)) = branch.supposed.split_last() else { return Vec::new() };
        let mut begin = vec![self.tongue.in_case(&number.to_string(), digit, cell)];
        begin.extend(others.iter().map(|&(cell, digit)| self.tongue.suppose(digit, cell)));
        self.comes_of(begin, branch)
    }

    fn comes_of(&self, mut sentences: Vec<String>, branch: &Branch) -> Vec<String> {
        let (links, end) = self.joints(&branch.joints, &branch.from);
        sentences.extend(links);
        sentences.extend(self.empty(&branch.empty, &end));
        sentences
    }

    /// What has nothing left.
    fn empty(&self, empty: &Empty, opening: &Opening) -> Vec<String> {
        let tongue = self.tongue;
        match *empty {
            Empty::Cell(cell) => vec![tongue.nothing_left_for(opening, cell)],
            Empty::Place(house, digit) => vec![tongue.no_place_left(opening, digit, self.name(house))],
            Empty::All => vec![tongue.no_room(self.step.bases.len())],
            Empty::Struck => {
                let strikes = self.before.strikes(&self.step.claims);
                strikes.into_iter().map(|(cell, digits)| tongue.then_out(opening, digits, cell)).collect()
            }
            Empty::Cells(cells, digits) => {
                self.about(cells, |cells| tongue.too_few_left(opening, digits, cells))
            }
        }
    }

    /// What follows, at the end of the last line, and a line for each case within this one, which has a number as far as
    /// it is one.
    fn in_cases(&self, told: &Told, number: &[usize], lines: &mut Vec<Line>) {
        let mut sentences = self.links(&told.links);
        match &told.end {
            End::Empty(empty) => sentences.extend(self.empty(empty, &Opening::Then)),
            End::Cases(base, cases) => sentences.extend(self.splits(base, Some(cases.len()))),
        }
        if let Some(line) = lines.last_mut() {
            line.sentences.extend(sentences);
        }
        let End::Cases(_, cases) = &told.end else { return };
        for (((cell, digit), told), n) in cases.iter().zip(1..) {
            let number = [number, &[n]].concat();
            let figures: Vec<String> = number.iter().map(usize::to_string).collect();
            let begin = self.tongue.in_case(&figures.join("."), *digit, *cell);
            lines.push(Line { depth: number.len(), sentences: vec![begin] });
            self.in_cases(told, &number, lines);
        }
    }

    /// What is struck or written.
    fn chain_follows(&self) -> Vec<String> {
        if !self.step.places() {
            return self.strike(self.before.strikes(&self.step.claims));
        }
        let placed = self.step.claims.iter().filter_map(Self::placed);
        placed.map(|(digit, cells)| self.tongue.so_put(digit, Cells::Named(cells))).collect()
    }

    fn links(&self, links: &[Link]) -> Vec<String> {
        links.iter().flat_map(|link| self.link(link, false, &Opening::Then)).collect()
    }

    /// The links of a chain branch by branch, and how the sentence of its end begins. A link that is named later has its name
    /// behind it, so that nobody needs to count.
    fn joints(&self, joints: &[Joint], end: &retold::From) -> (Vec<String>, Opening) {
        let (placed, end) = placed(self.step, joints, end);
        let openings = placed.iter().map(|placed| &placed.opening).chain([&end]);
        let named: BTreeSet<LinkName> = openings.flat_map(Opening::named).copied().collect();
        let of = |placed: &Placed| {
            let joint = &joints[placed.at];
            let mut sentences = self.link(&joint.link, joint.from.joints.is_empty(), &placed.opening);
            if let Some(last) = sentences.last_mut().filter(|_| named.contains(&placed.name)) {
                last.truncate(last.trim_end_matches('.').len());
                let _ = write!(last, " ({}).", placed.name);
            }
            sentences
        };
        (placed.iter().flat_map(of).collect(), end)
    }

    /// One link; of one that follows from what is supposed alone, it has been said what is out.
    fn link(&self, link: &Link, is_first: bool, opening: &Opening) -> Vec<String> {
        let tongue = self.tongue;
        match *link {
            Link::Cell { cell, out, left } => {
                vec![tongue.then_cell(opening, cell, if is_first { DigitSet::EMPTY } else { out }, left)]
            }
            Link::Place { house, digit, left } => {
                self.about(left, |cells| tongue.then_place(opening, self.name(house), digit, cells))
            }
            Link::Set { cells, left } => self.about(cells, |cells| tongue.then_share(opening, left, cells)),
        }
    }
}

/// The links of a step in the order in which they are told, and how the sentence of its end begins. Of a trial nobody keeps
/// the branches apart.
fn placed(step: &Deduction, joints: &[Joint], end: &retold::From) -> (Vec<Placed>, Opening) {
    match step.pattern {
        Pattern::Trial => (in_order(joints), Opening::Then),
        _ => in_branches(joints, end),
    }
}

/// The cells at which a chain begins and ends.
fn ends(retold: &Retold) -> CellSet {
    match retold {
        Retold::Chain { begin, end, .. } => begin.cells | end.cells,
        Retold::InCases { struck: (cell, _), .. } | Retold::Many { struck: (cell, _), .. } => {
            CellSet::single(*cell)
        }
        Retold::Branches(branches) | Retold::Cases(_, branches) => {
            branches.iter().flat_map(|branch| branch.supposed.iter().map(|(cell, _)| *cell)).collect()
        }
    }
}
