//! A chain that was found, and the step that it makes.

use crate::board::{Cell, CellSet, Digit, DigitSet};
use crate::ladder::Pattern;
use crate::reason::links::Links;
use crate::reason::numbers::Bits;
use crate::step::{Base, Claim, Deduction};

/// One link: if nothing of `off` is true, something of `on` is, by these bases.
#[derive(Clone, Debug)]
pub(super) struct Link<const W: usize> {
    pub(super) bases: Vec<Base>,
    pub(super) off: Bits<W>,
    pub(super) on: Bits<W>,
    /// Of an almost locked set, for each of its other digits its candidates.
    pub(super) rest: Vec<Bits<W>>,
}

/// Links of which each puts out the beginning of the next one.
#[derive(Clone, Debug)]
pub(super) struct Chain<const W: usize>(pub(super) Vec<Link<W>>);

impl<const W: usize> Chain<W> {
    fn ends(&self) -> Option<(&Bits<W>, &Bits<W>)> {
        Some((&self.0.first()?.off, &self.0.last()?.on))
    }

    /// Whether it passes more than once by the same bases.
    pub(super) fn repeats(&self) -> bool {
        let links = &self.0;
        (1..links.len()).any(|at| links[..at].iter().any(|before| before.bases == links[at].bases))
    }

    /// All that it strikes: what is in conflict with both of its ends; and if these exclude each other, so that it is a
    /// loop, what is in conflict with both sides of any of its joints.
    pub(super) fn strikes(&self, links: &Links<W>) -> Bits<W> {
        let Some((begin, end)) = self.ends() else { return Bits::EMPTY };
        let both = |one: &Bits<W>, other: &Bits<W>| links.common(one) & links.common(other);
        let mut struck = both(begin, end);
        if self.0.len() > 1 && begin.is_subset(&links.common(end)) {
            for (link, next) in self.0.iter().zip(self.0.iter().skip(1)) {
                struck |= both(&link.on, &next.off);
            }
            // In a loop each almost locked set loses but one of its two digits that are linked.
            self.0.iter().flat_map(|link| &link.rest).for_each(|rest| struck |= links.common(rest));
        }
        struck
    }

    /// What it says: that a digit stands, if both ends are this one candidate, or what it strikes.
    fn claims(&self, links: &Links<W>, struck: &Bits<W>) -> Vec<Claim> {
        if let Some((begin, end)) = self.ends()
            && begin == end
            && begin.len() == 1
            && let Some((cell, digit)) = begin.iter().next().map(|number| links.at(number))
        {
            return vec![Claim::Is { cells: CellSet::single(cell), digits: DigitSet::single(digit) }];
        }
        not(struck.iter().map(|number| links.at(number)))
    }

    /// The step, with its bases in the order of the chain.
    pub(super) fn into_step(self, pattern: Pattern, links: &Links<W>, struck: &Bits<W>) -> Deduction {
        let claims = self.claims(links, struck);
        let mut bases: Vec<Base> = Vec::new();
        for base in self.0.into_iter().flat_map(|link| link.bases) {
            if !bases.contains(&base) {
                bases.push(base);
            }
        }
        Deduction::with_marks(pattern, Vec::new(), claims, bases)
    }
}

/// That these candidates are not true: cells that lose the same digits together.
pub(in crate::reason) fn not(struck: impl Iterator<Item = (Cell, Digit)>) -> Vec<Claim> {
    let mut cells: Vec<(Cell, DigitSet)> = Vec::new();
    for (cell, digit) in struck {
        match cells.last_mut() {
            Some((last, digits)) if *last == cell => _ = digits.insert(digit),
            _ => cells.push((cell, DigitSet::single(digit))),
        }
    }
    let mut groups: Vec<(DigitSet, CellSet)> = Vec::new();
    for (cell, digits) in cells {
        match groups.iter_mut().find(|(same, _)| *same == digits) {
            Some((_, all)) => _ = all.insert(cell),
            None => groups.push((digits, CellSet::single(cell))),
        }
    }
    groups.into_iter().map(|(digits, cells)| Claim::IsNot { cells, digits }).collect()
}
