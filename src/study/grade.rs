//! How hard a puzzle is, counted.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::rc::Rc;

use crate::board::{Cell, DigitSet, Grid, Layout};
use crate::ladder::{Ladder, NAMES, NameKind, Pattern};
use crate::reason::{Climb, Focus, Reasoner, Step, Walk, is_called_off};
use crate::step::{Deduction, Position, Seen};

/// What grades puzzles of one layout.
///
/// Trials that are carried far enough strike every candidate but those of the one solution, and a single writes what is
/// left. So a beginning of the ladder that has both finishes every puzzle, and each has a level. How many candidates are
/// tried in one walk is bounded: a walk that needs more is cut short, and the level stands all the same.
#[derive(Debug)]
pub struct Grader {
    ladder: Ladder,
    reasoner: Reasoner,
    /// Where the shortest beginning of the ladder ends that finishes every puzzle; `None` if there is none.
    surely: Option<usize>,
}

/// The grade of a puzzle. Patterns by their names, in the ladder's order.
#[derive(Clone, PartialEq, Debug)]
pub struct Grade {
    /// Whether the walk with marks comes to the end. It does not where the ladder does not finish the puzzle, and where so
    /// much must be tried that it is cut short.
    pub finished: bool,
    /// The level of its hardest pattern; `None` if the ladder does not finish it.
    pub level: Option<u8>,
    /// How often each pattern is used on the walk with marks.
    pub patterns: Vec<(&'static str, usize)>,
    /// The last pattern of the shortest beginning of the ladder that finishes it, if its trials are carried far enough.
    pub hardest: Option<&'static str>,
    /// How many steps the walk with marks has.
    pub steps: usize,
    /// How many cells it leaves open.
    pub open: usize,
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
        Grader::by(Reasoner::new(layout, ladder), ladder)
    }

    /// A grader with a reasoner that has the patterns of this ladder.
    fn by(reasoner: Reasoner, ladder: &Ladder) -> Grader {
        let patterns = reasoner.patterns();
        let surely = (0..patterns.len()).find(|&last| finish_all(reasoner.layout(), &patterns[..=last]));
        Grader { ladder: ladder.clone(), reasoner, surely }
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
        let mut patterns: Vec<(&'static str, usize)> = Vec::new();
        for &pattern in &in_order {
            let count = walk.steps.iter().filter(|step| step.deduction.pattern == pattern).count();
            match patterns.iter_mut().find(|(name, _)| *name == pattern.name()) {
                Some((_, sum)) => *sum += count,
                None => patterns.push((pattern.name(), count)),
            }
        }
        let finished = walk.is_finished();
        // By which pattern a full grid is finished is all the same.
        let dearest = in_order.last().or(self.reasoner.patterns().first()).copied();
        let hardest = self.hardest_of(dearest.filter(|_| finished)).map(Pattern::name);
        Grade {
            finished,
            level: hardest.and_then(|name| self.ladder.level(name)),
            needs: hardest.map_or_else(Vec::new, |hardest| self.needed(&walk, hardest, &patterns)),
            patterns,
            hardest,
            steps: walk.steps.len(),
            open: walk.end.open(),
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
        let walk = Walk::by_scanning(&self.reasoner, givens);
        let count = |seen: Seen| walk.steps.iter().filter(|step| step.deduction.seen == Some(seen)).count();
        let finished = walk.is_finished();
        ScanningGrade {
            finished,
            level: walk.steps.iter().filter_map(|step| step.level).max().filter(|_| finished),
            held: walk.steps.iter().map(|step| step.held).max().unwrap_or(0),
            open: walk.end.open(),
            looks: walk.steps.iter().map(|step| step.looks).sum(),
            ways: Seen::ALL
                .into_iter()
                .map(|seen| (seen.name(), count(seen)))
                .filter(|(_, n)| *n > 0)
                .collect(),
        }
    }

    /// The dearest pattern that the puzzle takes; `None` if the ladder does not finish it. Where a pattern with which
    /// every puzzle is finished is still to come, nothing dearer is looked for.
    pub fn hardest(&self, givens: &Grid) -> Option<&'static str> {
        let patterns = self.reasoner.patterns();
        let cheaper = &patterns[..self.surely.unwrap_or(patterns.len())];
        let (dearest, end) = self.go_on((self.start(givens), None), cheaper);
        self.hardest_of(dearest.filter(|_| end.is_finished())).map(Pattern::name)
    }

    /// The hardest pattern of a puzzle of which a walk took this one at most, where it came to the end.
    fn hardest_of(&self, dearest: Option<Pattern>) -> Option<Pattern> {
        // A walk takes a pattern only where all cheaper ones are exhausted. What is called off may have ended too early.
        let surely = self.surely.filter(|_| !is_called_off()).map(|last| self.reasoner.patterns()[last]);
        let place = |pattern: &Pattern| self.reasoner.patterns().iter().position(|other| other == pattern);
        dearest.into_iter().chain(surely).min_by_key(place)
    }

    /// How many cells the beginning of the ladder up to `last` leaves open without any pattern of this name; `hidden
    /// single` is both kinds.
    pub fn open_without(&self, givens: &Grid, last: &str, name: &str) -> usize {
        self.open_from((self.start(givens), None), last, name)
    }

    /// The same from where a walk stands.
    fn open_from(&self, stand: Stand, last: &str, name: &str) -> usize {
        let names = members(name);
        let up_to: Vec<Pattern> =
            self.up_to(last).filter(|pattern| !names.contains(&pattern.name())).collect();
        if finish_all(self.layout(), &up_to) { 0 } else { self.go_on(stand, &up_to).1.open() }
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
    /// since without the others the walk is the same. Without the hardest none finishes but a full grid.
    fn needed(
        &self,
        walk: &Walk,
        hardest: &'static str,
        used: &[(&'static str, usize)],
    ) -> Vec<&'static str> {
        // Until a pattern is taken, the way is the same without it.
        let mut firsts: Vec<(&str, Stand)> = Vec::new();
        let mut focus = None;
        for (before, step) in walk.positions() {
            let name = step.deduction.pattern.name();
            if name != hardest && firsts.iter().all(|(first, _)| *first != name) {
                firsts.push((name, (before, focus)));
            }
            focus = Focus::of(&step.deduction);
        }
        let is_needed = |name: &&str| {
            let mut firsts = firsts.iter();
            let first = firsts.find_map(|(first, stand)| (first == name).then(|| stand.clone()));
            first.is_some_and(|first| self.open_from(first, hardest, name) > 0)
        };
        let others = used.iter().map(|(name, _)| *name).filter(is_needed);
        others.chain((!walk.start.is_finished()).then_some(hardest)).collect()
    }

    fn openings(&self, walk: &Walk) -> Openings {
        let mut climb = Climb::new(&self.reasoner).without_cases();
        let ways_on = |(before, step): (Position, &Step)| self.ways_on(&mut climb, &before, &step.deduction);
        let counts: Vec<usize> = walk.positions().map(ways_on).collect();
        let sum: usize = counts.iter().sum();
        // Walks have far fewer steps than a float keeps apart.
        #[allow(clippy::cast_precision_loss, reason = "both are small")]
        let mean = if counts.is_empty() { 0.0 } else { sum as f64 / counts.len() as f64 };
        Openings { mean, least: counts.into_iter().min().unwrap_or(0) }
    }

    /// The different conclusions that patterns no dearer than the level of a step give: none that is cheaper than its own.
    /// A trial in cases is looked for where there is nothing else, and not again here.
    fn ways_on(&self, climb: &mut Climb, before: &Position, step: &Deduction) -> usize {
        let mut look = climb.look_at(before);
        let level = |pattern: Pattern| self.ladder.level(pattern.name());
        let not_cheaper = self.reasoner.patterns().iter().skip_while(|other| **other != step.pattern);
        let counts = not_cheaper.filter(|other| level(**other) <= level(step.pattern));
        let mut all: Vec<Deduction> = counts.flat_map(|&pattern| look.all(pattern)).collect();
        if all.iter().all(|other| other.pattern != step.pattern) {
            all.push(step.clone());
        }
        all.iter().map(|step| conclusion(before, step)).collect::<BTreeSet<_>>().len()
    }
}

/// What a step comes to: the cells that it fills, or else what it strikes.
fn conclusion(before: &Position, step: &Deduction) -> Vec<(Cell, u32)> {
    let placed = step.claims.iter().filter(|claim| claim.places());
    let filled: Vec<(Cell, u32)> =
        placed.flat_map(|claim| claim.cells().iter().map(|cell| (cell, 0)).collect::<Vec<_>>()).collect();
    if filled.is_empty() {
        let strikes = before.strikes(&step.claims).into_iter();
        strikes.map(|(cell, digits): (Cell, DigitSet)| (cell, digits.bits())).collect()
    } else {
        filled
    }
}

/// Whether these patterns finish every puzzle with one solution, if their trials are carried far enough: they have these,
/// and a single that writes whatever is the only candidate left.
fn finish_all(layout: &Layout, patterns: &[Pattern]) -> bool {
    let writes = |pattern: &Pattern| match pattern {
        Pattern::NakedSingle | Pattern::LineHiddenSingle => true,
        Pattern::BoxHiddenSingle => layout.houses().iter().any(|house| house.name.is_block()),
        _ => false,
    };
    patterns.contains(&Pattern::Trial) && patterns.iter().any(writes)
}

/// The patterns that a name stands for: itself, or those of a group.
pub(super) fn members(name: &str) -> Vec<&str> {
    let is_group = NAMES.iter().any(|row| row.name == name && row.kind == NameKind::Group);
    let in_group = |row: &&str| row.ends_with(name) && *row != name;
    if is_group { NAMES.iter().map(|row| row.name).filter(in_group).collect() } else { vec![name] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Size;
    use crate::reason::while_wanted;
    use std::sync::Arc;
    use std::sync::atomic::AtomicBool;

    /// A puzzle on a board with diagonals.
    fn puzzle(side: u8, rows: &[&str]) -> (Layout, Grid) {
        let size = Size::new(side).unwrap();
        let layout = Layout::classic(size).unwrap().and_diagonals();
        (layout, Grid::from_line_of(size, &rows.concat()).unwrap())
    }

    /// What takes trial.
    fn hard() -> (Layout, Grid) {
        let rows = [
            "..163....",
            "....9.7..",
            "..5.....3",
            "1........",
            "2......6.",
            ".........",
            ".....735.",
            "..84.....",
            "...8..42.",
        ];
        puzzle(9, &rows)
    }

    /// What takes cases within cases.
    fn very_hard() -> (Layout, Grid) {
        let rows = [
            ".C....A...G.....",
            ".64398..........",
            ".8..D.3BA.E5....",
            ".2.E.......DB8.1",
            "....7..5..F.....",
            "D7.A3CE....8....",
            "........G.2....5",
            "....G...6.......",
            ".GCF.......9.3..",
            "...B....2.4C...8",
            "...96...3.D.7AB.",
            ".3.64.7.....CD..",
            "..FGAB1...7..E.4",
            "B........4......",
            "C......G9.5..B..",
            "2D...6..1...8CG.",
        ];
        puzzle(16, &rows)
    }

    /// Level 7, by trial and nothing else.
    fn is_by_trial(grader: &Grader, givens: &Grid) -> Grade {
        let grade = grader.grade(givens);
        assert_eq!((grade.level, grade.hardest, &grade.needs[..]), (Some(7), Some("trial"), &["trial"][..]));
        assert_eq!(grader.hardest(givens), Some("trial"));
        assert_eq!(grader.open_without(givens, "trial", "hidden single"), 0);
        assert!(grader.open_without(givens, "trial", "trial") > 0);
        grade
    }

    #[test]
    fn a_level_stands_where_the_walk_is_cut_short() {
        let ladder = Ladder::default();
        let (layout, givens) = hard();
        let whole = is_by_trial(&Grader::new(&layout, &ladder), &givens);
        assert!(whole.finished && whole.open == 0);
        let (layout, givens) = very_hard();
        let soon = Reasoner::new(&layout, &ladder).supposing_at_most(0);
        let cut = is_by_trial(&Grader::by(soon, &ladder), &givens);
        assert!(!cut.finished && cut.open > 0);
    }

    #[test]
    fn without_trial_there_is_no_level_where_the_ladder_gets_stuck() {
        let (layout, givens) = hard();
        let mut rungs = Ladder::default().rungs().to_vec();
        rungs.retain(|rung| rung.name.name != "trial");
        let grader = Grader::new(&layout, &Ladder::new(rungs, std::collections::BTreeMap::new()));
        let grade = grader.grade(&givens);
        assert_eq!(
            (grade.finished, grade.level, grade.hardest, grade.needs),
            (false, None, None, Vec::new())
        );
        assert_eq!(grader.hardest(&givens), None);
    }

    #[test]
    fn what_is_called_off_gives_no_level() {
        let (layout, givens) = hard();
        let grader = Grader::new(&layout, &Ladder::default());
        let called_off = Arc::new(AtomicBool::new(true));
        let both = while_wanted(&called_off, || (grader.hardest(&givens), grader.grade(&givens)));
        assert_eq!((both.0, both.1.level, both.1.hardest, both.1.steps), (None, None, None, 0));
    }

    #[test]
    fn a_full_grid_takes_nothing() {
        let size = Size::new(4).unwrap();
        let (layout, full) = (Layout::classic(size).unwrap(), Grid::from_line_of(size, "1234341221434321"));
        let (grader, full) = (Grader::new(&layout, &Ladder::default()), full.unwrap());
        let grade = grader.grade(&full);
        assert_eq!((grade.finished, grade.level, grade.hardest), (true, Some(1), grader.hardest(&full)));
        assert!(grade.needs.is_empty());
    }
}
