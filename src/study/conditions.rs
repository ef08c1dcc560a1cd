//! What is asked of a puzzle, and whether it is so.

use std::ops::RangeInclusive;

use super::Grader;
use crate::board::Grid;

/// What is asked of a puzzle: all of it together.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Conditions {
    /// How many givens it has.
    pub clues: Option<RangeInclusive<usize>>,
    /// Its level on the ladder.
    pub level: Option<RangeInclusive<u8>>,
    /// Patterns, by name, without any one of which it does not finish; see [`Grade::needs`](super::Grade::needs).
    pub needs: Vec<&'static str>,
    /// Patterns, by name, without any one of which it still finishes.
    pub avoids: Vec<&'static str>,
    /// That it is finished by scanning, with at most so many facts remembered at once.
    pub held: Option<usize>,
}

/// What is known of a puzzle that meets its conditions.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fitting {
    /// How many givens it has.
    pub clues: usize,
    /// Its level; `None` if the ladder does not finish it.
    pub level: Option<u8>,
    /// The dearest pattern that it takes; likewise.
    pub hardest: Option<&'static str>,
    /// The most facts remembered at once; `None` if scanning was not asked for.
    pub held: Option<usize>,
}

impl Conditions {
    /// What is known of a puzzle, which has one solution, if it meets them. What is cheap is looked at first.
    pub fn met(&self, grader: &Grader, givens: &Grid) -> Option<Fitting> {
        let clues = givens.filled();
        if self.clues.as_ref().is_some_and(|range| !range.contains(&clues)) {
            return None;
        }
        let hardest = grader.hardest(givens);
        let level = hardest.and_then(|name| grader.ladder().level(name));
        let is_in = |range: &RangeInclusive<u8>| level.is_some_and(|level| range.contains(&level));
        if !self.level.as_ref().is_none_or(is_in) {
            return None;
        }
        // What a puzzle needs and avoids is said of the beginning of the ladder that finishes it.
        let goes_without = |name: &&str| hardest.map(|last| grader.open_without(givens, last, name) == 0);
        let needs = self.needs.iter().all(|name| goes_without(name) == Some(false));
        let avoids = self.avoids.iter().all(|name| goes_without(name) == Some(true));
        if !needs || !avoids {
            return None;
        }
        let held = match self.held {
            Some(most) => {
                let scanning = grader.scanning(givens);
                Some(Some(scanning.held).filter(|held| scanning.finished && *held <= most)?)
            }
            None => None,
        };
        Some(Fitting { clues, level, hardest, held })
    }
}
