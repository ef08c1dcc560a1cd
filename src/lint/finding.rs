//! What a finding is.

use super::{Draft, Effort, FINDINGS};
use crate::board::{Grid, Layout};
use crate::book::{self, Puzzle, SectionId, Verdict, Walkthrough, Workspace};
use crate::ladder::Ladder;
use crate::notation::{self, Item, Section, Span, Statement};
use crate::replay::{self, Replay, State};
use crate::solve::{self, Budget, Spare};
use crate::study::{Grader, Start};
use std::cell::{Cell as Flag, OnceCell};
use std::fmt;
use std::rc::Rc;

/// A kind of finding: a row of the table.
pub struct Finding {
    /// What it is called: in output, in `allow`, in `explain`.
    pub name: &'static str,
    /// Which group of the page list it stands in.
    pub group: Group,
    /// How grave it is, where no setting says otherwise.
    pub severity: Severity,
    /// Who finds it.
    pub check: Check,
    /// The text of its own source file; [`Finding::page`] takes the page from its top.
    pub source: &'static str,
}

/// What findings are about.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Group {
    Lines,
    Items,
    Grids,
    Puzzles,
    Sheets,
    Walks,
    Books,
}

/// How grave a finding is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// True and idle, or style.
    Info,
    /// Readable and possible, but not as said, or not decided.
    Warning,
    /// Cannot be read, or is contradicted by the puzzle itself.
    Error,
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Severity::Info => "info",
            Severity::Warning => "warning",
            Severity::Error => "error",
        })
    }
}

/// Who finds a finding.
#[derive(Clone, Copy)]
pub enum Check {
    /// Reading finds it, as a fault of the notation. `None` for faults of other kinds.
    Syntax(fn(&Scene, &notation::Fault) -> Option<Draft>),
    /// Reading finds it, as a fault of meaning. `None` for faults of other kinds.
    Meaning(fn(&Scene, &book::Fault) -> Option<Draft>),
    /// It is found by looking at one section: a part, a puzzle, a lesson, an answer, or what stands before the first.
    Section(fn(&Scene) -> Vec<Draft>),
    /// It is found by looking at one puzzle.
    Puzzle(fn(&PuzzleScene) -> Vec<Draft>),
    /// It is found by taking a walkthrough step by step.
    Walk(fn(&WalkScene) -> Vec<Draft>),
    /// It is found by looking at all files together.
    Workspace(fn(&Workspace) -> Vec<(SectionId, Draft)>),
    /// It is found while the others are gathered: only `allow-unused`, which must know what they said.
    Afterwards,
    /// It is found in several of these ways.
    Each(&'static [Check]),
}

impl Check {
    /// Each of the ways, one by one.
    pub(super) fn ways(&self) -> &[Check] {
        match self {
            Check::Each(ways) => ways,
            one => std::slice::from_ref(one),
        }
    }
}

impl Finding {
    /// The finding called `name`.
    pub fn named(name: &str) -> Option<&'static Finding> {
        FINDINGS.iter().copied().find(|finding| finding.name == name)
    }

    /// The names that `name` may have been meant for, at most three, the nearest first.
    pub fn near(name: &str) -> Vec<&'static str> {
        let wanted = name.to_lowercase();
        let distance = |known: &str| {
            let distance = strsim::osa_distance(&wanted, known);
            let part = wanted.len() > 2 && (known.contains(&wanted) || wanted.contains(known));
            if part { distance.min(2) } else { distance }
        };
        let mut near: Vec<(usize, &str)> = FINDINGS
            .iter()
            .map(|finding| (distance(finding.name), finding.name))
            .filter(|(distance, known)| *distance <= (known.len() / 3).max(2))
            .collect();
        near.sort_unstable();
        near.into_iter().take(3).map(|(_, known)| known).collect()
    }

    /// Whether it is said once a file, where it says the same again: one line at its top mends all.
    pub fn once_a_file(&self) -> bool {
        matches!(self.name, "encoding" | "boxes-unsaid")
    }

    /// Whether it says that something could not be read: nothing that leans on that is judged.
    pub fn is_unread(&self) -> bool {
        let by_reading = |way: &Check| matches!(way, Check::Syntax(_) | Check::Meaning(_));
        self.severity == Severity::Error && self.check.ways().iter().any(by_reading)
    }

    /// Its page, in Markdown: what it is, why it matters, an example, and the same text mended.
    pub fn page(&self) -> String {
        let comment = self.source.lines().map_while(|line| line.strip_prefix("//!"));
        comment.fold(String::new(), |page, line| page + line.strip_prefix(' ').unwrap_or(line) + "\n")
    }

    /// What it is, in one sentence: the first line of its page.
    pub fn summary(&self) -> &'static str {
        let first = self.source.lines().next().unwrap_or_default();
        first.trim_start_matches("//!").trim()
    }
}

impl fmt::Debug for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

/// What a check of a fault or of a section may look at.
pub struct Scene<'a> {
    /// The section, for its text and statements.
    pub section: &'a Section,
    /// What it means.
    pub meaning: &'a book::Meaning,
}

impl<'a> Scene<'a> {
    /// The text at `span`.
    pub fn at(&self, span: Span) -> &'a str {
        span.of(&self.section.text)
    }

    /// The statement on whose line, or in whose block, `at` stands.
    pub fn statement_at(&self, at: Span) -> Option<&'a Statement> {
        let line = self.line_at(at);
        let begun = self.section.statements.partition_point(|statement| statement.line <= line);
        let statement = &self.section.statements[begun.checked_sub(1)?];
        (line < statement.block.end.max(statement.line + 1)).then_some(statement)
    }

    /// The item that `at` stands in, as an index.
    pub fn item_at(&self, at: Span) -> usize {
        item_at(self.section, at.start)
    }

    /// The line that `at` begins in, as an index.
    pub fn line_at(&self, at: Span) -> u32 {
        line_at(self.section, at.start)
    }
}

/// What a check of a puzzle may look at.
pub struct PuzzleScene<'a> {
    /// The section that the puzzle stands in.
    pub section: &'a Section,
    /// The puzzle.
    pub puzzle: &'a Puzzle,
    /// The ladder by which levels and patterns are meant.
    pub ladder: &'a Ladder,
    effort: Effort,
    /// Something was asked for that takes more than this effort.
    left_out: Flag<bool>,
    /// Which givens are not needed, found when first asked for.
    spare: OnceCell<Spare>,
    /// The hardest pattern, found when first asked for.
    hardest: OnceCell<Option<&'static str>>,
}

impl<'a> PuzzleScene<'a> {
    /// The puzzle as it is looked at, with nothing searched yet.
    pub(super) fn new(
        section: &'a Section,
        puzzle: &'a Puzzle,
        ladder: &'a Ladder,
        effort: Effort,
    ) -> PuzzleScene<'a> {
        PuzzleScene {
            section,
            puzzle,
            ladder,
            effort,
            left_out: Flag::new(false),
            spare: OnceCell::new(),
            hardest: OnceCell::new(),
        }
    }

    /// Whether there is effort enough for what takes longer than a keystroke. If not, that is left out here, and noted.
    pub fn takes_its_time(&self) -> bool {
        let full = self.effort == Effort::Full;
        if !full {
            self.left_out.set(true);
        }
        full
    }

    /// Whether something was left out that takes more effort.
    pub fn is_unfinished(&self) -> bool {
        self.left_out.get()
    }

    /// How many solutions the puzzle has; as if it could not be judged where it takes more effort to tell.
    pub fn verdict(&self) -> &'a Verdict {
        if self.may_be_judged() { self.puzzle.verdict() } else { &Verdict::NotJudged }
    }

    /// Whether there is effort enough to tell how many solutions the puzzle has.
    pub fn may_be_judged(&self) -> bool {
        let at_once = || self.puzzle.verdict_at_once().is_some();
        self.effort == Effort::Full || at_once() || self.takes_its_time()
    }

    /// The one solution, if there is exactly one.
    pub fn solution(&self) -> Option<&'a Grid> {
        match self.verdict() {
            Verdict::One(grid) => Some(grid),
            _ => None,
        }
    }

    /// Which givens are not needed, if there is exactly one solution, and effort enough: each of them is searched for.
    pub fn spare(&self) -> Option<&Spare> {
        self.solution().filter(|_| self.takes_its_time())?;
        let (layout, givens) = (self.puzzle.layout.as_ref()?, self.puzzle.givens.as_ref()?);
        Some(self.spare.get_or_init(|| solve::spare_givens(layout, &givens.grid, Budget::default())))
    }

    /// What grades the puzzle, and its givens, if there is exactly one solution, and effort enough for a walk.
    pub fn grader(&self) -> Option<(Rc<Grader>, &'a Grid)> {
        self.solution().filter(|_| self.takes_its_time())?;
        let (layout, givens) = (self.puzzle.layout.as_ref()?, self.puzzle.givens.as_ref()?);
        Some((Grader::of(layout, self.ladder), &givens.grid))
    }

    /// Looks at each of its walkthroughs from its own grid; at none where it cannot be reasoned about, or that takes more
    /// effort. What comes of a walk takes much room, and is not kept.
    pub fn each_walk(&self, look: &mut dyn FnMut(&WalkScene)) {
        let told = self.puzzle.telling && !self.puzzle.unsure && self.takes_its_time();
        let start = if told { Start::of(self.puzzle).ok() } else { None };
        let (Some(start), Some(layout)) = (start, self.puzzle.layout.as_deref()) else { return };
        let (section, puzzle) = (self.section, self.puzzle);
        let state = State::new(start.position());
        for (walk, replay) in replay::walks(section, puzzle, self.ladder, &start, &state) {
            look(&WalkScene { section, puzzle, layout, walk: &walk, replay: &replay });
        }
    }

    /// The hardest pattern that it takes, if there is exactly one solution; the inner `None` if the ladder does not finish
    /// it.
    pub fn hardest(&self) -> Option<Option<&'static str>> {
        let (grader, givens) = self.grader()?;
        Some(*self.hardest.get_or_init(|| grader.hardest(givens)))
    }
}

/// What a check of a walkthrough may look at.
pub struct WalkScene<'a> {
    /// The section that it stands in.
    pub section: &'a Section,
    /// The puzzle or lesson that it belongs to.
    pub puzzle: &'a Puzzle,
    /// The layout, which a lesson may have from another puzzle.
    pub layout: &'a Layout,
    /// The walkthrough.
    pub walk: &'a Walkthrough,
    /// What comes of it.
    pub replay: &'a Replay,
}

/// The item of `section` that the byte `at` belongs to, as an index: the last that begins at it or before.
pub(super) fn item_at(section: &Section, at: u32) -> usize {
    let start = |statement: &Statement| section.lines[statement.line as usize].span.start;
    let first = |item: &Item| section.statements.get(item.statements.start as usize);
    let begun =
        section.items.partition_point(|item| first(item).is_some_and(|statement| start(statement) <= at));
    begun.saturating_sub(1)
}

/// The line of `section` that the byte `at` stands in, as an index.
pub(super) fn line_at(section: &Section, at: u32) -> u32 {
    let begun = section.lines.partition_point(|line| line.span.start <= at);
    u32::try_from(begun.saturating_sub(1)).unwrap_or(u32::MAX)
}

/// Whether two places have a byte in common.
pub(super) fn touch(a: Span, b: Span) -> bool {
    a.start < b.end && b.start < a.end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_offered() {
        assert_eq!(Finding::near("rowlength"), ["row-length"]);
        assert_eq!(Finding::near("rows"), ["rows-extra", "rows-missing"]);
        assert_eq!(Finding::near("Undecidde"), ["undecided"]);
        assert!(Finding::near("zebra").is_empty());
    }
}
