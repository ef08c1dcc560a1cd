//! A diagram of a walk, as its `show` line asks for it.

use super::Subject;
use crate::board::{CellSet, Digit, DigitSet, Grid};
use crate::book::cells_at;
use crate::draw::Picture;
use crate::notation::{Place, Show, ShowPart};
use crate::step::{Claim, Deduction, Position};

/// Where in a walk a diagram stands.
#[derive(Clone, Copy, Debug)]
pub struct Moment<'a> {
    /// What is printed as given.
    pub givens: &'a Grid,
    /// What is known here.
    pub before: &'a Position,
    /// What the next line of the walk comes to, step by step; none after the last.
    pub next: &'a [Deduction],
    /// The steps so far, of which `earlier[n - 1]` is step `n`.
    pub earlier: &'a [Deduction],
    /// The facts remembered here.
    pub facts: &'a [Claim],
}

impl Subject<'_> {
    /// The diagram that a `show` line asks for. A cell, a house or a digit that this layout does not have is left out.
    pub fn diagram(&self, show: &Show, moment: &Moment) -> Picture {
        let layout = moment.before.layout();
        let mut picture =
            Picture::new(layout, moment.givens, moment.before.grid()).with_edges(self.voice.naming);
        let cells = |places: &[Place]| -> CellSet { cells_at(self.section, layout, places) };
        for part in &show.parts {
            match part {
                ShowPart::Only(places) => picture.only(cells(places)),
                ShowPart::Shade(places) => picture.shade(cells(places)),
                ShowPart::Ring(places) => picture.ring(cells(places)),
                ShowPart::MarksAll => picture.mark(moment.before, layout.size().digits()),
                ShowPart::MarksNone => {}
                ShowPart::MarksKnown => moment.facts.iter().for_each(|fact| picture.remember(fact)),
                ShowPart::MarksOf(digits) => {
                    let symbols = digits.symbols.iter().filter_map(|&(symbol, _)| Digit::from_symbol(symbol));
                    picture.mark(moment.before, symbols.collect::<DigitSet>());
                }
            }
        }
        if show.why {
            let mut known = moment.before.clone();
            let mut earlier = moment.earlier.to_vec();
            for step in moment.next {
                picture.why(&known, step, &earlier);
                known.apply(&step.claims);
                earlier.push(step.clone());
            }
        }
        let caption = show.caption.map(|caption| self.running().prose(caption));
        let caption = caption.as_deref().map(unquoted);
        let picture = self.picture(picture, caption.as_deref());
        match caption {
            Some(caption) => picture.captioned(&caption),
            None => picture,
        }
    }
}

/// What a string says: without its quotes, and with what a backslash keeps.
pub(super) fn unquoted(string: &str) -> String {
    let mut said = String::with_capacity(string.len());
    let mut signs = string.chars().skip(1).peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '\\' => said.extend(signs.next()),
            _ if signs.peek().is_none() => {}
            sign => said.push(sign),
        }
    }
    said
}
