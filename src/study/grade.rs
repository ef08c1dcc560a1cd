//! How hard a puzzle is, counted.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::board::{Cell, DigitSet, Grid, Layout};
use crate::ladder::{Ladder, NAMES, NameKind, Pattern};
use crate::reason::{Climb, Focus, Reasoner, Scanned, Scanner, Step, Walk};
use crate::step::{Deduction, Position, Seen};

/// What grades puzzles of one layout.
#[derive(Debug)]
pub struct Grader {
    ladder: Ladder,
    reasoner: Reasoner,
}

/// The grade of a puzzle. Patterns by their names, in the ladder's order.
#[derive(Clone, PartialEq, Debug)]
pub struct Grade {
    /// Whether the patterns of the ladder finish it.
    pub finished: bool,
    /// The level of its hardest pattern; `None` if the ladder does not finish it.
    pub level: Option<u8>,
    /// How often each pattern is used on the walk with marks.
    pub patterns: Vec<(&'static str, usize)>,
    /// The last pattern of the shortest beginning of the ladder that finishes it.
    pub hardest: Option<&'static str>,
    /// How many steps the walk with marks has.
    pub steps: usize,
    /// The patterns of that beginning without any one of which it does not finish; none if the ladder does not.
    pub needs: Vec<&'static str>,
    /// What the walk with marks asks of a reader.
    pub effort: Effort,
    /// What scanning comes to.
    pub scanning: ScanningGrade,
}

/// What a walk asks of a reader.
#[derive(Clone, PartialEq, Debug)]
pub struct Effort {
    /// The houses and facts that a reader consults, summed over the walk.
    pub looks: usize,
    /// The most remembered facts in play at once: none, where every candidate is on the table.
    pub held: usize,
    /// In how many different ways one could go on.
    pub openings: Openings,
}

/// In how many different ways one could go on at each step by patterns no dearer than the level of the step taken:
/// cells that could be filled and things that could be struck.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Openings {
    /// The mean over the walk; 0 for a walk without steps.
    pub mean: f64,
    /// The least over the walk; 0 for a walk without steps.
    pub least: usize,
}

/// What scanning comes to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ScanningGrade {
    /// Whether it fills the grid.
    pub finished: bool,
    /// The highest level of a step; `None` if it gets stuck.
    pub level: Option<u8>,
    /// The most remembered facts in play at once.
    pub held: usize,
    /// How many cells it leaves open.
    pub open: usize,
    /// The houses and facts that a reader consults, summed over the walk.
    pub looks: usize,
    /// How often each way of seeing is used, in the order of [`Seen::ALL`].
    pub ways: Vec<(&'static str, usize)>,
}

/// Where a walk stands: the position, and where the reader's eyes are.
type Stand = (Position, Option<Focus>);

thread_local! {
    /// The last grader: a file of thousands of puzzles mostly has one layout.
    static LAST: RefCell<Option<Rc<Grader>>> = const { RefCell::new(None) };
}

impl Grader {
    /// A grader for this layout and ladder.
    pub fn new(layout: &Layout, ladder: &Ladder) -> Grader {
        Grader { ladder: ladder.clone(), reasoner: Reasoner::new(layout, ladder) }
    }

    /// A grader for this layout and ladder: the last one that was asked for here, if it is the same.
    pub fn of(layout: &Layout, ladder: &Ladder) -> Rc<Grader> {
        LAST.with_borrow_mut(|last| {
            let same = |grader: &&Rc<Grader>| grader.layout() == layout && grader.ladder == *ladder;
            if let Some(grader) = last.as_ref().filter(same) {
                return Rc::clone(grader);
            }
            let grader = Rc::new(Grader::new(layout, ladder));
            *last = Some(Rc::clone(&grader));
            grader
        })
    }

    /// The layout.
    pub fn layout(&self) -> &Layout {
        self.reasoner.layout()
    }

    /// The ladder.
    pub fn ladder(&self) -> &Ladder {
        &self.ladder
    }

    /// What finds the steps.
    pub fn reasoner(&self) -> &Reasoner {
        &self.reasoner
    }

    /// The grade of a puzzle, which has one solution.
    pub fn grade(&self, givens: &Grid) -> Grade {
        let walk = Walk::with_marks(&self.reasoner, self.start(givens));
        let used: BTreeSet<Pattern> = walk.steps.iter().map(|step| step.deduction.pattern).collect();
        let in_order: Vec<Pattern> =
            self.reasoner.patterns().iter().copied().filter(|pattern| used.contains(pattern)).collect();
        let finished = walk.is_finished();
        let mut patterns: Vec<(&'static str, usize)> = Vec::new();
        for &pattern in &in_order {
            let count = walk.steps.iter().filter(|step| step.deduction.pattern == pattern).count();
            match patterns.iter_mut().find(|(name, _)| *name == pattern.name()) {
                Some((_, sum)) => *sum += count,
                None => patterns.push((pattern.name(), count)),
            }
        }
        // The walk takes a pattern only where all cheaper ones are exhausted, so the dearest it takes is the hardest.
        let hardest = in_order.last().filter(|_| finished).map(|pattern| pattern.name());
        let needs = hardest.map_or_else(Vec::new, |hardest| self.needed(givens, hardest, &patterns));
        Grade {
            finished,
            level: hardest.and_then(|name| self.ladder.level(name)),
            patterns,
            hardest,
            steps: walk.steps.len(),
            needs,
            effort: Effort {
                looks: walk.steps.iter().map(|step| step.looks).sum(),
                held: 0,
                openings: self.openings(&walk),
            },
            scanning: self.scanning(givens),
        }
    }

    /// The start of a puzzle, which has one solution.
    fn start(&self, givens: &Grid) -> Position {
        Position::new(self.layout(), givens).with_one_solution()
    }

    /// What scanning comes to.
    pub fn scanning(&self, givens: &Grid) -> ScanningGrade {
        let mut scanner = Scanner::new(self.layout(), givens);
        let mut steps: Vec<Scanned> = Vec::new();
        while let Some(scanned) = scanner.unproved(steps.last().and_then(|it| Focus::of(&it.step)).as_ref()) {
            steps.push(scanned);
        }
        let count = |seen: Seen| steps.iter().filter(|it| it.step.seen == Some(seen)).count();
        let finished = scanner.known().is_finished();
        ScanningGrade {
            finished,
            level: steps.iter().map(|it| it.level).max().filter(|_| finished),
            held: steps.iter().map(|it| it.held).max().unwrap_or(0),
            open: scanner.known().open(),
            looks: steps.iter().map(|it| it.looks).sum(),
            ways: Seen::ALL
                .into_iter()
                .map(|seen| (seen.name(), count(seen)))
                .filter(|(_, n)| *n > 0)
                .collect(),
        }
    }

    /// The dearest pattern that the puzzle takes; `None` if the ladder does not finish it.
    pub fn hardest(&self, givens: &Grid) -> Option<&'static str> {
        let (dearest, end) = self.go_on((self.start(givens), None), self.reasoner.patterns());
        dearest.filter(|_| end.is_finished()).map(Pattern::name)
    }

    /// How many cells the beginning of the ladder up to `last` leaves open without any pattern of this name; `hidden
    /// single` is both kinds.
    pub fn open_without(&self, givens: &Grid, last: &str, name: &str) -> usize {
        self.open_from((self.start(givens), None), last, name)
    }

    /// The same from where a walk stands.
    fn open_from(&self, stand: Stand, last: &str, name: &str) -> usize {
        let names = members(name);
        let up_to = self.up_to(last).filter(|pattern| !names.contains(&pattern.name()));
        self.go_on(stand, &up_to.collect::<Vec<_>>()).1.open()
    }

    /// The patterns of the ladder up to the last one of this name.
    fn up_to(&self, last: &str) -> impl Iterator<Item = Pattern> {
        let patterns = self.reasoner.patterns();
        let end = patterns.iter().rposition(|pattern| pattern.name() == last).map_or(0, |at| at + 1);
        patterns[..end].iter().copied()
    }

    /// How far some patterns lead from where a walk stands, and the dearest of them that it takes. The focus goes along as on
    /// the walk that is shown: where a pattern leans on the single solution, the order of steps decides what is still there.
    fn go_on(&self, stand: Stand, patterns: &[Pattern]) -> (Option<Pattern>, Position) {
        let (mut position, mut focus) = stand;
        let mut climb = Climb::by(&self.reasoner, patterns);
        let mut dearest = 0;
        while let Some((by, next)) = climb.advance(&mut position, focus.as_ref()) {
            focus = next;
            let at = patterns.iter().position(|pattern| *pattern == by);
            dearest = dearest.max(at.unwrap_or_default());
        }
        (patterns.get(dearest).copied(), position)
    }

    /// Of the patterns used, those without which the beginning of the ladder does not finish: only these can be needed,
    /// since without the others the walk is the same.
    fn needed(&self, givens: &Grid, hardest: &str, used: &[(&'static str, usize)]) -> Vec<&'static str> {
        // Until a pattern is taken, the way is the same without it.
        let mut firsts: BTreeMap<&str, Stand> = BTreeMap::new();
        let up_to: Vec<Pattern> = self.up_to(hardest).collect();
        let mut climb = Climb::by(&self.reasoner, &up_to);
        let (mut position, mut focus) = (self.start(givens), None);
        loop {
            let before = (position.clone(), focus);
            let Some((pattern, next)) = climb.advance(&mut position, focus.as_ref()) else { break };
            firsts.entry(pattern.name()).or_insert(before);
            focus = next;
        }
        let needed = |name: &&str| {
            firsts.get(name).is_some_and(|first| self.open_from(first.clone(), hardest, name) > 0)
        };
        used.iter().map(|(name, _)| *name).filter(needed).collect()
    }

    fn openings(&self, walk: &Walk) -> Openings {
        let mut climb = Climb::new(&self.reasoner);
        let ways_on = |(before, step): (Position, &Step)| self.ways_on(&mut climb, &before, &step.deduction);
        let counts: Vec<usize> = walk.positions().map(ways_on).collect();
        let sum: usize = counts.iter().sum();
        // Walks have far fewer steps than a float keeps apart.
        #[allow(clippy::cast_precision_loss, reason = "both are small")]
        let mean = if counts.is_empty() { 0.0 } else { sum as f64 / counts.len() as f64 };
        Openings { mean, least: counts.into_iter().min().unwrap_or(0) }
    }

    /// The different conclusions that patterns no dearer than the level of a step give.
    fn ways_on(&self, climb: &mut Climb, before: &Position, step: &Deduction) -> usize {
        let mut look = climb.look_at(before);
        let level = |pattern: Pattern| self.ladder.level(pattern.name());
        let mut conclusions: BTreeSet<Vec<(Cell, u32)>> = BTreeSet::new();
        for &pattern in self.reasoner.patterns().iter().filter(|other| level(**other) <= level(step.pattern))
        {
            for step in look.all(pattern) {
                let placed = step.claims.iter().filter(|claim| claim.places());
                let mut conclusion: Vec<(Cell, u32)> = placed
                    .flat_map(|claim| claim.cells().iter().map(|cell| (cell, 0)).collect::<Vec<_>>())
                    .collect();
                if conclusion.is_empty() {
                    let strikes = before.strikes(&step.claims).into_iter();
                    conclusion.extend(strikes.map(|(cell, digits): (Cell, DigitSet)| (cell, digits.bits())));
                }
                conclusions.insert(conclusion);
            }
        }
        // The step itself is one.
        conclusions.len().max(1)
    }
}

/// The patterns that a name stands for: itself, or those of a group.
pub(super) fn members(name: &str) -> Vec<&str> {
    let is_group = NAMES.iter().any(|row| row.name == name && row.kind == NameKind::Group);
    let in_group = |row: &&str| row.ends_with(name) && *row != name;
    if is_group { NAMES.iter().map(|row| row.name).filter(in_group).collect() } else { vec![name] }
}
