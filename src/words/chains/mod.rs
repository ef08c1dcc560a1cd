//! Chains: what is supposed, what follows link by link, and where it leads.

mod cases;
mod english;
mod german;
mod retold;
mod tongue;

use super::fit::{fits, in_parts};
use super::tell::Teller;
use super::tongue::Cells;
use crate::board::{Cell, CellSet, DigitSet};
use crate::step::Base;
use cases::{End, Told};
use retold::{Branch, Empty, Link, Node, Retold};
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

    /// The whole chain.
    pub(super) fn chain_why(&self) -> Vec<String> {
        let mut sentences = match self.retold() {
            Retold::Chain { begin, links, end, is_loop } => {
                let mut sentences =
                    self.about(begin.cells, |cells| self.tongue.suppose_not(begin.digit, cells));
                sentences.extend(self.links(&links));
                sentences.extend(self.chain_joins(begin, end, is_loop));
                sentences
            }
            Retold::Branches(branches) => branches.iter().flat_map(|branch| self.branch(branch)).collect(),
            Retold::InCases { struck: (cell, digit), told, cases } => {
                let mut sentences = vec![self.tongue.suppose(digit, cell)];
                self.in_cases(&told, &[], &mut sentences);
                if cases > 1 {
                    sentences.push(self.tongue.all_come_to_nothing(cases));
                }
                sentences
            }
            Retold::Many { struck: (cell, digit), split, cases } => {
                let begin = [self.tongue.suppose(digit, cell)].into_iter();
                let tried = split.iter().filter_map(|base| self.try_each(base));
                begin.chain(tried).chain([self.tongue.many_cases(cases)]).collect()
            }
            Retold::Cases(base, branches) => {
                let cases = branches.iter().flat_map(|branch| self.branch(branch));
                self.try_each(&base)
                    .into_iter()
                    .chain(cases)
                    .chain(self.out_in_each(branches.len()))
                    .collect()
            }
        };
        if self.full {
            sentences.push(self.tongue.that_is(self.step.pattern));
        }
        [sentences, self.chain_follows()].concat()
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

    /// That the cases of a base are tried.
    fn try_each(&self, base: &Base) -> Option<String> {
        match *base {
            Base::Cell(cell) => Some(self.tongue.try_each_digit(cell)),
            Base::Place(house, digit) => Some(self.tongue.try_each_place(digit, self.name(house))),
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
        let begin = match branch.supposed[..] {
            [(cell, digit), (second, other), ..] => self.tongue.suppose_both((digit, cell), (other, second)),
            [(cell, digit)] => self.tongue.suppose(digit, cell),
            [] => return Vec::new(),
        };
        let mut sentences = vec![begin];
        sentences.extend(self.links(&branch.links));
        sentences.extend(self.empty(&branch.empty));
        sentences
    }

    /// What has nothing left.
    fn empty(&self, empty: &Empty) -> Vec<String> {
        let tongue = self.tongue;
        match *empty {
            Empty::Cell(cell) => vec![tongue.nothing_left_for(cell)],
            Empty::Place(house, digit) => vec![tongue.no_place_left(digit, self.name(house))],
            Empty::All => vec![tongue.no_room(self.step.bases.len())],
            Empty::Struck => {
                let strikes = self.before.strikes(&self.step.claims);
                strikes.into_iter().map(|(cell, digits)| tongue.then_out(digits, cell)).collect()
            }
            Empty::Cells(cells, digits) => self.about(cells, |cells| tongue.too_few_left(digits, cells)),
        }
    }

    /// What follows, and what becomes of the cases within this one, which has a number as far as it is one.
    fn in_cases(&self, told: &Told, number: &[usize], sentences: &mut Vec<String>) {
        sentences.extend(self.links(&told.links));
        match &told.end {
            End::Empty(empty) => sentences.extend(self.empty(empty)),
            End::Cases(cases) => {
                for (at, ((cell, digit), told)) in cases.iter().enumerate() {
                    let number = [number, &[at + 1]].concat();
                    let figures: Vec<String> = number.iter().map(usize::to_string).collect();
                    sentences.push(self.tongue.in_case(&figures.join("."), *digit, *cell));
                    self.in_cases(told, &number, sentences);
                }
            }
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
        links.iter().enumerate().flat_map(|(at, link)| self.link(link, at == 0)).collect()
    }

    /// One link; of the first it has been said what is out.
    fn link(&self, link: &Link, is_first: bool) -> Vec<String> {
        let tongue = self.tongue;
        match *link {
            Link::Cell { cell, out, left } => {
                vec![tongue.then_cell(cell, if is_first { DigitSet::EMPTY } else { out }, left)]
            }
            Link::Place { house, digit, left } => {
                self.about(left, |cells| tongue.then_place(self.name(house), digit, cells))
            }
            Link::Set { cells, left } => self.about(cells, |cells| tongue.then_share(left, cells)),
        }
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
