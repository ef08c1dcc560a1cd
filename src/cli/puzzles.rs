//! Going through the puzzles of what is read, one after the other.

use super::ids::Ids;
use super::input::{Inputs, Source};
use super::place::Places;
use super::project::Projects;
use super::terminal::{Closed, Terminal};
use super::visible;
use crate::book::{Book, Puzzle, SectionId, Spot, Workspace};
use crate::ladder::Ladder;
use crate::notation::{Item, Section};
use crate::settings::{Print, Project, Settings};
use clap::Args;
use std::fmt::Write as _;
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
    /// The ladder of its file's settings.
    pub ladder: &'a Ladder,
    /// How things look by its file's settings.
    pub print: Print,
    /// The files that are looked at together; its own is the first.
    pub workspace: &'a Workspace,
    /// The file that it stands in.
    pub book: &'a Book,
    /// The section that it stands in.
    pub section: &'a Section,
    /// Its statements.
    pub item: &'a Item,
}

/// A file that was read, and the project that it belongs to.
type Read = (Book, Option<Rc<Project>>);

impl Puzzles {
    /// Calls `take` with each puzzle and each lesson, in order, file by file. What cannot be read is said.
    ///
    /// # Errors
    /// [`Closed`] if `take` met a standard output that takes nothing more.
    pub fn each(
        &self,
        projects: &mut Projects,
        terminal: &mut Terminal,
        mut take: impl FnMut(Met, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<(), Closed> {
        let mut ids = Ids::new(&self.id);
        for source in self.inputs.sources(terminal) {
            if let Some(read) = read(&source, projects, terminal) {
                visit(vec![read], &mut ids, terminal, &mut take)?;
            }
        }
        ids.say_missing(terminal);
        Ok(())
    }

    /// The same, where what is said of a puzzle may lean on other files: all are read before the first is looked at.
    ///
    /// # Errors
    /// [`Closed`] if `take` met a standard output that takes nothing more.
    pub fn each_of_all(
        &self,
        projects: &mut Projects,
        terminal: &mut Terminal,
        mut take: impl FnMut(Met, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<(), Closed> {
        let mut ids = Ids::new(&self.id);
        let sources = self.inputs.sources(terminal);
        let all = sources.iter().filter_map(|source| read(source, projects, terminal)).collect();
        visit(all, &mut ids, terminal, &mut take)?;
        ids.say_missing(terminal);
        Ok(())
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

fn visit(
    all: Vec<Read>,
    ids: &mut Ids,
    terminal: &mut Terminal,
    take: &mut impl FnMut(Met, &mut Terminal) -> Result<(), Closed>,
) -> Result<(), Closed> {
    let usual = Settings::default();
    let (books, projects): (Vec<Book>, Vec<Option<Rc<Project>>>) = all.into_iter().unzip();
    let workspace = Workspace::new(books);
    let places = Places::new(&workspace);
    for (id, entry, puzzle) in workspace.puzzles().filter(|(_, _, puzzle)| ids.take(puzzle)) {
        let section = workspace.section(id);
        let file = places.file(id.book);
        let line = places.range(Spot { section: id, span: puzzle.head }).start.line;
        let settings = projects[id.book].as_ref().map_or(&usual, |project| &project.settings);
        let met = Met {
            puzzle,
            file,
            line,
            heading: heading(puzzle, file, line),
            at: id,
            ladder: &settings.ladder,
            print: settings.print,
            workspace: &workspace,
            book: &workspace.books[id.book],
            section,
            item: &section.items[entry],
        };
        take(met, terminal)?;
    }
    Ok(())
}

/// Where the puzzle stands and what it is called.
fn heading(puzzle: &Puzzle, file: &str, line: usize) -> String {
    let mut text = format!("{file}:{line}");
    if let Some(id) = &puzzle.id {
        let _ = write!(text, ": {}", id.text);
    }
    if !puzzle.title.is_empty() {
        let _ = write!(text, " \"{}\"", puzzle.title.join(" "));
    }
    visible::line(&text).into_owned()
}
