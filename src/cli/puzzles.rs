//! Going through the puzzles of what is read, one after the other.

use super::ids::Ids;
use super::input::Inputs;
use super::place::Places;
use super::project::Projects;
use super::terminal::{Closed, Terminal};
use super::visible;
use crate::book::{Puzzle, SectionId, Spot, Workspace};
use crate::ladder::Ladder;
use crate::notation::{Item, Section};
use crate::settings::{Print, Settings};
use clap::Args;
use std::fmt::Write as _;

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
    /// Where it stands and what it is called.
    pub heading: String,
    /// The ladder of its file's settings.
    pub ladder: &'a Ladder,
    /// How things look by its file's settings.
    pub print: Print,
    /// The files that are looked at together; its own is the first.
    pub workspace: &'a Workspace,
    /// The section that it stands in.
    pub section: &'a Section,
    /// Its statements.
    pub item: &'a Item,
}

impl Puzzles {
    /// Calls `take` with each puzzle and each lesson, in order. What cannot be read is said.
    ///
    /// # Errors
    /// [`Closed`] if `take` met a standard output that takes nothing more.
    pub fn each(
        &self,
        projects: &mut Projects,
        terminal: &mut Terminal,
        mut take: impl FnMut(Met, &mut Terminal) -> Result<(), Closed>,
    ) -> Result<(), Closed> {
        let usual = Settings::default();
        let mut ids = Ids::new(&self.id);
        for source in self.inputs.sources(terminal) {
            let read = source.read().and_then(|text| Ok((projects.of(&source)?, source.book(&text))));
            let (project, book) = match read {
                Ok(read) => read,
                Err(trouble) => {
                    terminal.trouble(&trouble);
                    continue;
                }
            };
            terminal.detail(&format!("read {}", source.name));
            let settings = project.as_ref().map_or(&usual, |project| &project.settings);
            let workspace = Workspace::new(vec![book]);
            let places = Places::new(&workspace);
            for (id, entry, puzzle) in workspace.puzzles().filter(|(_, _, puzzle)| ids.take(puzzle)) {
                let section = workspace.section(id);
                let met = Met {
                    puzzle,
                    heading: heading(puzzle, id, &places),
                    ladder: &settings.ladder,
                    print: settings.print,
                    workspace: &workspace,
                    section,
                    item: &section.items[entry],
                };
                take(met, terminal)?;
            }
        }
        ids.say_missing(terminal);
        Ok(())
    }
}

/// Where the puzzle stands and what it is called.
fn heading(puzzle: &Puzzle, section: SectionId, places: &Places) -> String {
    let place = places.range(Spot { section, span: puzzle.head }).start;
    let mut text = format!("{}:{}", places.file(section.book), place.line);
    if let Some(id) = &puzzle.id {
        let _ = write!(text, ": {}", id.text);
    }
    if !puzzle.title.is_empty() {
        let _ = write!(text, " \"{}\"", puzzle.title.join(" "));
    }
    visible::line(&text).into_owned()
}
