//! Going through the puzzles of what is read, one after the other.

use super::ids::Ids;
use super::input::{Inputs, Source};
use super::place::Places;
use super::project::Projects;
use super::terminal::{Closed, Terminal};
use super::unread;
use super::visible;
use crate::book::{Book, Entry, Puzzle, SectionId, Spot, Workspace};
use crate::ladder::Ladder;
use crate::notation::{Item, Keyword, Section};
use crate::settings::{Project, Settings};
use clap::Args;
use std::fmt::Write as _;
use std::path::Path;
use std::rc::Rc;

/// Which puzzles to take.
#[derive(Args, Debug)]
pub struct Puzzles {
    #[command(flatten)]
    pub inputs: Inputs,
    /// Take only the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    pub id: Vec<String>,
}

/// A puzzle, where it stands, what it is called for people, and the settings that hold for its file.
pub struct Met<'a> {
    /// The puzzle, or the lesson.
    pub puzzle: &'a Puzzle,
    /// What people call its file.
    pub file: &'a str,
    /// On which line of it the puzzle begins, from 1.
    pub line: usize,
    /// Where it stands and what it is called.
    pub heading: String,
    /// Which section that is.
    pub at: SectionId,
    /// Which of the section's items.
    number: usize,
    /// The ladder of its file's settings.
    pub ladder: &'a Ladder,
    /// The places in the files.
    places: &'a Places<'a>,
    /// The files that are looked at together.
    pub workspace: &'a Workspace,
    /// The file that it stands in.
    pub book: &'a Book,
    /// The section that it stands in.
    pub section: &'a Section,
    /// Its statements.
    pub item: &'a Item,
}

impl Met<'_> {
    /// Whether it has a block of this kind with something in it, be it broken or not.
    pub fn has(&self, keyword: Keyword) -> bool {
        self.puzzle.blocks(self.section, keyword).any(|(_, block)| !block.block.is_empty())
    }

    /// Says what could not be read of these statements of the puzzle.
    pub fn say_unread(&self, leans_on: &[Keyword], terminal: &mut Terminal) {
        unread::say_item(self.at, self.number, leans_on, self.places, terminal);
    }
}

/// A file that was read, and the project that it belongs to.
type Read = (Book, Option<Rc<Project>>);

impl Puzzles {
    /// All of a file.
    pub fn of(file: &Path) -> Puzzles {
        let inputs = Inputs { paths: vec![file.to_owned()], stdin_name: None, list: false };
        Puzzles { inputs, id: Vec::new() }
    }

    /// Calls `take` with each puzzle and each lesson, in order, file by file. What cannot be read is said: of a puzzle as far
    /// as the command leans on it.
    ///
    /// # Errors
    /// [`Closed`] if `take` met a standard output that takes nothing more.
    pub fn each(
        &self,
        leans_on: &[Keyword],
        projects: &mut Projects,
        terminal: &mut Terminal,
        mut take: impl FnMut(Met, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<(), Closed> {
        let mut ids = Ids::new(&self.id);
        for source in self.inputs.sources(terminal) {
            let Some(read) = read(&source, projects, terminal) else { continue };
            let all = Together::new([read]);
            let places = all.places();
            unread::say_openings(0, leans_on, &places, terminal);
            for (at, number, puzzle) in all.workspace.puzzles().filter(|it| ids.take(it.2)) {
                let met = all.met(at, number, puzzle, &places);
                met.say_unread(leans_on, terminal);
                take(met, terminal)?;
            }
        }
        ids.say_missing(terminal);
        Ok(())
    }

    /// The files, where what is said of a puzzle may lean on others: all are read before the first is looked at. What cannot
    /// be read at all is said.
    pub fn together(&self, projects: &mut Projects, terminal: &mut Terminal) -> Together {
        let sources = self.inputs.sources(terminal);
        Together::new(sources.iter().filter_map(|source| read(source, projects, terminal)))
    }
}

/// Files that are looked at together.
pub struct Together {
    workspace: Workspace,
    /// The project of each.
    projects: Vec<Option<Rc<Project>>>,
    /// What holds for a file that belongs to none.
    usual: Settings,
}

impl Together {
    fn new(all: impl IntoIterator<Item = Read>) -> Together {
        let (books, projects) = all.into_iter().unzip();
        Together { workspace: Workspace::new(books), projects, usual: Settings::default() }
    }

    /// The files.
    pub fn workspace(&self) -> &Workspace {
        &self.workspace
    }

    /// The places in them.
    pub fn places(&self) -> Places<'_> {
        Places::new(&self.workspace)
    }

    /// The settings that hold for a file.
    pub fn settings(&self, book: usize) -> &Settings {
        self.projects[book].as_ref().map_or(&self.usual, |project| &project.settings)
    }

    /// What the items of a file mean, in order: the section of each, which of its items it is, and its meaning.
    pub fn entries(&self, book: usize) -> impl Iterator<Item = (SectionId, usize, &Entry)> {
        self.workspace.books[book].meanings.iter().enumerate().flat_map(move |(section, meaning)| {
            let entries = meaning.entries.iter().enumerate();
            entries.map(move |(number, entry)| (SectionId { book, section }, number, entry))
        })
    }

    /// A puzzle, which is this item of this section.
    pub fn met<'a>(
        &'a self,
        at: SectionId,
        number: usize,
        puzzle: &'a Puzzle,
        places: &'a Places<'a>,
    ) -> Met<'a> {
        let section = self.workspace.section(at);
        Met {
            puzzle,
            file: places.file(at.book),
            line: line(at, puzzle, places),
            heading: heading(at, puzzle, places),
            at,
            number,
            ladder: &self.settings(at.book).ladder,
            places,
            workspace: &self.workspace,
            book: &self.workspace.books[at.book],
            section,
            item: &section.items[number],
        }
    }
}

/// Reads a file; what is wrong with it is said.
fn read(source: &Source, projects: &mut Projects, terminal: &mut Terminal) -> Option<Read> {
    let read = source.read().and_then(|text| Ok((source.book(&text), projects.of(source)?)));
    match read {
        Ok(read) => {
            terminal.detail(&format!("read {}", source.name));
            Some(read)
        }
        Err(trouble) => {
            terminal.trouble(&trouble);
            None
        }
    }
}

/// The line of its file on which a puzzle begins, from 1.
fn line(at: SectionId, puzzle: &Puzzle, places: &Places) -> usize {
    places.range(Spot { section: at, span: puzzle.head }).start.line
}

/// Where the puzzle stands and what it is called.
pub fn heading(at: SectionId, puzzle: &Puzzle, places: &Places) -> String {
    let mut text = format!("{}:{}", places.file(at.book), line(at, puzzle, places));
    if let Some(id) = &puzzle.id {
        let _ = write!(text, ": {}", id.text);
    }
    if !puzzle.title.is_empty() {
        let _ = write!(text, " \"{}\"", puzzle.title.join(" "));
    }
    visible::line(&text).into_owned()
}
