//! Going through the puzzles of what is read: each is looked at by itself, on all processors, and told in order.

use super::course::{Part, each_part};
use super::ids::Ids;
use super::input::{Inputs, Source};
use super::place::{Lines, Places};
use super::project::Projects;
use super::telling::Telling;
use super::terminal::{Closed, Terminal};
use super::unread;
use super::visible;
use crate::book::{Book, Entry, Puzzle, SectionId, Spot, Workspace};
use crate::files::canonical;
use crate::ladder::Ladder;
use crate::notation::{Item, Keyword, Section};
use crate::settings::{Project, Settings};
use clap::Args;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

/// Which puzzles to take.
#[derive(Args, Clone, Debug)]
pub struct Puzzles {
    #[command(flatten)]
    pub inputs: Inputs,
    /// Take only the puzzle of this id (may be repeated)
    #[arg(long, value_name = "ID")]
    pub id: Vec<String>,
    /// This file is passed over.
    #[arg(skip)]
    pub but: Option<PathBuf>,
}

/// A puzzle, where it stands, what it is called for people, and the settings that hold for its file.
pub struct Met<'a> {
    /// The puzzle, or the lesson.
    pub puzzle: &'a Puzzle,
    /// What people call its file.
    pub file: &'a str,
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

    /// On which line of its file the puzzle begins, from 1.
    pub fn line(&self) -> usize {
        line(self.at, self.puzzle, self.places)
    }

    /// Where it stands and what it is called.
    pub fn heading(&self) -> String {
        heading(self.at, self.puzzle, self.places)
    }

    /// Says what could not be read of these statements of the puzzle.
    pub fn say_unread(&self, leans_on: &[Keyword], telling: &mut Telling) {
        unread::say_item(self.at, self.number, leans_on, self.places, telling);
    }
}

impl Puzzles {
    /// All of a file.
    pub fn of(file: &Path) -> Puzzles {
        let inputs = Inputs { paths: vec![file.to_owned()], stdin_name: None, list: false };
        Puzzles { inputs, id: Vec::new(), but: None }
    }

    /// Looks at each puzzle and each lesson, on all processors, and calls `take` with what was found, in order, file by
    /// file. Lists of any length are read piece by piece. What cannot be read is told: of a puzzle as far as the command
    /// leans on it.
    ///
    /// # Errors
    /// [`Closed`] if standard output takes nothing more, or the user wants no more.
    pub fn each<T: Send>(
        &self,
        leans_on: &[Keyword],
        projects: &mut Projects,
        terminal: &mut Terminal,
        look: impl Fn(&Met, &mut Telling) -> T + Sync,
        mut take: impl FnMut(T, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<(), Closed> {
        let ids = Ids::new(&self.id);
        let mut sources = self.inputs.sources(terminal);
        let is_meant = |source: &Source| match (&self.but, &source.path) {
            (Some(but), Some(path)) => *but != canonical(path),
            _ => true,
        };
        sources.retain(is_meant);
        let look_at = |part: &Part| {
            let (all, places) = (part.all, part.all.places());
            let mut openings = Telling::default();
            if part.sections.start == 0 {
                unread::say_openings(0, leans_on, &places, &mut openings);
            }
            let puzzles =
                part.sections.clone().flat_map(|section| all.puzzles_of(SectionId { book: 0, section }));
            let met = puzzles.map_while(|it| (!part.is_given_up()).then_some(it)).filter(|it| ids.take(it.2));
            let found = met.map(|(at, number, puzzle)| {
                let met = all.met(at, number, puzzle, &places);
                let mut telling = Telling::default();
                met.say_unread(leans_on, &mut telling);
                let found = look(&met, &mut telling);
                (telling, found)
            });
            (openings, found.collect::<Vec<_>>())
        };
        let mut take_all = |(openings, found): (Telling, Vec<(Telling, T)>), terminal: &mut Terminal| {
            terminal.tell(openings)?;
            let puzzles = found.len();
            for (telling, found) in found {
                terminal.tell(telling)?;
                take(found, terminal)?;
            }
            Ok(puzzles)
        };
        each_part(&sources, projects, terminal, &look_at, &mut take_all)?;
        ids.say_missing(terminal);
        Ok(())
    }

    /// The files, where what is said of a puzzle may lean on others: all are read before the first is looked at. What cannot
    /// be read at all is said.
    pub fn together(&self, projects: &mut Projects, terminal: &mut Terminal) -> Together {
        let sources = self.inputs.sources(terminal);
        let mut read = |source: &Source| match source.read().and_then(|text| Ok((text, projects.of(source)?)))
        {
            Ok((text, project)) => {
                terminal.detail(&format!("read {}", source.name));
                Some((source.book(&text), 0, project))
            }
            Err(trouble) => {
                terminal.trouble(&trouble);
                None
            }
        };
        Together::new(sources.iter().filter_map(&mut read))
    }
}

/// Files that are looked at together, or a piece of a list.
pub struct Together {
    workspace: Workspace,
    lines: Lines,
    /// The project of each.
    projects: Vec<Option<Arc<Project>>>,
}

/// What holds for a file that belongs to no project.
static USUAL: LazyLock<Settings> = LazyLock::new(Settings::default);

impl Together {
    /// Each with the lines that stand before it, and its project.
    pub fn new(all: impl IntoIterator<Item = (Book, usize, Option<Arc<Project>>)>) -> Together {
        let (mut books, mut ahead, mut projects) = (Vec::new(), Vec::new(), Vec::new());
        for (book, lines, project) in all {
            books.push(book);
            ahead.push(lines);
            projects.push(project);
        }
        Together { workspace: Workspace::new(books), lines: Lines::behind(ahead), projects }
    }

    /// The files.
    pub fn workspace(&self) -> &Workspace {
        &self.workspace
    }

    /// So many lines stand before a piece in its list.
    pub fn ahead(&self, book: usize) -> usize {
        self.lines.ahead(book)
    }

    /// The places in them.
    pub fn places(&self) -> Places<'_> {
        Places::with(&self.workspace, self.lines.clone())
    }

    /// The settings that hold for a file.
    pub fn settings(&self, book: usize) -> &Settings {
        self.projects[book].as_ref().map_or(&*USUAL, |project| &project.settings)
    }

    /// What the items of a file mean, in order: the section of each, which of its items it is, and its meaning.
    pub fn entries(&self, book: usize) -> impl Iterator<Item = (SectionId, usize, &Entry)> {
        self.workspace.books[book].meanings.iter().enumerate().flat_map(move |(section, meaning)| {
            let entries = meaning.entries.iter().enumerate();
            entries.map(move |(number, entry)| (SectionId { book, section }, number, entry))
        })
    }

    /// The puzzles and lessons of a section, in order, each with the section and which of its items it is.
    pub fn puzzles_of(&self, at: SectionId) -> impl Iterator<Item = (SectionId, usize, &Puzzle)> {
        let entries = self.workspace.meaning(at).entries.iter().enumerate();
        entries.filter_map(move |(number, entry)| match entry {
            Entry::Puzzle(puzzle) => Some((at, number, &**puzzle)),
            _ => None,
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
            at,
            number,
            ladder: &self.settings(at.book).ladder,
            places,
            workspace: &self.workspace,
            section,
            item: &section.items[number],
        }
    }
}

/// The line of its file on which a puzzle begins, from 1.
fn line(at: SectionId, puzzle: &Puzzle, places: &Places) -> usize {
    places.range(Spot { section: at, span: puzzle.head }).start.line
}

/// Where the puzzle stands and what it is called.
pub fn heading(at: SectionId, puzzle: &Puzzle, places: &Places) -> String {
    let id = puzzle.id.as_ref().map(|id| id.text.as_str());
    heading_of(places.file(at.book), line(at, puzzle, places), id, &puzzle.title.join(" "))
}

/// The same of a puzzle of which this is known; the title is empty where there is none.
pub fn heading_of(file: &str, line: usize, id: Option<&str>, title: &str) -> String {
    let mut text = format!("{file}:{line}");
    if let Some(id) = id {
        let _ = write!(text, ": {id}");
    }
    if !title.is_empty() {
        let _ = write!(text, " \"{title}\"");
    }
    visible::line(&text).into_owned()
}
