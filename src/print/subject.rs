//! A puzzle or a lesson, and the pages that can be made of it.

use super::prose::paragraphs;
use super::{Block, Page};
use crate::board::{CellSet, Grid, Layout};
use crate::book::{Puzzle, Sheet, Token, Workspace};
use crate::draw::{Content, Picture, Stands};
use crate::notation::{Item, Keyword, Section};
use crate::reason::Walk;
use crate::step::{Claim, Deduction, Method, Position};
use crate::words::{Depth, Voice, tell};

/// A puzzle or a lesson where it stands, and the voice that prints it.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    /// The files in which references are looked up.
    pub workspace: &'a Workspace,
    /// The section that it stands in.
    pub section: &'a Section,
    /// Its statements.
    pub item: &'a Item,
    /// What it means.
    pub puzzle: &'a Puzzle,
    /// In which words.
    pub voice: Voice,
}

impl<'a> Subject<'a> {
    /// The page to be solved: its grid and its notes. Of a lesson, its position. `None` if there is no grid to draw.
    pub fn page(&self) -> Option<Page> {
        let (layout, givens, grid) = self.grids()?;
        let picture = self.picture(Picture::new(layout, &givens, &grid), None);
        let mut page = self.empty("", None);
        page.body.push(Block::Picture(Box::new(picture)));
        page.body.extend(self.notes().into_iter().map(Block::Prose));
        Some(page)
    }

    /// A page for each solver's sheet.
    pub fn sheets(&self) -> Vec<Page> {
        let Some((layout, givens, _)) = self.grids() else { return Vec::new() };
        let page = |sheet: &Sheet| {
            let kind = sheet.name.as_ref().map_or_else(|| "work".to_owned(), |name| format!("work-{name}"));
            let statement = &self.section.statements[sheet.statement];
            let titled = statement.values.iter().filter(|value| value.quoted);
            let title: Vec<String> = titled.map(|value| self.section.value(*value)).collect();
            let labels = self.voice.labels();
            let heading = if title.is_empty() { labels.sheet().to_owned() } else { title.join(" ") };
            let mut page = self.empty(&kind, Some(&heading));
            let picture = of_sheet(layout, &givens, sheet);
            page.body.push(Block::Picture(Box::new(self.picture(picture, Some(&heading)))));
            page
        };
        self.puzzle.sheets.iter().map(page).collect()
    }

    /// The page with the answer, which is this grid.
    pub fn answer(&self, solution: &Grid) -> Option<Page> {
        let (layout, givens, _) = self.grids()?;
        let heading = self.voice.labels().answer();
        let mut page = self.empty("answer", Some(heading));
        let picture = self.picture(Picture::new(layout, &givens, solution), Some(heading));
        page.body.push(Block::Picture(Box::new(picture)));
        Some(page)
    }

    /// The page with a walk that was found: where it begins, and its steps in words, with a picture of each if that is
    /// asked for. `stuck` says why it does not go on, where it does not.
    pub fn walk(&self, walk: &Walk, each_step: bool, stuck: Option<String>) -> Option<Page> {
        let (layout, givens, _) = self.grids()?;
        let labels = self.voice.labels();
        let mut page = self.empty("walk", Some(labels.walk()));
        if !each_step || walk.steps.is_empty() {
            let start = Picture::new(layout, &givens, walk.start.grid()).with_edges(self.voice.naming);
            page.body.push(Block::Picture(Box::new(self.picture(start, Some(labels.walk())))));
        }
        let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
        for ((before, step), n) in walk.positions().zip(1..) {
            let earlier = &steps[..n - 1];
            let draw = || self.step(&givens, &before, &step.deduction, earlier, n);
            page.body.push(Block::Step {
                n,
                picture: each_step.then(draw).map(Box::new),
                words: tell(&self.voice, Depth::Why, &before, &step.deduction, earlier),
            });
        }
        page.body.extend(stuck.map(Block::Prose));
        Some(page)
    }

    /// The picture of a step: what it rests on, a ring around the cells that it speaks of, and with marks what it
    /// strikes. `earlier[n - 1]` is step `n`.
    pub fn step(
        &self,
        givens: &Grid,
        before: &Position,
        step: &Deduction,
        earlier: &[Deduction],
        n: usize,
    ) -> Picture {
        let mut picture = Picture::new(before.layout(), givens, before.grid()).with_edges(self.voice.naming);
        picture.why(before, step, earlier);
        let rung = step.claims.iter().filter(|claim| !matches!(claim, Claim::IsNot { .. }));
        picture.ring(rung.fold(CellSet::EMPTY, |all, claim| all | claim.cells()));
        if step.method == Method::Marks && !step.places() {
            picture.strike(&before.strikes(&step.claims));
        }
        self.picture(picture, Some(&self.voice.labels().step(n)))
    }

    /// The layout, what is printed as given, and what stands.
    pub(super) fn grids(&self) -> Option<(&'a Layout, Grid, Grid)> {
        let layout = self.puzzle.layout.as_deref()?;
        let givens = self.puzzle.givens.as_ref().map(|board| board.grid.clone());
        let position = self.puzzle.position.as_ref().filter(|_| self.puzzle.lesson);
        match (givens, position.map(|board| board.grid.clone())) {
            (Some(givens), Some(grid)) => {
                // What also stands in the givens is printed as given.
                let mut both = givens;
                for cell in layout
                    .size()
                    .all_cells()
                    .filter(|&cell| both.get(cell) != grid.get(cell))
                    .collect::<Vec<_>>()
                {
                    both.set(cell, None);
                }
                Some((layout, both, grid))
            }
            (Some(grid), None) | (None, Some(grid)) => Some((layout, grid.clone(), grid)),
            (None, None) => None,
        }
    }

    /// A picture with the puzzle's signs, and a title that says which puzzle it is of, and what of it.
    pub(super) fn picture(&self, picture: Picture, what: Option<&str>) -> Picture {
        let mut title = self.heading();
        title.extend(what.map(str::to_owned));
        let signs = self.puzzle.facts.symbols.as_ref().map_or_else(Vec::new, |signs| signs.value.to_vec());
        let picture = picture.with_signs(signs);
        if title.is_empty() { picture } else { picture.titled(&title.join(" \u{b7} ")) }
    }

    /// Its number, and its title or else its id.
    fn heading(&self) -> Vec<String> {
        let number = self.puzzle.facts.number.as_ref().filter(|number| number.own);
        let mut heading: Vec<String> =
            number.map(|number| self.voice.labels().number(number.value)).into_iter().collect();
        heading.extend(self.puzzle.title.iter().cloned());
        if heading.is_empty() {
            heading.extend(self.puzzle.id.as_ref().map(|id| id.text.clone()));
        }
        heading
    }

    /// A page without a body.
    pub(super) fn empty(&self, kind: &str, what: Option<&str>) -> Page {
        let id = self.puzzle.id.as_ref().map_or("puzzle", |id| id.text.as_str());
        let mut heading = self.heading();
        heading.extend(what.map(str::to_owned));
        let part = if kind.is_empty() { "" } else { "-" };
        Page { name: format!("{id}{part}{kind}"), heading, body: Vec::new() }
    }

    /// The paragraphs of its notes.
    pub(super) fn notes(&self) -> Vec<String> {
        let notes = self.section.statements_of(self.item).iter();
        let notes = notes.filter(|it| it.keyword == Some(Keyword::Note) && !it.broken);
        notes.flat_map(|note| paragraphs(self, self.section.block(note))).collect()
    }
}

/// A solver's sheet: its digits as written in, its marks small.
fn of_sheet(layout: &Layout, givens: &Grid, sheet: &Sheet) -> Picture {
    let mut picture = Picture::new(layout, givens, &sheet.grid(givens));
    for cell in layout.size().all_cells().filter(|&cell| givens.get(cell).is_none()) {
        let content = picture.content_mut(cell);
        match sheet.token(cell) {
            Token::Known(digit) => *content = Content { stands: Stands::Known(digit), ..*content },
            Token::Closed(digits) => content.closed = digits,
            Token::Open(digits) => content.open = digits,
            Token::Empty | Token::Digit(_) => {}
        }
    }
    picture
}
