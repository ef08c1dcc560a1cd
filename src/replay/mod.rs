//! A walkthrough as somebody wrote it, taken step by step: does each claim follow, is it by the reason that is given, and
//! does the walk finish?
//!
//! A reader starts from the givens. Of each line the claims are taken from left to right. What is false is left out; what
//! is true and too early is bridged, so that one gap is one trouble; everything else is taken, with the step that
//! gives it.
//!
//! Which reading a walk has is told by its reasons. Where one names an earlier fact, or at least half of them a way of
//! seeing, the reader has nothing but digits and what was stated: a reason may then lean on digits and on the facts that it
//! names. Elsewhere all candidates are on the table.

mod because;
mod bridge;
mod follow;
mod ground;
mod line;
mod onward;
mod remembered;
mod stale;
mod state;
mod toward;
mod trouble;
mod truth;

pub use ground::Ground;
pub use remembered::{Recollection, recollect};
pub use state::{State, Step};
pub use toward::{Wanted, Way};
pub use trouble::{Bridge, Counter, Misfit, Right, Trouble, TroubleKind};

use crate::book::{Puzzle, WalkSays, Walkthrough, Workspace};
use crate::ladder::{Ladder, NameKind};
use crate::notation::Section;
use crate::step::Position;
use crate::study::{Start, Unready};
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// A walkthrough, replayed.
#[derive(Clone, Debug)]
pub struct Replay {
    /// For each of its lines, what a reader has before it, and the steps that it gave.
    pub lines: Vec<Replayed>,
    /// What is wrong with it, in order of place; at most one trouble of a kind for a claim.
    pub troubles: Vec<Trouble>,
    /// The positions that it names.
    pub points: Vec<(String, Arc<State>)>,
    /// What a reader has after its last line.
    pub end: State,
    /// Whether its last step fills the grid, or its `finish` does.
    pub finished: bool,
    /// The level of the dearest pattern that gives one of its steps; 0 where it has none.
    pub dearest: u8,
}

/// A line of a walkthrough, replayed.
#[derive(Clone, Debug)]
pub struct Replayed {
    /// Which of the section's lines it is.
    pub number: usize,
    /// What a reader knows before it. Shared by the lines that change nothing of it.
    pub before: Arc<Position>,
    /// The steps that it gave, with those that had to be supposed before them: places in [`State::steps`] of the end.
    pub steps: Range<usize>,
}

impl Replay {
    /// Replays a walkthrough from a state, which is the start of its puzzle, or a point of another walk.
    pub fn of(ground: &Ground, walk: &Walkthrough, start: State) -> Replay {
        let begun = start.steps.len();
        let mut reader = line::Reader::new(ground, start);
        let mut lines = Vec::new();
        let mut known = Arc::new(reader.state.known.clone());
        for line in &walk.lines {
            if *known != reader.state.known {
                known = Arc::new(reader.state.known.clone());
            }
            let (before, first) = (Arc::clone(&known), reader.state.steps.len());
            reader.take(line);
            lines.push(Replayed { number: line.number, before, steps: first..reader.state.steps.len() });
        }
        reader.close(walk);
        let line::Reader { state, mut troubles, points, finished, .. } = reader;
        troubles.sort_by_key(|trouble| trouble.span);
        let levels = state.steps[begun..].iter().map(|step| ground.level_of(step.deduction.pattern));
        let dearest = levels.max().unwrap_or(0);
        Replay { lines, troubles, points, end: state, finished, dearest }
    }

    /// The facts that a reader still has in mind before a line: those that were stated and are not spent, as places in
    /// [`State::steps`] of the end.
    pub fn remembered(&self, line: &Replayed) -> impl Iterator<Item = usize> {
        let steps = self.end.steps[..line.steps.start].iter().enumerate();
        let is_held = |step: &Step| {
            let step_claims = &step.deduction.claims;
            let spent = || step_claims.iter().all(|claim| claim.is_spent(&line.before));
            !step.supposed && !step.deduction.places() && !spent()
        };
        steps.filter(move |(_, step)| is_held(step)).map(|(at, _)| at)
    }

    /// The reason of the first step that a line gave, as it would be written after `by`; `None` where the line does not
    /// follow from what was written before it.
    pub fn reason(&self, ground: &Ground, number: usize) -> Option<String> {
        let line = self.lines.iter().find(|line| line.number == number)?;
        let first = line.steps.start;
        let step = self.end.steps.get(line.steps.clone())?.first().filter(|step| !step.supposed)?;
        let told = |number: usize| match number {
            number if number <= first => self.end.claims(number),
            _ => &[],
        };
        Some(step.deduction.reason(ground.layout(), told))
    }
}

/// The walkthroughs of a puzzle, each with what comes of it, from a state of its own or of the puzzle that it borrows.
pub fn walks<'a>(
    section: &'a Section,
    puzzle: &'a Puzzle,
    ladder: &'a Ladder,
    start: &'a Start,
    state: &'a State,
) -> impl Iterator<Item = (Walkthrough, Replay)> + use<'a> {
    let walks = Walkthrough::all(section, puzzle, &start.layout);
    let beside = Walkthrough::beside(section, puzzle, &start.layout);
    let replayed = move |walk: Walkthrough| {
        let ground = Ground::new(start, ladder, puzzle, &walk);
        let replay = Replay::of(&ground, &walk, state.clone());
        (walk, replay)
    };
    walks.chain(Some(beside).filter(|prose| !prose.lines.is_empty())).map(replayed)
}

/// Where the walkthroughs of a puzzle or a lesson start: at a grid of its own, or at what it borrows.
///
/// # Errors
/// Why there is no such start.
pub fn begin(workspace: &Workspace, section: &Section, puzzle: &Puzzle) -> Result<(Start, State), Unready> {
    if puzzle.borrows(section).is_some() {
        return borrowed(workspace, section, puzzle).ok_or(Unready::Unborrowed);
    }
    let start = Start::of(puzzle)?;
    let state = State::new(start.position());
    Ok((start, state))
}

/// A puzzle from which lessons start, and the points of its walks, taken when first asked for.
pub struct Lender<'a> {
    section: &'a Section,
    puzzle: &'a Puzzle,
    ladder: &'a Ladder,
    start: Start,
    points: OnceCell<BTreeMap<String, Arc<State>>>,
}

impl<'a> Lender<'a> {
    /// The puzzle with this id; `None` if there is none, or it cannot be reasoned about.
    pub fn find(workspace: &'a Workspace, id: &str) -> Option<Lender<'a>> {
        let (place, puzzle) = workspace.find(id)?;
        Some(Lender {
            section: workspace.section(place),
            puzzle,
            ladder: &workspace.books[place.book].ladder,
            start: Start::of(puzzle).ok()?,
            points: OnceCell::new(),
        })
    }

    /// What a lesson starts with: at a point of the walks, or at the givens. `None` if there is no such point.
    pub fn lend(&self, point: Option<&str>) -> Option<(Start, State)> {
        let given = || State::new(self.start.position());
        let points = || {
            let given = given();
            let walks = walks(self.section, self.puzzle, self.ladder, &self.start, &given);
            let mut points = BTreeMap::new();
            for (name, state) in walks.flat_map(|(_, replay)| replay.points) {
                points.entry(name).or_insert(state);
            }
            points
        };
        let state = match point {
            None => given(),
            Some(point) => State::clone(self.points.get_or_init(points).get(point)?),
        };
        Some((self.start.clone(), state))
    }
}

/// Where a lesson starts that has no grid of its own: at the givens of another puzzle, or at a point of its walks. `None`
/// where it borrows nothing, or that cannot be found or reasoned about.
pub fn borrowed(workspace: &Workspace, section: &Section, puzzle: &Puzzle) -> Option<(Start, State)> {
    let (id, point) = puzzle.borrows(section)?;
    Lender::find(workspace, id)?.lend(point)
}

/// Whether any step of a walk gives a reason.
pub fn gives_reasons(walk: &Walkthrough) -> bool {
    walk.lines.iter().any(|line| matches!(line.says, WalkSays::Step(_, Some(_))))
}

/// Whether a walk reads with nothing but digits and stated facts: a reason leans on an earlier fact, or at least half of
/// them name a way of seeing. One that is named among patterns makes no other reading.
pub fn is_by_scanning(walk: &Walkthrough) -> bool {
    let reasons = walk.lines.iter().filter_map(|line| match &line.says {
        WalkSays::Step(_, Some(because)) => Some(because),
        _ => None,
    });
    let (mut all, mut seeing, mut leaning) = (0, 0, false);
    for because in reasons {
        all += 1;
        seeing += usize::from(because.name.kind == NameKind::Seeing);
        leaning |= !because.with.is_empty();
    }
    leaning || (seeing > 0 && 2 * seeing >= all)
}
