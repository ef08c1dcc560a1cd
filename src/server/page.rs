//! A puzzle, a walkthrough or a file as printed pages, to be looked at.

use super::place::Place;
use super::state::Snapshot;
use crate::book::{Book, Entry, SectionId, Workspace};
use crate::draw::Length;
use crate::notation::Keyword;
use crate::print::{Names, Page, Press, Running, Subject, Written, html, voice_of};
use crate::words::Voice;
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
    let printer = Printer { workspace: &workspace, voice };
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

/// What is printed, the first of these files, and in which words.
struct Printer<'a> {
    workspace: &'a Workspace,
    voice: Voice<'static>,
}

impl<'a> Printer<'a> {
    /// The puzzle or lesson at a place.
    fn at(&self, place: &Place<'a>) -> Option<Subject<'a>> {
        let at = SectionId { book: 0, section: place.at };
        Some(Subject::of(self.workspace, at, place.item()?, place.puzzle()?, self.voice))
    }

    /// The pages of the whole file: its texts, and each puzzle; each lesson with its walkthroughs.
    fn file(&self) -> Vec<Page> {
        let &Printer { workspace, voice } = self;
        let mut pages = Vec::new();
        for (section, meaning) in workspace.books[0].meanings.iter().enumerate() {
            let at = SectionId { book: 0, section };
            for (item, entry) in workspace.section(at).items.iter().zip(&meaning.entries) {
                match entry {
                    Entry::Puzzle(puzzle) => {
                        let subject = Subject::of(workspace, at, item, puzzle, voice);
                        pages.extend(subject.page());
                        if subject.teaches() {
                            let written = walks(&subject);
                            pages.extend(written.iter().filter_map(|walk| subject.walkthrough(walk, false)));
                        }
                    }
                    Entry::Preface | Entry::Part => {
                        pages.extend(Running::between(workspace, at, voice).pages(item));
                    }
                    Entry::Answer(_) => {}
                }
            }
        }
        pages
    }
}

/// The walkthroughs of a puzzle or a lesson that are written; none where they have no start.
fn walks(subject: &Subject) -> Vec<Written> {
    subject.written(&subject.book.ladder).unwrap_or_default()
}

/// The page of the walkthrough at a place.
fn walk(subject: &Subject, place: &Place) -> Option<Page> {
    let (number, _) = place.statement()?;
    let written = walks(subject);
    subject.walkthrough(written.iter().find(|written| written.walk.statement == number)?, true)
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
