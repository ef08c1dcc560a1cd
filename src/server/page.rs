//! A puzzle, a walkthrough or a file as printed pages, to be looked at.

use super::place::Place;
use super::state::Snapshot;
use crate::book::{Book, Entry, Puzzle, Walkthrough, Workspace};
use crate::draw::Length;
use crate::notation::{Item, Keyword, Section};
use crate::print::{Names, Page, Press, Running, Subject, html, voice_of};
use crate::replay::{self, Replay};
use serde::{Deserialize, Serialize};
use std::io;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};
use tempfile::TempDir;
use tower_lsp::ls_types::{CodeAction, Command, Position, Uri};

/// The command that shows pages.
pub const SHOW: &str = "gridsetter.showPage";

/// The kind of the actions that show pages.
const KIND: &str = "source.page";

/// How wide a picture is.
const WIDTH: &str = "110mm";

/// What is to be shown as pages.
#[derive(Clone, Serialize, Deserialize)]
pub struct Asked {
    /// The text.
    pub uri: Uri,
    /// A place in it.
    pub at: Position,
    /// What of it.
    pub what: What,
}

/// What of a text is shown as pages.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum What {
    /// The puzzle or lesson at the place, as it is solved: no answer, no walkthrough.
    Puzzle,
    /// The walkthrough at the place, each step with its picture.
    Walk,
    /// All that is printed of the file.
    File,
}

/// Pages, with a name for their file.
pub struct Printed {
    name: String,
    html: String,
}

/// The command that shows what is asked for.
pub fn command(title: &str, asked: &Asked) -> Command {
    let arguments = serde_json::to_value(asked).ok().map(|asked| vec![asked]);
    Command { title: title.to_owned(), command: SHOW.to_owned(), arguments }
}

/// The actions that show pages: on the line of a puzzle or a lesson.
pub fn actions(snapshot: &Snapshot, place: &Place, at: Position) -> Vec<CodeAction> {
    let keyword = place.statement().and_then(|(_, statement)| statement.keyword);
    if !matches!(keyword, Some(Keyword::Puzzle | Keyword::Lesson)) {
        return Vec::new();
    }
    let action = |(title, what): (&str, What)| {
        let asked = Asked { uri: snapshot.uri.clone(), at, what };
        CodeAction {
            title: title.to_owned(),
            kind: Some(KIND.into()),
            command: Some(command(title, &asked)),
            ..CodeAction::default()
        }
    };
    let all = [("show it as a printed page", What::Puzzle), ("show the file as printed pages", What::File)];
    all.into_iter().map(action).collect()
}

/// Prints what is asked for.
///
/// # Errors
/// In words, why there is nothing to print.
pub fn print(snapshot: &Snapshot, asked: &Asked) -> Result<Printed, String> {
    let books = snapshot.files().map(|(_, book)| Book::clone(book)).collect();
    let workspace = Workspace::new(books);
    let book = &workspace.books[0];
    let (voice, look) = (voice_of(book), snapshot.project.print.look());
    let width: Length = WIDTH.parse().map_err(|_| "the width is no length".to_owned())?;
    let press = Press { voice, look, width, words: false };
    let place = Place::of(snapshot, asked.at);
    let printer = Printer { workspace: &workspace, book, press: &press };
    let pages = match asked.what {
        What::File => printer.file(),
        What::Puzzle => printer.at(&place).and_then(|subject| subject.page()).into_iter().collect(),
        What::Walk => printer.at(&place).and_then(|subject| walk(&subject, &place)).into_iter().collect(),
    };
    let Some(first) = pages.first() else {
        return Err("There is nothing here that could be printed.".to_owned());
    };
    let name = if asked.what == What::File { file_name(&snapshot.uri) } else { first.name.clone() };
    let pages: Vec<(Page, Press)> = pages.into_iter().map(|page| (page, press.clone())).collect();
    Ok(Printed { name, html: html(&pages) })
}

/// The name of a file, without what stands behind its last full stop.
fn file_name(uri: &Uri) -> String {
    let last = uri.as_str().rsplit(['/', ':']).next().unwrap_or_default();
    last.rsplit_once('.').map_or(last, |(name, _)| name).to_owned()
}

/// What is printed, and how.
struct Printer<'a> {
    workspace: &'a Workspace,
    book: &'a Book,
    press: &'a Press,
}

impl<'a> Printer<'a> {
    fn subject(&self, at: usize, section: &'a Section, item: &'a Item, puzzle: &'a Puzzle) -> Subject<'a> {
        let number = self.workspace.number(crate::book::SectionId { book: 0, section: at });
        let (workspace, book, voice) = (self.workspace, self.book, self.press.voice);
        Subject { workspace, book, section, item, puzzle, voice, number }
    }

    /// The puzzle or lesson at a place.
    fn at(&self, place: &Place<'a>) -> Option<Subject<'a>> {
        Some(self.subject(place.at, place.section, place.item()?, place.puzzle()?))
    }

    /// The pages of the whole file: its texts, and each puzzle; each lesson with its walkthroughs.
    fn file(&self) -> Vec<Page> {
        let (workspace, book, voice) = (self.workspace, self.book, self.press.voice);
        let mut pages = Vec::new();
        for (at, (section, meaning)) in book.tree.sections.iter().zip(&book.meanings).enumerate() {
            for (item, entry) in section.items.iter().zip(&meaning.entries) {
                match entry {
                    Entry::Puzzle(puzzle) => {
                        let subject = self.subject(at, section, item, puzzle);
                        pages.extend(subject.page());
                        if puzzle.lesson {
                            let walks = walks(&subject);
                            pages.extend(walks.iter().filter_map(|told| told.page(&subject, false)));
                        }
                    }
                    Entry::Preface | Entry::Part => {
                        let behind = book.meanings[at..].iter().flat_map(|meaning| meaning.puzzles()).next();
                        let puzzle = behind.or_else(|| book.puzzles().last());
                        pages.extend(Running { workspace, book, section, puzzle, voice }.pages(item));
                    }
                    Entry::Answer(_) => {}
                }
            }
        }
        pages
    }
}

/// A walkthrough with what comes of it.
struct Told {
    walk: Walkthrough,
    replay: Replay,
    givens: crate::board::Grid,
}

impl Told {
    fn page(&self, subject: &Subject, each_step: bool) -> Option<Page> {
        subject.walkthrough(&self.walk, &self.replay, &self.givens, each_step)
    }
}

/// The walkthroughs of a puzzle or a lesson that are written.
fn walks(subject: &Subject) -> Vec<Told> {
    let Ok((start, state)) = replay::begin(subject.workspace, subject.section, subject.puzzle) else {
        return Vec::new();
    };
    let walks =
        replay::walks(subject.section, subject.puzzle, &subject.book.ladder, &start, &state).into_iter();
    let is_walk =
        |walk: &Walkthrough| subject.section.statements[walk.statement].keyword == Some(Keyword::Steps);
    let told = walks.filter(|(walk, _)| is_walk(walk));
    told.map(|(walk, replay)| Told { walk, replay, givens: start.givens.clone() }).collect()
}

/// The page of the walkthrough at a place.
fn walk(subject: &Subject, place: &Place) -> Option<Page> {
    let (number, _) = place.statement()?;
    walks(subject).iter().find(|told| told.walk.statement == number)?.page(subject, true)
}

/// The folder of this server's pages. It goes when the server ends orderly.
#[derive(Default)]
pub struct Pages(Mutex<Option<TempDir>>);

impl Pages {
    /// Puts pages into a file; what was shown before under its name goes.
    ///
    /// # Errors
    /// If the system does not take it.
    pub fn put(&self, printed: &Printed) -> io::Result<PathBuf> {
        let mut folder = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let folder = match &mut *folder {
            Some(folder) => folder,
            none => none.insert(tempfile::Builder::new().prefix("gridsetter-").tempdir()?),
        };
        let path = folder.path().join(format!("{}.html", Names::new().give(&printed.name)));
        std::fs::write(&path, &printed.html)?;
        Ok(path)
    }
}
