//! What there is to look at that no message waits for, and what becomes of what is found.

use super::alone::Pending;
use super::document::{Document, chosen};
use super::findings::mark;
use super::folders::Closed;
use super::state::State;
use super::together::{Found, Member, Together};
use crate::book::Book;
use crate::lint::{Effort, Said};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tower_lsp::ls_types::Uri;

/// Something to do that no message waits for.
pub enum Job {
    /// Look at these sections of a text.
    Look(Uri, Vec<Pending>),
    /// Look at some sections of files that are not open.
    LookClosed(Vec<Part>),
    /// Look at these files together.
    LookTogether(Together),
}

impl Job {
    /// How many sections it looks at.
    pub fn sections(&self) -> usize {
        match self {
            Job::Look(_, pending) => pending.len(),
            Job::LookClosed(parts) => parts.iter().map(|part| part.sections.len()).sum(),
            Job::LookTogether(together) => {
                together.members.iter().map(|member| member.book.tree.sections.len()).sum()
            }
        }
    }
}

/// Some sections of a file that is not open.
pub struct Part {
    place: PathBuf,
    book: Arc<Book>,
    /// Which.
    pub sections: Range<usize>,
}

impl Part {
    /// Looks at one of the sections, whatever it takes.
    pub fn look(&self, at: usize) -> Said {
        let book = &self.book;
        Said::of(&book.tree.sections[at], &book.meanings[at], &book.ladder, Effort::Full)
    }
}

/// What is to be done next.
enum Next<'a> {
    /// Look at sections of this text.
    Look(&'a Document),
    /// Look at sections of files that are not open.
    LookClosed,
    /// Look at the files of this folder together, this text first.
    LookTogether(Option<&'a Path>, Option<&'a Document>),
}

impl State {
    /// Whether there is something to do.
    pub fn has_job(&self) -> bool {
        self.next().is_some()
    }

    /// What is to be done next: first what is open in a text, then what takes several. At most `most` sections at once.
    pub fn next_job(&self, most: usize) -> Option<Job> {
        Some(match self.next()? {
            Next::Look(document) => Job::Look(document.uri.clone(), document.pending(most)),
            Next::LookClosed => Job::LookClosed(self.parts(most)),
            Next::LookTogether(folder, first) => Job::LookTogether(self.together(folder, first)),
        })
    }

    fn next(&self) -> Option<Next<'_>> {
        if let Some(document) = self.documents.values().find(|document| !document.is_looked_at()) {
            return Some(Next::Look(document));
        }
        // As long as files are not read, what they bear is not known to be missing.
        let may_look = |document: &&Document| {
            let in_folder = document.place.as_deref().is_some_and(|place| self.folders.of(place).is_some());
            document.beyond.is_none() && (!in_folder || self.folders.is_read())
        };
        if let Some(document) = self.documents.values().find(may_look) {
            let folder = document.place.as_deref().and_then(|place| self.folders.of(place));
            return Some(Next::LookTogether(folder, Some(document)));
        }
        if !self.pulls.wants_all || !self.folders.is_read() {
            return None;
        }
        let mut old = None;
        for (place, file) in self.closed_files().filter(|(place, _)| self.folders.works_in(place)) {
            if !file.is_looked_at() {
                return Some(Next::LookClosed);
            }
            if file.found.as_ref().is_none_or(|(stamp, _)| *stamp != self.stamp) {
                old = old.or(Some(place));
            }
        }
        old.map(|place| Next::LookTogether(self.folders.of(place), None))
    }

    /// Sections of files that are not open, at most so many.
    fn parts(&self, most: usize) -> Vec<Part> {
        let wanted = self.closed_files().filter(|(place, _)| self.folders.works_in(place));
        let mut room = most;
        let parts = wanted.filter(|(_, file)| !file.is_looked_at()).map_while(|(place, file)| {
            let sections = file.pending(room);
            room -= sections.len();
            let (place, book) = (place.clone(), Arc::clone(&file.book));
            (!sections.is_empty()).then_some(Part { place, book, sections })
        });
        parts.collect()
    }

    fn together(&self, folder: Option<&Path>, first: Option<&Document>) -> Together {
        let known = first.and_then(|first| first.place.as_deref());
        let others = self.open_in(folder, known);
        let others = others.filter(|other| first.is_none_or(|first| first.uri != other.uri));
        let open = first.into_iter().chain(others).map(|document| Member {
            uri: document.uri.clone(),
            closed: None,
            book: Arc::clone(&document.book),
            said: document.said(),
        });
        let closed = self.closed_in(folder).map(|(place, file)| {
            let is_looked_at = self.pulls.wants_all && file.is_looked_at();
            let said = is_looked_at.then(|| file.said.clone());
            Member { uri: file.uri.clone(), closed: Some(place.clone()), book: Arc::clone(&file.book), said }
        });
        Together { stamp: self.stamp, encoding: self.encoding, members: open.chain(closed).collect() }
    }

    /// Takes up what was found in sections of a text; tells whether there is more to look at in it.
    pub fn take(&mut self, uri: &Uri, found: Vec<(Pending, Said)>) -> bool {
        let Some(document) = self.documents.get_mut(uri) else { return false };
        for (pending, said) in found {
            document.take(&pending, said, self.encoding);
        }
        !document.is_looked_at()
    }

    /// Shows what is known of a text by now.
    pub fn publish(&mut self, uri: &Uri) {
        if let Some(document) = self.documents.get(uri) {
            self.pulls.tell(document, self.settings.spoil(), &self.outbox);
        }
    }

    /// Takes up what was found in sections of a file that is not open, if it still is as it was.
    pub fn take_closed(&mut self, part: &Part, said: Vec<Said>) {
        let file = self.folders.file_mut(&part.place);
        let same = |file: &&mut Closed| {
            Arc::ptr_eq(&file.book, &part.book) && file.said.len() == part.sections.start
        };
        if let Some(file) = file.filter(same) {
            file.said.extend(said.into_iter().map(Said::shared));
        }
    }

    /// Takes up what was found in several texts together, if they still are as they were.
    pub fn take_together(&mut self, stamp: u64, found: Vec<Found>) {
        if stamp != self.stamp {
            return;
        }
        let spoil = self.settings.spoil();
        let mut news = false;
        for Found { uri, closed, shown } in found {
            if let Some(place) = closed {
                let Some(file) = self.folders.file_mut(&place) else { continue };
                let list = chosen(shown.iter().map(|shown| (shown, 0)), &file.settings, spoil);
                let now = mark(list.into_iter().map(|(shown, _)| shown));
                news |= file.mark != now;
                file.mark = now;
                file.found = Some((stamp, shown));
            } else if let Some(document) = self.documents.get_mut(&uri)
                && document.find_beyond(shown)
            {
                self.pulls.tell(document, spoil, &self.outbox);
            }
        }
        if news {
            self.found_in_closed();
        }
    }
}
