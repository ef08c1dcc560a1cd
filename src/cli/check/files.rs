//! The files that are checked together: read, and written over with what was mended.

use crate::book::{Book, Workspace};
use crate::cli::diff;
use crate::cli::input::{Source, Text};
use crate::cli::replace::Replacer;
use crate::cli::room::make_room;
use crate::cli::taken::{Given, Needed, needed};
use crate::cli::terminal::{Closed, Terminal};
use crate::lint::{Report, Severity};
use crate::settings::{self, Project};
use std::sync::Arc;

/// A file that was read.
pub struct Read {
    pub source: Source,
    text: Text,
    /// The project that it belongs to.
    project: Option<Arc<Project>>,
    /// Whether it was given. Else it was only needed: its ids count, and nothing is said of it.
    pub given: bool,
    /// What is reported of it.
    pub rules: settings::Check,
}

/// Reads the files that were given, each with its settings behind what the options `said`. A file that cannot be read is
/// said and left out.
pub fn read(
    sources: impl Iterator<Item = (Source, Option<Arc<Project>>)>,
    said: &settings::Check,
    terminal: &mut Terminal,
) -> (Vec<Read>, Vec<Book>) {
    let mut files = Vec::new();
    let mut books = Vec::new();
    for (source, project) in sources {
        match source.read() {
            Err(trouble) => terminal.trouble(&trouble),
            Ok(text) => {
                terminal.detail(&format!("read {}", source.name));
                let ladder = project.as_ref().map(|it| Arc::clone(&it.settings.ladder));
                make_room(text.bytes().len());
                books.push(source.book(&text).with_ladder(ladder.unwrap_or_default()));
                let rules = project.as_ref().map_or_else(|| said.clone(), |it| said.or(&it.settings.check));
                files.push(Read { source, text, project, given: true, rules });
            }
        }
    }
    (files, books)
}

/// Puts the files that a `take` needs before those that were given: what two files say alike is then said of a given one.
pub fn join_needed(files: &mut Vec<Read>, books: &mut Vec<Book>, terminal: &mut Terminal) {
    let given = files.iter().zip(&*books).map(|(file, book)| Given {
        path: file.source.path.as_deref(),
        book,
        project: file.project.as_deref(),
    });
    for (at, Needed { source, text, book }) in needed(&given.collect::<Vec<_>>()).into_iter().enumerate() {
        terminal.detail(&format!("read {}, for a `take`", source.name));
        let rules = settings::Check::default();
        files.insert(at, Read { source, text, project: None, given: false, rules });
        books.insert(at, book);
    }
}

impl Read {
    /// Whether what it says may be mended: a list has no place for what is missing, what is not UTF-8 was not read to the
    /// byte, and what was not given is not touched.
    pub fn may_change(&self) -> bool {
        self.given && !self.source.list && matches!(self.text, Text::Utf8(_))
    }

    /// Whether a finding in it is something to act on.
    pub fn fails_on(&self, report: &Report) -> bool {
        report.severity >= self.rules.fail_on.unwrap_or(Severity::Warning)
    }

    /// The book that it is, with `text` by now.
    pub fn read_again(&self, text: &str) -> Book {
        if self.may_change() { Book::read(&self.source.name, text) } else { self.source.book(&self.text) }
    }

    /// What it said, if `workspace` says something else of it by now.
    fn changed<'a>(&'a self, now: &'a str) -> Option<&'a str> {
        match &self.text {
            Text::Utf8(before) if self.may_change() && **before != now => Some(before),
            _ => None,
        }
    }
}

/// Shows what mending has changed.
pub fn show_changes(files: &[Read], workspace: &Workspace, terminal: &mut Terminal) -> Result<(), Closed> {
    for (file, book) in files.iter().zip(&workspace.books) {
        let now = book.tree.to_string();
        if let Some(before) = file.changed(&now) {
            terminal.print(&diff::unified(&file.source.name, before, &now, terminal.styled()))?;
        }
    }
    Ok(())
}

/// Writes what was mended; tells whether all of it could be written.
pub fn write_changes(
    files: &[Read],
    workspace: &Workspace,
    replacer: &Replacer,
    terminal: &mut Terminal,
) -> bool {
    let mut all_written = true;
    for (file, book) in files.iter().zip(&workspace.books) {
        if file.given && !file.may_change() {
            let why = if file.source.list { "is a list" } else { "is not UTF-8 text" };
            terminal.remark(&format!("{} {why}, so nothing of it is mended", file.source.name));
        }
        let now = book.tree.to_string();
        if let (Some(_), Some(path)) = (file.changed(&now), &file.source.path)
            && let Err(trouble) = replacer.replace(&file.source.name, path, file.text.bytes(), now.as_bytes())
        {
            terminal.trouble(&trouble);
            all_written = false;
        }
    }
    all_written
}
