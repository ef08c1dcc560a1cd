//! A walkthrough as its author wrote it, with its diagrams.

use super::{Block, Moment, Page, Subject};
use crate::board::Grid;
use crate::book::{WalkSays, Walkthrough};
use crate::draw::Picture;
use crate::ladder::{Ladder, PatternName};
use crate::notation::{Keyword, Line, LineKind, Show, StepLine};
use crate::replay::{self, Replay};
use crate::step::{Claim, Deduction, Position};
use crate::study::Unready;
use crate::words::{Depth, tell};

/// A walkthrough that is written, with what comes of it.
pub struct Written {
    /// The walkthrough.
    pub walk: Walkthrough,
    /// What comes of it.
    pub replay: Replay,
    givens: Grid,
}

impl Subject<'_> {
    /// Whether it is a lesson that teaches by a walkthrough: this is printed with it.
    pub fn teaches(&self) -> bool {
        let mut walks = self.puzzle.blocks(self.section, Keyword::Steps);
        self.puzzle.lesson && walks.any(|(_, block)| !block.block.is_empty())
    }

    /// The walkthroughs that are written, by a ladder.
    ///
    /// # Errors
    /// Why they have no start.
    pub fn written(&self, ladder: &Ladder) -> Result<Vec<Written>, Unready> {
        let (start, state) = replay::begin(self.workspace, self.section, self.puzzle)?;
        let walks = replay::walks(self.section, self.puzzle, ladder, &start, &state);
        let keyword = |walk: &Walkthrough| self.section.statements[walk.statement].keyword;
        let written = walks.filter(|(walk, _)| keyword(walk) == Some(Keyword::Steps));
        Ok(written.map(|(walk, replay)| Written { walk, replay, givens: start.givens.clone() }).collect())
    }

    /// The page with a walkthrough: its prose, its diagrams, and each step in words, with a picture of each if that is asked
    /// for.
    pub fn walkthrough(&self, written: &Written, each_step: bool) -> Option<Page> {
        let Written { walk, replay, givens } = written;
        let statement = self.section.statements.get(walk.statement)?;
        let title = self.running().titles(statement);
        let labels = self.voice.labels();
        let heading = if title.is_empty() { labels.walk().to_owned() } else { title.join(" ") };
        let kind = walk.name.as_ref().map_or_else(|| "steps".to_owned(), |name| format!("steps-{name}"));
        let mut page = self.empty(&kind, Some(&heading));
        let borrows = self.puzzle.borrows(self.section).is_some();
        if let Some(first) = replay.lines.first().filter(|_| borrows) {
            let start = Picture::new(first.before.layout(), givens, first.before.grid());
            let start = start.with_edges(self.voice.naming);
            page.body.push(Block::Picture(Box::new(self.picture(start, Some(&heading)))));
        }
        let steps: Vec<Deduction> = replay.end.deductions();
        let mut prose: Vec<Line> = Vec::new();
        let mut n = 0;
        for (at, line) in walk.lines.iter().enumerate() {
            let there = &self.section.lines[line.number];
            if let Some(said) = self.said(there) {
                prose.push(said);
                continue;
            }
            self.put_prose(&mut prose, &mut page);
            let replayed = &replay.lines[at];
            match &line.says {
                WalkSays::Step(..) if !replayed.steps.is_empty() => {
                    n += 1;
                    let own = &steps[replayed.steps.clone()];
                    let picture = each_step.then(|| {
                        let step = together(own);
                        Box::new(self.step(
                            givens,
                            &replayed.before,
                            &step,
                            &steps[..replayed.steps.start],
                            n,
                        ))
                    });
                    let words = self.steps_in_words(&replayed.before, own, &steps[..replayed.steps.start]);
                    page.body.push(Block::Step { n, picture, words });
                }
                WalkSays::Show(..) => {
                    let next = replay.lines[at..].iter().find(|line| !line.steps.is_empty());
                    let facts = remembered(&replayed.before, &steps[..replayed.steps.start]);
                    let moment = Moment {
                        givens,
                        before: &replayed.before,
                        next: next.map_or(&[], |line| &steps[line.steps.clone()]),
                        earlier: &steps[..replayed.steps.start],
                        facts: &facts,
                    };
                    if let Some(show) = self.shown(there) {
                        page.body.push(Block::Picture(Box::new(self.diagram(show, &moment))));
                    }
                }
                WalkSays::Ask(..) => page.body.extend(self.question(there).map(Block::Prose)),
                WalkSays::Finish(names) => page.body.push(Block::Prose(self.finish(names))),
                _ => {}
            }
        }
        self.put_prose(&mut prose, &mut page);
        if borrows {
            let is_prose = |keyword| matches!(keyword, Some(Keyword::Note | Keyword::Text));
            page.body.extend(self.prose_blocks(|it| is_prose(it.keyword)));
        }
        Some(page)
    }

    fn put_prose(&self, prose: &mut Vec<Line>, page: &mut Page) {
        page.body.extend(self.running().paragraphs(prose).into_iter().map(Block::Prose));
        prose.clear();
    }

    /// What the steps of a line come to, one after the other.
    fn steps_in_words(&self, before: &Position, own: &[Deduction], earlier: &[Deduction]) -> String {
        let mut known = before.clone();
        let mut told = earlier.to_vec();
        let mut words = Vec::new();
        for step in own {
            words.push(tell(&self.telling(), Depth::What, &known, step, &told));
            known.apply(&step.claims);
            told.push(step.clone());
        }
        words.join(" ")
    }

    /// A line of prose of a walk, as a line of prose elsewhere.
    fn said(&self, line: &Line) -> Option<Line> {
        let StepLine::Say(prose) = *self.section.step(line)? else { return None };
        let kind = if prose.is_empty() { LineKind::Blank } else { LineKind::Prose };
        Some(Line { span: prose, ending: line.ending, kind })
    }

    fn shown(&self, line: &Line) -> Option<&Show> {
        match self.section.step(line)? {
            StepLine::Show(show) => Some(show),
            _ => None,
        }
    }

    fn question(&self, line: &Line) -> Option<String> {
        let StepLine::Ask(question, _) = self.section.step(line)? else { return None };
        Some(super::diagram::unquoted(&self.running().prose(*question)))
    }

    /// That the rest comes by these patterns.
    fn finish(&self, names: &[&'static PatternName]) -> String {
        let names: Vec<String> = names.iter().map(|name| name.name.to_owned()).collect();
        self.voice.labels().finish(&names)
    }
}

/// The steps of a line as one, for its picture.
fn together(steps: &[Deduction]) -> Deduction {
    let mut all = steps[0].clone();
    for step in &steps[1..] {
        all.claims.extend(step.claims.iter().cloned());
        all.houses.extend(step.houses.iter().copied());
        all.bases.extend(step.bases.iter().cloned());
        all.witnesses.extend(step.witnesses.iter().cloned());
    }
    all
}

/// The facts that a reader still remembers.
fn remembered(known: &Position, steps: &[Deduction]) -> Vec<Claim> {
    let facts = steps.iter().filter(|step| !step.places()).flat_map(|step| &step.claims);
    facts.filter(|claim| !claim.is_spent(known)).cloned().collect()
}
