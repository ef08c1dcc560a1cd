//! Looking at several files together: what takes more than one section to find.

use super::convert::{Encoding, Lines};
use super::shown::{Place, Shown};
use crate::book::{Book, SectionId, Spot, Workspace};
use crate::lint::{Said, check_beyond};
use std::path::PathBuf;
use std::sync::Arc;
use tower_lsp::ls_types::Uri;

/// Files that are looked at together, as they were at some time.
pub struct Together {
    /// When.
    pub stamp: u64,
    /// What columns count.
    pub encoding: Encoding,
    /// The files.
    pub members: Vec<Member>,
}

/// One of them.
pub struct Member {
    /// Its name.
    pub uri: Uri,
    /// The one name of its file, if it is not open.
    pub closed: Option<PathBuf>,
    /// What it says.
    pub book: Arc<Book>,
    /// What is said of its sections by themselves, where something is to be shown of it.
    pub said: Option<Vec<Arc<Said>>>,
}

/// What was found in one of them: in an open text, by looking at more than one section; in another file, all.
pub struct Found {
    /// Its name.
    pub uri: Uri,
    /// The one name of its file, if it is not open.
    pub closed: Option<PathBuf>,
    /// What was found, with lines counted from the beginning of the file.
    pub shown: Vec<Shown>,
}

impl Together {
    /// What there is if looking fails: nothing, where something is to be shown.
    pub fn nothing(&self) -> Vec<Found> {
        let shown = self.members.iter().filter(|member| member.said.is_some());
        shown.map(|member| member.found(Vec::new())).collect()
    }

    /// Looks at the files together.
    pub fn look(self) -> Vec<Found> {
        let nothing = Said::nothing();
        let books: Vec<Book> = self.members.iter().map(|member| Book::clone(&member.book)).collect();
        let workspace = Workspace::new(books);
        let said = self.members.iter().flat_map(|member| {
            let sections = member.book.tree.sections.len();
            let of_section = |at: usize| member.said.as_ref().map_or(&nothing, |said| &*said[at]);
            (0..sections).map(of_section).collect::<Vec<_>>()
        });
        // Of an open text that is known already; of one of which nothing is shown nothing is said.
        let wants_all = |book: usize| self.members[book].closed.is_some();
        let reports = check_beyond(&workspace, &said.collect::<Vec<_>>(), &wants_all);

        let place = |spot: Spot| {
            let SectionId { book, section } = spot.section;
            let range = Lines::of(&workspace.books[book], self.encoding).range(section, spot.span);
            Place { file: Some(Box::new(self.members[book].uri.clone())), range }
        };
        let mut found: Vec<Vec<Shown>> = self.members.iter().map(|_| Vec::new()).collect();
        for report in reports {
            let member = report.spot.section.book;
            let wanted = &self.members[member];
            if wanted.said.is_some() && !(report.alone && wanted.closed.is_none()) {
                found[member].push(Shown::new(report, place));
            }
        }
        let found = self.members.iter().zip(found).filter(|(member, _)| member.said.is_some());
        found.map(|(member, shown)| member.found(shown)).collect()
    }
}

impl Member {
    fn found(&self, shown: Vec<Shown>) -> Found {
        Found { uri: self.uri.clone(), closed: self.closed.clone(), shown }
    }
}
