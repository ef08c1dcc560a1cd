//! `gridsetter walk --write`: a walk that was found, put into its file.

use super::ids::Ids;
use super::input::{Inputs, Source, Text};
use super::place::Places;
use super::project::Projects;
use super::replace::Replacer;
use super::telling::Telling;
use super::terminal::{Closed, Terminal, Trouble};
use super::unread;
use super::words::counted;
use crate::book::{Book, Entry, Puzzle, Workspace};
use crate::edit::{Standing, walk_lines, write_walk};
use crate::ladder::Ladder;
use crate::reason::{Reasoner, Walk};
use crate::step::{Deduction, Method};
use crate::study::Start;
use crate::words::{Depth, Signs, Voice, stuck, tell};

/// How walks are found and written.
pub struct Writing {
    /// How the reader looks at the grid.
    pub method: Method,
    /// In which words steps are told.
    pub voice: Voice<'static>,
    /// Whether a walk that was found before is written over.
    pub replace: bool,
}

impl Writing {
    /// Writes a walk into each puzzle.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more.
    pub fn run(
        &self,
        inputs: &Inputs,
        ids: &[String],
        projects: &mut Projects,
        terminal: &mut Terminal,
        replacer: &Replacer,
    ) -> Result<(), Closed> {
        let ids = Ids::new(ids);
        let usual = Ladder::default();
        let mut written = 0;
        for source in inputs.sources(terminal) {
            if source.list {
                let advice = "`gridsetter import` makes a .gset file of it";
                terminal.trouble(&Trouble::new(&source.name, "is a list, which holds no walks", advice));
                continue;
            }
            let read = source.read().and_then(|text| Ok((projects.of(&source)?, text)));
            let (project, text) = match read {
                Ok(read) => read,
                Err(trouble) => {
                    terminal.trouble(&trouble);
                    continue;
                }
            };
            if matches!(text, Text::Other(_)) {
                let advice = "it is as it was; save it as UTF-8";
                terminal.trouble(&Trouble::new(&source.name, "is not UTF-8 text", advice));
                continue;
            }
            let ladder = project.as_ref().map_or(&usual, |project| &project.settings.ladder);
            let workspace = Workspace::new(vec![source.book(&text)]);
            let mut unread = Telling::default();
            unread::say_openings(0, &[], &Places::new(&workspace), &mut unread);
            terminal.tell(unread)?;
            let (new, walks) = self.written(&workspace.books[0], ladder, &ids, terminal);
            written += put(&source, &text, &new, walks, terminal, replacer)?;
        }
        ids.say_missing(terminal);
        terminal.remark(&format!("{} written", counted(written, "walk")));
        Ok(())
    }

    /// The text of a book with its walks, and how many there are.
    fn written(&self, book: &Book, ladder: &Ladder, ids: &Ids, terminal: &mut Terminal) -> (String, usize) {
        let (mut new, mut walks) = (String::new(), 0);
        for (section, meaning) in book.tree.sections.iter().zip(&book.meanings) {
            let mut text = section.text.to_string();
            let puzzles = meaning.entries.iter().rev().filter_map(|entry| match entry {
                Entry::Puzzle(puzzle) if !puzzle.lesson => Some(puzzle),
                _ => None,
            });
            for puzzle in puzzles.filter(|puzzle| ids.take(puzzle)) {
                let changes = self.lines(puzzle, ladder).and_then(|lines| {
                    write_walk(section, puzzle, &lines, self.replace).map_err(|Standing| {
                        "it has a walk `steps found`; --replace writes over that".to_owned()
                    })
                });
                match changes {
                    Ok(changes) => {
                        walks += 1;
                        for change in changes.into_iter().rev() {
                            text.replace_range(change.span.range(), &change.text);
                        }
                    }
                    Err(why) => {
                        terminal.found();
                        let name = puzzle.id.as_ref().map_or("a puzzle", |id| id.text.as_str());
                        terminal.remark(&format!("{}: {name}: no walk: {why}", book.name));
                    }
                }
            }
            new.push_str(&text);
        }
        (new, walks)
    }

    /// The lines of a puzzle's walk, with prose where a fact is stated or used.
    fn lines(&self, puzzle: &Puzzle, ladder: &Ladder) -> Result<Vec<String>, String> {
        let start = Start::of(puzzle).map_err(|why| why.to_string())?;
        let reasoner = Reasoner::new(&start.layout, ladder);
        let walk = match self.method {
            Method::Scanning => Walk::by_scanning(&reasoner, &start.givens),
            Method::Marks => Walk::with_marks(&reasoner, start.position()),
        };
        if !walk.is_finished() {
            return Err(stuck(&self.voice, self.method));
        }
        // In prose of the notation a brace is written twice.
        let signs: Vec<String> = puzzle.facts.signs().iter().map(|sign| twice(sign)).collect();
        let voice = self.voice.with_signs(Signs(&signs));
        let steps: Vec<Deduction> = walk.steps.iter().map(|step| step.deduction.clone()).collect();
        let told: Vec<Option<String>> = walk
            .positions()
            .enumerate()
            .map(|(at, (before, step))| {
                let step = &step.deduction;
                let plain = step.places() && step.facts_used().is_empty();
                (!plain).then(|| tell(&voice, Depth::Why, &before, step, &steps[..at]))
            })
            .collect();
        Ok(walk_lines(&walk, |at| told[at].clone()))
    }
}

fn twice(sign: &str) -> String {
    sign.replace('{', "{{").replace('}', "}}")
}

/// Puts the new text in place of the old one, or on standard output; how many walks are written now.
fn put(
    source: &Source,
    text: &Text,
    new: &str,
    walks: usize,
    terminal: &mut Terminal,
    replacer: &Replacer,
) -> Result<usize, Closed> {
    match &source.path {
        None => terminal.print(new)?,
        Some(path) if walks > 0 => {
            if let Err(trouble) = replacer.replace(&source.name, path, text.bytes(), new.as_bytes()) {
                terminal.trouble(&trouble);
                return Ok(0);
            }
        }
        Some(_) => {}
    }
    Ok(walks)
}
