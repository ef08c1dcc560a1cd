//! A puzzle or a lesson, and the pages that can be made of it.

use super::{Block, Page, Running};
use crate::board::{CellSet, Grid, Layout};
use crate::book::{Book, Puzzle, SectionId, Sheet, Token, Workspace, known};
use crate::draw::{Content, Picture, Stands};
use crate::notation::{Item, Keyword, Section, Statement};
use crate::reason::Walk;
use crate::step::{Claim, Deduction, Method, Position};
use crate::study::claims;
use crate::words::{Depth, Signs, Voice, outline};

/// A puzzle or a lesson where it stands, and the voice that prints it.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    /// The files in which references are looked up.
    pub workspace: &'a Workspace,
    /// The file that it stands in.
    pub book: &'a Book,
    /// The section that it stands in.
    pub section: &'a Section,
    /// Its statements.
    pub item: &'a Item,
    /// What it means.
    pub puzzle: &'a Puzzle,
    /// In which words.
    pub voice: Voice<'a>,
    /// Its printed number, see [`Workspace::number`].
    pub number: Option<u32>,
}

impl<'a> Subject<'a> {
    /// A puzzle or a lesson in this section.
    pub fn of(
        workspace: &'a Workspace,
        at: SectionId,
        item: &'a Item,
        puzzle: &'a Puzzle,
        voice: Voice<'a>,
    ) -> Subject<'a> {
        let (book, section) = (&workspace.books[at.book], workspace.section(at));
        Subject { workspace, book, section, item, puzzle, voice, number: workspace.number(at) }
    }

    /// Its running text.
    pub(super) fn running(&self) -> Running<'a> {
        let Subject { workspace, book, section, puzzle, voice, .. } = *self;
        Running { workspace, book, section, puzzle: Some(puzzle), voice }
    }

    /// Whether there is a grid to draw.
    pub fn has_grid(&self) -> bool {
        self.grids().is_some()
    }

    /// The page to be solved: its grid, its notes, and its text where that stands. Of a lesson, its position. `None` if
    /// there is no grid to draw.
    pub fn page(&self) -> Option<Page> {
        let (layout, givens, grid) = self.grids()?;
        let picture = self.picture(Picture::new(layout, &givens, &grid), None);
        let board = self.puzzle.position.as_ref().filter(|_| self.puzzle.lesson);
        let board = board.or(self.puzzle.givens.as_ref()).or(self.puzzle.position.as_ref())?;
        let grid = self.section.statements[board.statement].line;
        let mut page = self.empty("", None);
        page.body = self.prose_blocks(|it| it.keyword == Some(Keyword::Text) && it.line < grid);
        page.body.push(Block::Picture(Box::new(picture)));
        page.body.extend(self.prose_blocks(|it| match it.keyword {
            Some(Keyword::Note) => true,
            Some(Keyword::Text) => it.line > grid,
            _ => false,
        }));
        Some(page)
    }

    /// The page with its hints, each further than the one before; `None` if it has none.
    pub fn hints(&self) -> Option<Page> {
        let hints = self.section.statements_of(self.item).iter();
        let hints = hints.filter(|it| it.keyword == Some(Keyword::Hint) && !it.broken);
        let running = self.running();
        let told = hints.map(|hint| running.paragraphs(self.section.block(hint)).join(" "));
        let steps = told.filter(|words| !words.is_empty()).zip(1..);
        let mut page = self.empty("hints", Some(self.voice.labels().hints()));
        page.body = steps.map(|(words, n)| Block::Step { n, picture: None, words }).collect();
        (!page.body.is_empty()).then_some(page)
    }

    /// A page for each solver's sheet with what is remembered beside it; before them one for what is remembered with the
    /// givens alone, if anything is.
    pub fn sheets(&self) -> Vec<Page> {
        let Some((layout, givens, grid)) = self.grids() else { return Vec::new() };
        let labels = self.voice.labels();
        let page = |sheet: &Sheet| {
            let kind = sheet.name.as_ref().map_or_else(|| "work".to_owned(), |name| format!("work-{name}"));
            let title = self.running().titles(&self.section.statements[sheet.statement]);
            let heading = if title.is_empty() { labels.sheet().to_owned() } else { title.join(" ") };
            let mut picture = of_sheet(layout, &givens, sheet);
            self.remember(&mut picture, Some(sheet), &sheet.grid(&givens));
            self.sheet(&kind, &heading, picture)
        };
        let mut bare = Picture::new(layout, &givens, &grid);
        let bare = self.remember(&mut bare, None, &grid).then(|| self.sheet("known", labels.sheet(), bare));
        bare.into_iter().chain(self.puzzle.sheets.iter().map(page)).collect()
    }

    fn sheet(&self, kind: &str, heading: &str, picture: Picture) -> Page {
        let mut page = self.empty(kind, Some(heading));
        page.body.push(Block::Picture(Box::new(self.picture(picture, Some(heading)))));
        page
    }

    /// Draws what is remembered with a sheet, or with the givens, where this stands; whether there is anything.
    fn remember(&self, picture: &mut Picture, sheet: Option<&Sheet>, stands: &Grid) -> bool {
        let position = Position::new(picture.layout(), stands);
        let facts = known(self.section, self.puzzle, sheet, position.layout());
        let told = facts.iter().filter_map(|fact| fact.says.as_ref());
        let told: Vec<Claim> = told.flat_map(|told| claims(&told.says, &position)).collect();
        for claim in &told {
            picture.remember(claim);
        }
        !told.is_empty()
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
                words: outline(&self.telling(), Depth::Why, &before, &step.deduction, earlier),
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

    /// The voice that tells its steps, with its own signs for digits.
    pub(super) fn telling(&self) -> Voice<'a> {
        self.voice.with_signs(Signs(self.puzzle.facts.signs()))
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
        let picture = picture.with_signs(self.puzzle.facts.signs().to_vec());
        if title.is_empty() { picture } else { picture.titled(&title.join(" \u{b7} ")) }
    }

    /// Its number, and its title or else its id.
    pub fn heading(&self) -> Vec<String> {
        let number = self.number.map(|number| self.voice.labels().number(number));
        let mut heading: Vec<String> = number.into_iter().collect();
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

    /// The paragraphs of its blocks of prose that are wanted, each block below its title.
    pub(super) fn prose_blocks(&self, wanted: impl Fn(&Statement) -> bool) -> Vec<Block> {
        let blocks = self.section.statements_of(self.item).iter().filter(|it| wanted(it) && !it.broken);
        let running = self.running();
        let printed = |block| [running.titles(block), running.paragraphs(self.section.block(block))].concat();
        blocks.flat_map(printed).map(Block::Prose).collect()
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
