//! What a walk is held against.

use crate::board::{Grid, Layout};
use crate::book::{Puzzle, WalkSays, Walkthrough};
use crate::ladder::{Ladder, NameKind, Pattern, PatternName};
use crate::reason::Reasoner;
use crate::solve::Budget;
use crate::step::Method;
use crate::study::{Grader, Start};
use std::cell::Cell;
use std::rc::Rc;

/// The highest level of patterns that a claim may follow by, where a walk names none.
pub(super) const USUAL_LEVEL: u8 = 4;

/// What a walk is held against: the puzzle, its solution, and the patterns that count.
pub struct Ground<'a> {
    /// Where it starts, and the one solution where there is one.
    pub start: &'a Start,
    /// Patterns up to this level may give a claim.
    pub level: u8,
    /// Whether the reader has nothing but digits and stated facts.
    pub scanning: bool,
    /// How a reader may go on, the way that is tried first before the others. A walk that gives no reason yet is read by
    /// scanning as far as that goes.
    pub methods: &'static [Method],
    /// Whether a missing step is written with its reason, as most of the walk's are.
    pub reasons: bool,
    /// The level that the puzzle says, if it does.
    said: Option<u8>,
    /// The levels of the reasons that the walk gives.
    named: Vec<u8>,
    /// A lesson need not come to an end.
    pub may_end: bool,
    grader: Rc<Grader>,
    /// What is left to spend on searching whether claims are false, in nodes, for the whole walk.
    pub(super) nodes: Cell<u64>,
}

/// So many searches of the usual budget are spent on one walk.
const SEARCHES: u64 = 4;

impl<'a> Ground<'a> {
    /// For a walkthrough of a puzzle. `start` is the puzzle's own, or that of the puzzle from which a lesson starts.
    pub fn new(start: &'a Start, ladder: &Ladder, puzzle: &Puzzle, walk: &Walkthrough) -> Ground<'a> {
        let facts = &puzzle.facts;
        let grader = Grader::of(&start.layout, ladder);
        let said = facts.level.iter().map(|fact| fact.value);
        let said = said.chain(facts.levels.iter().map(|fact| fact.value.1));
        let said = said.map(|level| u8::try_from(level).unwrap_or(u8::MAX)).max();
        let named = walk.lines.iter().filter_map(|line| match &line.says {
            WalkSays::Step(_, Some(because)) => level_named(ladder, said, because.name),
            _ => None,
        });
        let named: Vec<u8> = named.collect();
        let level = counting(said, &named);
        let scanning = super::is_by_scanning(walk);
        let steps = walk.lines.iter().filter(|line| matches!(line.says, WalkSays::Step(..)));
        let (with, without): (Vec<_>, Vec<_>) =
            steps.partition(|line| matches!(line.says, WalkSays::Step(_, Some(_))));
        let methods: &[Method] = if scanning || !super::gives_reasons(walk) {
            &[Method::Scanning, Method::Marks]
        } else {
            &[Method::Marks]
        };
        Ground {
            start,
            level,
            scanning,
            methods,
            reasons: with.len() > without.len(),
            said,
            named,
            may_end: puzzle.lesson,
            grader,
            nodes: nodes(),
        }
    }

    /// For what is remembered beside a sheet: all patterns count up to the usual level.
    pub(super) fn of_sheet(start: &'a Start, ladder: &Ladder) -> Ground<'a> {
        Ground {
            start,
            level: USUAL_LEVEL,
            scanning: false,
            methods: &[Method::Marks],
            reasons: false,
            said: None,
            named: Vec::new(),
            may_end: true,
            grader: Grader::of(&start.layout, ladder),
            nodes: nodes(),
        }
    }

    /// The layout.
    pub fn layout(&self) -> &Layout {
        &self.start.layout
    }

    /// The one solution, where there is one.
    pub fn solution(&self) -> Option<&Grid> {
        self.start.solution.as_ref()
    }

    /// What finds steps.
    pub fn reasoner(&self) -> &Reasoner {
        self.grader.reasoner()
    }

    /// The ladder.
    pub fn ladder(&self) -> &Ladder {
        self.grader.ladder()
    }

    /// The patterns that count, cheapest first.
    pub fn patterns(&self) -> impl Iterator<Item = Pattern> {
        let counts = |pattern: &Pattern| self.level_of(*pattern) <= self.level;
        self.reasoner().patterns().iter().copied().filter(counts)
    }

    /// Whether patterns of this level count, and those above do not, only because a reason names one.
    pub(super) fn counts_by_name(&self, level: u8) -> bool {
        level == self.level && self.said < Some(level) && !self.named.is_empty()
    }

    /// The highest level that counts if a reason of this name is taken out.
    pub(super) fn level_without(&self, name: &PatternName) -> u8 {
        let mut named = self.named.clone();
        let level = level_named(self.ladder(), self.said, name);
        if let Some(at) = named.iter().position(|other| Some(*other) == level) {
            named.remove(at);
        }
        counting(self.said, &named)
    }

    /// The level of a pattern.
    pub fn level_of(&self, pattern: Pattern) -> u8 {
        self.ladder().level(pattern.name()).unwrap_or(u8::MAX)
    }
}

/// The level up to which a reason makes patterns count. A way of seeing is of none: the usual ones count, where the puzzle
/// says no level.
fn level_named(ladder: &Ladder, said: Option<u8>, name: &PatternName) -> Option<u8> {
    match name.kind {
        NameKind::Seeing => said.is_none().then_some(USUAL_LEVEL),
        _ => ladder.level(name.name),
    }
}

/// The highest level that counts: the dearest that the puzzle says or a reason names.
fn counting(said: Option<u8>, named: &[u8]) -> u8 {
    named.iter().copied().chain(said).max().unwrap_or(USUAL_LEVEL)
}

/// The patterns that a name of the table stands for: its own, those of a group, or those that a way of seeing comes upon.
pub(super) fn patterns_of(name: &PatternName, side: u8) -> Vec<Pattern> {
    let stands = |pattern: &Pattern| match name.kind {
        NameKind::Pattern => pattern.name() == name.name,
        NameKind::Group => {
            matches!(pattern, Pattern::BoxHiddenSingle | Pattern::LineHiddenSingle)
        }
        NameKind::Seeing => match name.name {
            "counting" => {
                matches!(pattern, Pattern::LastOpenCell | Pattern::NakedSingle | Pattern::NakedSet(_))
            }
            "settling" => pattern.is_single(),
            _ => matches!(
                pattern,
                Pattern::LastOpenCell
                    | Pattern::BoxHiddenSingle
                    | Pattern::LineHiddenSingle
                    | Pattern::LockedCandidates
                    | Pattern::HiddenSet(_)
            ),
        },
    };
    Pattern::all(side).filter(stands).collect()
}

fn nodes() -> Cell<u64> {
    Cell::new(Budget::default().nodes * SEARCHES)
}
