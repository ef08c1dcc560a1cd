//! What could be seen at a level at best: where not even that writes a digit, no plan of the level does.

use std::borrow::Cow;

use super::idea::Idea;
use super::placements::LEVEL_OF_CELL;
use super::view::View;
use super::{Band, placements, remember, third_line};
use crate::step::Seen;

/// The smallest set that is harder to see by itself than when a third line tells of it.
const WIDE_SET: u8 = 4;

/// A reader to whom facts cost nothing: all are held at once, and however many a step leans on, it is no harder.
///
/// Whatever a plan of a level closes is closed here, or else a digit can be written here. A fact that is looked for at
/// some point of a plan is read off candidates of which fewer are left here; so it says at least as much, or one of its
/// digits or cells is down to one candidate, and that is seen at no higher level than the fact.
pub(super) struct Reach<'a> {
    view: Cow<'a, View>,
    bands: &'a [Band],
}

impl<'a> Reach<'a> {
    pub(super) fn new(view: &'a View, bands: &'a [Band]) -> Reach<'a> {
        Reach { view: Cow::Borrowed(view), bands }
    }

    /// Whether a digit could be written at a level without facts that are seen in the one way. Asked for rising levels.
    pub(super) fn writes_at(&mut self, level: u8, without: Option<Seen>) -> bool {
        while !self.has_digit(level) {
            if !self.takes_facts(level, without) {
                return false;
            }
        }
        true
    }

    fn has_digit(&self, level: u8) -> bool {
        // However many the house of such a cell misses: a remembered set may settle it.
        let naked = || level >= LEVEL_OF_CELL && placements::naked(&self.view.known).next().is_some();
        naked() || !placements::up_to(level, &self.view, self.bands).is_empty()
    }

    /// Strikes what all facts of a level say, and tells whether that is anything.
    fn takes_facts(&mut self, level: u8, without: Option<Seen>) -> bool {
        let facts = remember::all(level, &self.view.known, self.bands);
        let wide = if level >= third_line::LEVEL { self.wide_sets() } else { Vec::new() };
        let known = &mut self.view.to_mut().known;
        let mut news = false;
        for idea in facts.into_iter().chain(wide) {
            if Some(idea.seen) != without {
                for (cell, digits) in known.strikes(&idea.claims) {
                    known.strike(cell, digits);
                    news = true;
                }
            }
        }
        news
    }

    /// The sets of a box as wide as its lines: each may be what a third line tells, of which more digits are known here,
    /// so that they no longer fill their cells.
    fn wide_sets(&self) -> Vec<Idea> {
        let known = &self.view.known;
        let mut ideas = Vec::new();
        for band in self.bands {
            let widest = known.layout().size().side() / 3;
            for (size, house) in (WIDE_SET..=widest).flat_map(|size| band.boxes.map(|house| (size, house))) {
                remember::by_crossing(size, house, known, &mut ideas);
            }
        }
        let told = |idea| Idea { seen: Seen::ThirdLine, ..idea };
        ideas.into_iter().map(told).collect()
    }
}
