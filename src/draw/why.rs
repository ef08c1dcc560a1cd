//! What a step rests on, drawn.

use super::picture::Sight;
use super::{Picture, Stands};
use crate::board::{Cell, DigitSet};
use crate::step::{Base, By, Deduction, Method, Position};
use crate::words::thread;

impl Picture {
    /// Draws what a step rests on, and nothing else. Under scanning these are its witnesses: a line from each digit to
    /// each cell that it closes, each closed cell, each fact that is recalled. With marks these are its bases: the
    /// candidates of a cell, the places of a digit in a house, and a line around the house; of a chain that is told in
    /// one course also what it supposes, and its links from what each needs to what it leaves.
    ///
    /// `before` is what is known before the step; `earlier` are the steps before, of which `earlier[n - 1]` is step `n`.
    pub fn why(&mut self, before: &Position, step: &Deduction, earlier: &[Deduction]) {
        match step.method {
            Method::Scanning => self.witnesses(step, earlier),
            Method::Marks => self.bases(before, step),
        }
    }

    fn witnesses(&mut self, step: &Deduction, earlier: &[Deduction]) {
        for witness in &step.witnesses {
            self.content_mut(witness.cell).barred |= DigitSet::single(witness.digit);
            for by in &witness.by {
                if let By::Cell(from) = *by {
                    // A digit that a step before this one places, where both are drawn at once.
                    if self.content(from).stands == Stands::Nothing {
                        self.content_mut(from).stands = Stands::Known(witness.digit);
                    }
                    let sight = Sight { from, to: witness.cell };
                    if !self.sights.contains(&sight) {
                        self.sights.push(sight);
                    }
                }
            }
        }
        self.sights.sort_unstable();
        let fact = |n: usize| earlier.get(n.checked_sub(1)?);
        for claim in step.facts_used().into_iter().filter_map(fact).flat_map(|fact| &fact.claims) {
            self.remember(claim);
        }
    }

    fn bases(&mut self, before: &Position, step: &Deduction) {
        for base in &step.bases {
            match *base {
                Base::Swap(ref swap) => {
                    for &cell in &swap.cells {
                        self.content_mut(cell).closed |= before.candidates(cell);
                    }
                }
                Base::Cell(cell) => self.content_mut(cell).closed |= before.candidates(cell),
                Base::Place(house, digit) => {
                    for cell in before.cells(house, digit).iter() {
                        self.content_mut(cell).closed |= DigitSet::single(digit);
                    }
                    if !self.outlined.contains(&house) {
                        self.outlined.push(house);
                    }
                }
            }
        }
        if let Some(thread) = thread(before, step) {
            for &(cell, digit) in &thread.supposed {
                self.content_mut(cell).closed |= DigitSet::single(digit);
            }
            self.threads.push(thread);
        }
    }

    /// The cells whose digits close others, in reading order.
    pub(super) fn holders(&self) -> Vec<Cell> {
        let mut holders: Vec<Cell> = self.sights.iter().map(|sight| sight.from).collect();
        holders.dedup();
        holders
    }
}
