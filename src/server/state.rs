//! The one owner of all that the server knows: open texts, the other files of the workspace, settings.

use super::convert::{Encoding, Lines, Place, Shown};
use super::document::{Document, Pending, file_of};
use super::outbox::Outbox;
use super::projects::Projects;
use super::settings::Settings;
use crate::book::{Book, SectionId, Spot, Workspace};
use crate::files::{self, MOST_BYTES, canonical};
use crate::lint::{Said, check_with};
use crate::settings::{Settings as ProjectSettings, Way};
use serde_json::json;
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tower_lsp::jsonrpc::Request;
use tower_lsp::ls_types::{
    DidChangeTextDocumentParams, MessageType, TextDocumentItem, Uri, VersionedTextDocumentIdentifier,
};

/// All that the server knows.
pub struct State {
    /// What columns count.
    pub encoding: Encoding,
    /// What the client wants.
    pub settings: Settings,
    /// The folders that the client works in: the files of each are looked at together.
    pub folders: Vec<PathBuf>,
    projects: Projects,
    documents: BTreeMap<Uri, Document>,
    /// The files of the folders as they are on disk.
    files: BTreeMap<PathBuf, Arc<Book>>,
    /// Grows with each change of a text: what was found before is then not taken up.
    stamp: u64,
    outbox: Outbox,
}

/// A text as it was when a request came, for an answer that takes longer.
pub struct Snapshot {
    /// Its name.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
    /// The text.
    pub rope: ropey::Rope,
    /// The same, read.
    pub book: Arc<Book>,
    /// The other files that are looked at together with it, each with its name.
    pub others: Vec<(Uri, Arc<Book>)>,
    /// What columns count.
    pub encoding: Encoding,
    /// What the client wants.
    pub settings: Settings,
    /// What the project of the text says.
    pub project: Arc<ProjectSettings>,
}

/// Something to do that no message waits for.
pub enum Job {
    /// Look at these sections of a text.
    Look(Uri, Vec<Pending>),
    /// Look at these files together.
    LookTogether(Together),
}

/// Files that are looked at together, as they were at some time.
pub struct Together {
    stamp: u64,
    encoding: Encoding,
    members: Vec<Member>,
}

struct Member {
    uri: Uri,
    book: Arc<Book>,
    /// What is said of its sections by themselves, of an open text; of others nothing is shown.
    said: Option<Vec<Arc<Said>>>,
}

impl State {
    /// Nothing is known yet.
    pub fn new(way: Way, outbox: Outbox) -> State {
        State {
            encoding: Encoding::default(),
            settings: Settings::default(),
            folders: Vec::new(),
            projects: Projects::new(way),
            documents: BTreeMap::new(),
            files: BTreeMap::new(),
            stamp: 0,
            outbox,
        }
    }

    /// Takes up a text that was opened.
    pub fn open(&mut self, item: TextDocumentItem) {
        self.read_settings();
        let folder = self.project_folder(file_of(&item.uri).as_deref());
        let settings = self.settings_for(&folder);
        let document = Document::open(item.uri, item.version, &item.text, settings, self.encoding);
        document.publish(self.settings.spoil(), &self.outbox);
        self.documents.insert(document.uri.clone(), document);
        self.changed();
    }

    /// Takes up changes of a text. A text that was never opened is not known, and stays so.
    pub fn change(&mut self, params: DidChangeTextDocumentParams) {
        let VersionedTextDocumentIdentifier { uri, version } = params.text_document;
        self.changed();
        let Some(document) = self.documents.get_mut(&uri) else { return };
        document.change(version, params.content_changes, self.encoding);
        document.publish(self.settings.spoil(), &self.outbox);
    }

    /// Forgets a text that was closed: from now on its file counts. Nothing is shown of it any more.
    pub fn close(&mut self, uri: &Uri) {
        if let Some(mut document) = self.documents.remove(uri) {
            let path = document.path.take();
            document.clear(&self.outbox);
            self.changed();
            if let Some(path) = path {
                self.reload(&path);
            }
        }
    }

    /// Reads a file of the workspace again, or forgets it where it is no more.
    pub fn reload(&mut self, path: &Path) {
        let inside = |folder: &Path| canonical(path).starts_with(canonical(folder));
        let is_ours = self.folder_of(path).is_some_and(inside);
        match files::read(path, MOST_BYTES).ok().filter(|_| is_ours) {
            Some(bytes) => {
                let book = Book::read_bytes(&path.display().to_string(), &bytes);
                self.files.insert(path.to_owned(), Arc::new(book));
            }
            None => _ = self.files.remove(path),
        }
        self.changed();
    }

    /// Takes up the files of the folders, as they were read.
    pub fn take_files(&mut self, files: BTreeMap<PathBuf, Arc<Book>>) {
        self.files = files;
        self.changed();
    }

    /// Reads the files of settings again, and shows again each text for which another one holds, or one that has changed.
    pub fn read_settings(&mut self) {
        let folders: Vec<(Uri, PathBuf)> = self
            .documents
            .values()
            .map(|document| (document.uri.clone(), self.project_folder(document.path.as_deref())))
            .collect();
        for (uri, folder) in folders {
            let settings = self.settings_for(&folder);
            let Some(document) = self.documents.get_mut(&uri) else { continue };
            if document.heed(settings, self.encoding) {
                document.publish(self.settings.spoil(), &self.outbox);
                self.changed();
            }
        }
    }

    /// The folder from which the settings of a file are looked for; a text that is no file belongs to the first folder that
    /// the client works in.
    fn project_folder(&self, path: Option<&Path>) -> PathBuf {
        let folder = path.and_then(Path::parent).or(self.folders.first().map(PathBuf::as_path));
        folder.unwrap_or(Path::new("")).to_owned()
    }

    /// The settings for what lies in a folder; what is newly wrong with them is told.
    fn settings_for(&mut self, folder: &Path) -> Arc<ProjectSettings> {
        let (settings, trouble) = self.projects.settings_for(folder);
        if let Some(message) = trouble {
            let params = json!({"type": MessageType::WARNING, "message": message});
            let told = Request::build("window/showMessage").params(params).finish();
            self.outbox.send_newest(&message, &told);
        }
        settings
    }

    /// Shows everything again: the client wants it otherwise.
    pub fn publish_all(&self) {
        self.documents.values().for_each(|document| document.publish(self.settings.spoil(), &self.outbox));
    }

    /// What takes more than one section to find is not known any more.
    fn changed(&mut self) {
        self.stamp += 1;
        self.documents.values_mut().for_each(|document| document.beyond = None);
    }

    /// A text with what is known of it.
    pub fn document(&self, uri: &Uri) -> Option<&Document> {
        self.documents.get(uri)
    }

    /// The text as it is now, for an answer that takes longer.
    pub fn snapshot(&self, uri: &Uri) -> Option<Snapshot> {
        let document = self.documents.get(uri)?;
        let others = self.members(document).into_iter().skip(1).map(|(uri, book, _)| (uri, Arc::clone(book)));
        Some(Snapshot {
            uri: uri.clone(),
            version: document.version,
            rope: document.rope.clone(),
            book: Arc::clone(&document.book),
            others: others.collect(),
            encoding: self.encoding,
            settings: self.settings.clone(),
            project: Arc::clone(document.project()),
        })
    }

    /// Every file of the folders and every open text, each once.
    pub fn all_files(&self) -> Vec<(Uri, Arc<Book>)> {
        let open = self.documents.values().map(|document| (document.uri.clone(), Arc::clone(&document.book)));
        let closed = self.closed_files();
        let closed = closed.filter_map(|(path, book)| Some((Uri::from_file_path(path)?, Arc::clone(book))));
        open.chain(closed).collect()
    }

    /// The files of the folders that are not open.
    fn closed_files(&self) -> impl Iterator<Item = (&PathBuf, &Arc<Book>)> {
        let is_open =
            |path: &Path| self.documents.values().any(|document| document.path.as_deref() == Some(path));
        self.files.iter().filter(move |(path, _)| !is_open(path))
    }

    /// What is to be done next: first what is open in a text, then what takes several. At most `most` sections at once.
    pub fn next_job(&self, most: usize) -> Option<Job> {
        for document in self.documents.values() {
            let pending = document.pending(most);
            if !pending.is_empty() {
                return Some(Job::Look(document.uri.clone(), pending));
            }
        }
        let document = self.documents.values().find(|document| document.beyond.is_none())?;
        let members = self.members(document).into_iter().map(|(uri, book, document)| Member {
            uri,
            book: Arc::clone(book),
            said: document.and_then(Document::said),
        });
        let members = members.collect();
        Some(Job::LookTogether(Together { stamp: self.stamp, encoding: self.encoding, members }))
    }

    /// Takes up what was found in sections of a text; tells whether there is more to look at in it.
    pub fn take(&mut self, uri: &Uri, found: Vec<(Pending, Said)>) -> bool {
        let Some(document) = self.documents.get_mut(uri) else { return false };
        for (pending, said) in found {
            document.take(&pending, said, self.encoding);
        }
        !document.pending(1).is_empty()
    }

    /// Shows what is known of a text by now.
    pub fn publish(&self, uri: &Uri) {
        if let Some(document) = self.documents.get(uri) {
            document.publish(self.settings.spoil(), &self.outbox);
        }
    }

    /// Takes up what was found in several texts together, if they still are as they were.
    pub fn take_together(&mut self, stamp: u64, found: Vec<(Uri, Vec<Shown>)>) {
        if stamp != self.stamp {
            return;
        }
        for (uri, shown) in found {
            let Some(document) = self.documents.get_mut(&uri) else { continue };
            let publishes = document.shows_beyond() || !shown.is_empty();
            document.find_beyond(shown);
            if publishes {
                document.publish(self.settings.spoil(), &self.outbox);
            }
        }
    }

    /// The files that are looked at together with a text, which comes first; those that are open with what is known of
    /// them.
    fn members<'a>(&'a self, first: &'a Document) -> Vec<(Uri, &'a Arc<Book>, Option<&'a Document>)> {
        let folder = first.path.as_deref().and_then(|path| self.folder_of(path));
        let same = |path: &Path| folder.is_some() && self.folder_of(path) == folder;
        let others = self
            .documents
            .values()
            .filter(|other| other.uri != first.uri && other.path.as_deref().is_some_and(same));
        let open = std::iter::once(first).chain(others);
        let open = open.map(|document| (document.uri.clone(), &document.book, Some(document)));
        let files = self.closed_files().filter(|(path, _)| same(path));
        let closed = files.filter_map(|(path, book)| Some((Uri::from_file_path(path)?, book, None)));
        open.chain(closed).collect()
    }

    /// The innermost folder of the workspace that a file lies in.
    fn folder_of(&self, path: &Path) -> Option<&Path> {
        let within = self.folders.iter().filter(|folder| path.starts_with(folder));
        within.max_by_key(|folder| folder.components().count()).map(PathBuf::as_path)
    }
}

impl Together {
    /// What there is if looking fails: nothing, for the texts that are open.
    pub fn nothing(&self) -> (u64, Vec<(Uri, Vec<Shown>)>) {
        let open = self.members.iter().filter(|member| member.said.is_some());
        (self.stamp, open.map(|member| (member.uri.clone(), Vec::new())).collect())
    }

    /// Looks at the files together; gives what was found in each open text.
    pub fn look(self) -> (u64, Vec<(Uri, Vec<Shown>)>) {
        let nothing = Said::nothing();
        let books: Vec<Book> = self.members.iter().map(|member| Book::clone(&member.book)).collect();
        let workspace = Workspace::new(books);
        let said = self.members.iter().flat_map(|member| {
            let sections = member.book.tree.sections.len();
            let of_section = |at: usize| member.said.as_ref().map_or(&nothing, |said| &*said[at]);
            (0..sections).map(of_section).collect::<Vec<_>>()
        });
        let reports = check_with(&workspace, &said.collect::<Vec<_>>());

        let lines: Vec<OnceCell<Lines>> = workspace.books.iter().map(|_| OnceCell::new()).collect();
        let place = |spot: Spot| {
            let SectionId { book, section } = spot.section;
            let lines = lines[book].get_or_init(|| Lines::of(&workspace.books[book], self.encoding));
            Place { file: Some(self.members[book].uri.clone()), range: lines.range(section, spot.span) }
        };
        let mut found: Vec<Vec<Shown>> = self.members.iter().map(|_| Vec::new()).collect();
        for report in reports.into_iter().filter(|report| !report.alone) {
            found[report.spot.section.book].push(Shown::new(report, place));
        }
        let open = self.members.iter().zip(found).filter(|(member, _)| member.said.is_some());
        (self.stamp, open.map(|(member, found)| (member.uri.clone(), found)).collect())
    }
}

/// The `.gset` files of folders, read.
pub fn read_folders(folders: &[PathBuf]) -> BTreeMap<PathBuf, Arc<Book>> {
    let files = folders.iter().flat_map(|folder| files::in_folder(folder)).filter_map(Result::ok);
    let read = files.filter_map(|path| {
        let bytes = files::read(&path, MOST_BYTES).ok()?;
        let book = Book::read_bytes(&path.display().to_string(), &bytes);
        Some((path, Arc::new(book)))
    });
    read.collect()
}
