//! Which pages are printed of what is read, and what of them is not there.

use super::{Arguments, Printed, Show};
use crate::book::{Entry, SectionId};
use crate::cli::ids::Ids;
use crate::cli::puzzles::{Met, Together};
use crate::cli::telling::Telling;
use crate::cli::terminal::{Closed, Terminal};
use crate::cli::unread;
use crate::cli::walk::walked;
use crate::notation::Keyword;
use crate::print::{Page, Press, Running, Subject, errata};
use crate::study::{Start, Unready};
use crate::words::{Voice, stuck};
use clap::ValueEnum;
use rayon::prelude::*;

/// What the pages of a file lean on beside its puzzles, and those that refer to it: the text between them first.
const OF_FILE: [Keyword; 8] = [
    Keyword::Text,
    Keyword::Symbols,
    Keyword::Language,
    Keyword::Naming,
    Keyword::Numbers,
    Keyword::Collection,
    Keyword::Series,
    Keyword::Volume,
];

impl Show {
    /// The statements of a puzzle that are printed.
    fn leans_on(self) -> &'static [Keyword] {
        match self {
            Show::Puzzle => &[Keyword::Symbols, Keyword::Number, Keyword::Note, Keyword::Text],
            Show::Hints => &[Keyword::Symbols, Keyword::Number, Keyword::Hint],
            Show::Work => &[Keyword::Symbols, Keyword::Number, Keyword::Work, Keyword::Known],
            Show::Answer | Show::Walk => &[Keyword::Symbols, Keyword::Number],
            Show::Steps => &[Keyword::Symbols, Keyword::Number, Keyword::Steps],
            Show::Errata => &[Keyword::Number, Keyword::Erratum],
        }
    }
}

impl Arguments {
    /// What is asked for, in the order of [`Show`], of a puzzle that teaches by a walkthrough or does not.
    fn shown(&self, teaches: bool) -> Vec<Show> {
        let unsaid = self.show.is_empty();
        let asked = |show: &Show| match show {
            Show::Walk => self.show.contains(show) || (self.each_step && unsaid && !teaches),
            Show::Steps => self.show.contains(show) || (unsaid && teaches),
            Show::Puzzle if unsaid => !self.each_step,
            _ => self.show.contains(show),
        };
        Show::value_variants().iter().copied().filter(asked).collect()
    }

    /// Whether the text between puzzles is printed.
    fn shows_text(&self) -> bool {
        let unsaid = self.show.is_empty() && !self.each_step;
        self.puzzles.id.is_empty() && (unsaid || self.show.contains(&Show::Puzzle))
    }

    /// All pages, in the order of the files. What is not there is said.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more.
    pub(super) fn pages(&self, all: &Together, terminal: &mut Terminal) -> Result<Vec<Printed>, Closed> {
        let ids = Ids::new(&self.puzzles.id);
        let places = all.places();
        let leans_on: &[Keyword] = if self.shows_text() { &OF_FILE } else { &OF_FILE[1..] };
        let mut pages = Vec::new();
        for (number, book) in all.workspace().books.iter().enumerate() {
            let mut telling = Telling::default();
            unread::say_openings(number, leans_on, &places, &mut telling);
            terminal.tell(telling)?;
            let voice = self.voice.voice_of(book);
            let (look, width) = (all.settings(number).print.look(), self.width.clone());
            let press = Press { voice, look, width, words: self.words };
            let entries: Vec<_> = all.entries(number).collect();
            let found = entries.into_par_iter().map(|(at, entry, meant)| match meant {
                Entry::Preface | Entry::Part if self.shows_text() => {
                    let running = Running::between(all.workspace(), at, voice);
                    (running.pages(&running.section.items[entry]), Telling::default())
                }
                Entry::Puzzle(puzzle) if ids.take(puzzle) => {
                    self.pages_of(&all.met(at, entry, puzzle, &places), voice)
                }
                _ => (Vec::new(), Telling::default()),
            });
            for (found, telling) in found.collect::<Vec<_>>() {
                terminal.tell(telling)?;
                pages.extend(found.into_iter().map(|page| (page, press.clone())));
            }
            if self.show.contains(&Show::Errata) {
                pages.extend(self.errata(all, number, voice).map(|page| (page, press.clone())));
            }
        }
        ids.say_missing(terminal);
        Ok(pages)
    }

    /// The page with the errata of a file: of all that stands there, or of what --id names.
    fn errata(&self, all: &Together, number: usize, voice: Voice<'static>) -> Option<Page> {
        let workspace = all.workspace();
        let book = &workspace.books[number];
        let ids = &self.puzzles.id;
        let of_item = |(at, entry, meant): (SectionId, usize, &Entry)| {
            let section = workspace.section(at);
            let item = &section.items[entry];
            let heading = match meant {
                Entry::Puzzle(puzzle) => Subject::of(workspace, at, item, puzzle, voice).heading(),
                _ => Vec::new(),
            };
            let is_meant = match meant {
                Entry::Puzzle(puzzle) => puzzle.id.as_ref().is_some_and(|id| ids.contains(&id.text)),
                _ => false,
            };
            if ids.is_empty() || is_meant {
                errata(section, item, &heading.join(" \u{b7} "))
            } else {
                Vec::new()
            }
        };
        Page::of_errata(&book.name, all.entries(number).flat_map(of_item).collect(), voice)
    }

    /// The pages of a puzzle, and what is not there.
    fn pages_of(&self, met: &Met, voice: Voice<'static>) -> (Vec<Page>, Telling) {
        let Met { puzzle, section, item, workspace, at, .. } = *met;
        let subject = Subject::of(workspace, at, item, puzzle, voice);
        let mut shown = self.shown(subject.teaches());
        let leans_on: Vec<Keyword> = shown.iter().flat_map(|show| show.leans_on()).copied().collect();
        let mut telling = Telling::default();
        met.say_unread(&leans_on, &mut telling);
        let mut missing = |what: &str| {
            telling.found();
            telling.remark(format!("{}: {what}", met.heading()));
        };
        if !subject.has_grid() && puzzle.borrows(section).is_none() {
            missing("it has no grid that could be read; `gridsetter check` says more");
            shown.retain(|show| *show == Show::Hints);
        }
        let mut pages = Vec::new();
        for show in shown {
            match self.found(show, &subject, met) {
                Ok(found) => pages.extend(found),
                Err(what) => missing(&what),
            }
        }
        (pages, telling)
    }

    /// The pages of what is asked for of a puzzle, which need not have hints, sheets or walkthroughs.
    ///
    /// # Errors
    /// What is missing, as a sentence without its end.
    fn found(&self, show: Show, subject: &Subject, met: &Met) -> Result<Vec<Page>, String> {
        let puzzle = met.puzzle;
        let has_steps = met.has(Keyword::Steps);
        let unready = |what: &'static str| move |why: Unready| format!("no {what}: {why}");
        Ok(match show {
            Show::Puzzle if !subject.has_grid() && !has_steps => {
                return Err("it has no grid of its own, and no steps to show one with".to_owned());
            }
            Show::Puzzle => subject.page().into_iter().collect(),
            Show::Hints => subject.hints().into_iter().collect(),
            Show::Work => subject.sheets(),
            Show::Answer if !puzzle.lesson => {
                let start = Start::of(puzzle).map_err(unready("answer"))?;
                start.solution.and_then(|grid| subject.answer(&grid)).into_iter().collect()
            }
            Show::Steps if has_steps => {
                let written = subject.written(met.ladder).map_err(unready("walkthrough"))?;
                written.iter().filter_map(|walk| subject.walkthrough(walk, self.each_step)).collect()
            }
            Show::Walk => {
                let start = Start::of(puzzle).map_err(unready("walk"))?;
                let (walk, last) = walked(&start, met.ladder, self.method.method(), self.then);
                let why = (!walk.is_finished()).then(|| stuck(&subject.voice, last));
                subject.walk(&walk, self.each_step, why).into_iter().collect()
            }
            Show::Answer | Show::Steps | Show::Errata => Vec::new(),
        })
    }
}
