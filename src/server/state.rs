//! The one owner of all that the server knows: open texts, the other files of the workspace, settings.

use super::convert::Encoding;
use super::document::Document;
use super::errand::Errand;
use super::folders::{Closed, Done, Folders};
use super::outbox::Outbox;
use super::projects::Projects;
use super::pull::Pulls;
use super::settings::Settings;
use super::uris::{file_of, is_same, place_of};
use crate::book::Book;
use crate::files;
use crate::settings::{self, Settings as ProjectSettings, Way};
use serde_json::json;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};
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
    pub folders: Folders,
    /// What the client asks for rather than be told of it.
    pub pulls: Pulls,
    pub(super) projects: Projects,
    pub(super) documents: BTreeMap<Uri, Document>,
    /// Grows with each change of a text: what was found before is then not taken up. It begins where no other session did.
    pub(super) stamp: u64,
    pub(super) outbox: Outbox,
    /// The files beside the text that somebody asked about last, as they were at some stamp: many ask about one.
    beside: RefCell<Option<(u64, Uri, Files)>>,
}

/// Files, each with its name.
pub type Files = Arc<[(Uri, Arc<Book>)]>;

/// A text as it was when a request came, for an answer that takes longer.
pub struct Snapshot {
    /// Its name.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
    /// The text, read.
    pub book: Arc<Book>,
    /// The other files that are looked at together with it, each with its name.
    pub others: Files,
    /// What columns count.
    pub encoding: Encoding,
    /// What the client wants.
    pub settings: Settings,
    /// Whether these are all of them: none is still to be read.
    pub is_whole: bool,
    /// What the project of the text says.
    pub project: Arc<ProjectSettings>,
    /// For whom the answer is worked out, who may not want it any more.
    pub errand: Errand,
}

impl State {
    /// Nothing is known yet.
    pub fn new(way: Way, outbox: Outbox) -> State {
        let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        let stamp = u64::try_from(since.as_nanos()).unwrap_or_default();
        State {
            encoding: Encoding::default(),
            settings: Settings::default(),
            folders: Folders::default(),
            pulls: Pulls::default(),
            projects: Projects::new(way),
            documents: BTreeMap::new(),
            stamp,
            outbox,
            beside: RefCell::default(),
        }
    }

    /// Takes up a text that was opened.
    pub fn open(&mut self, item: TextDocumentItem) {
        self.read_settings();
        let older = self.known_as(&item.uri).and_then(|known| self.documents.remove(&known));
        if let Some(older) = older.filter(|older| older.uri != item.uri) {
            self.pulls.forget(&older, &self.outbox);
        }
        self.pulls.is_called(&item.uri);
        let folder = self.project_folder(file_of(&item.uri).as_deref());
        let settings = self.settings_for(&folder);
        self.changed();
        let (version, encoding) = (item.version, self.encoding);
        let document = Document::open(item.uri, version, item.text, settings, encoding, self.stamp);
        self.pulls.tell(&document, self.settings.spoil(), &self.outbox);
        self.documents.insert(document.uri.clone(), document);
        self.lend_folders();
    }

    /// A file that is open alone, in none of the client's folders, is looked at together with the files of its project, as
    /// on the command line.
    pub fn lend_folders(&mut self) {
        let files = self.documents.values().filter_map(|it| it.path.as_deref().zip(it.place.as_deref()));
        let alone = files.filter(|(_, place)| !self.folders.works_in(place));
        let project = |(path, place): (&Path, &Path)| {
            let folder = self.projects.folder_of(path.parent()?)?;
            place.starts_with(place_of(&folder)).then_some(folder)
        };
        let wanted = alone.filter_map(project).collect();
        self.folders.lend(&wanted);
        *self.beside.get_mut() = None;
    }

    /// Takes up changes of a text. A text that was never opened is not known, and stays so.
    pub fn change(&mut self, params: DidChangeTextDocumentParams) {
        let VersionedTextDocumentIdentifier { uri, version } = params.text_document;
        let Some(uri) = self.known_as(&uri) else { return };
        self.changed();
        let Some(document) = self.documents.get_mut(&uri) else { return };
        document.change(version, params.content_changes, self.encoding);
        self.pulls.tell(document, self.settings.spoil(), &self.outbox);
    }

    /// Forgets a text that was closed: from now on its file counts. Nothing is shown of it any more.
    pub fn close(&mut self, uri: &Uri) {
        let Some(document) = self.known_as(uri).and_then(|uri| self.documents.remove(&uri)) else { return };
        self.pulls.forget(&document, &self.outbox);
        if let Some((path, place)) = document.path.as_deref().zip(document.place.as_deref()) {
            self.folders.put_back(path, place, &document.book, &document.settings);
        }
        if self.pulls.is_waited_for() {
            self.want_all();
        }
        self.lend_folders();
        self.changed();
    }

    /// Something happened to these files or folders: they came, changed, or are no more.
    pub fn happened<'a>(&mut self, names: impl IntoIterator<Item = &'a Uri>) {
        let files: BTreeSet<PathBuf> = names.into_iter().filter_map(file_of).collect();
        let is_settings = |file: &Path| file.file_name().is_some_and(|name| name == settings::FILE_NAME);
        for file in files.iter().filter(|file| !is_settings(file)) {
            self.folders.happened(file);
        }
        // A folder may bring settings with it.
        if files.iter().any(|file| !files::is_gset(file)) {
            self.read_settings();
        }
    }

    /// Takes up what was read of the folders.
    pub fn take_files(&mut self, done: Done) {
        let folders = match &done {
            Done::Read(read) => read.iter().filter_map(|(name, _)| name.parent()).collect(),
            Done::Walked(..) => BTreeSet::new(),
        };
        let settings: BTreeMap<PathBuf, Arc<ProjectSettings>> =
            folders.into_iter().map(|folder| (folder.to_owned(), self.settings_for(folder))).collect();
        let others = self.folders.take(done, &settings);
        let is_open = |place: &PathBuf| self.documents.values().any(|it| it.place.as_ref() == Some(place));
        // Of an open text it does not matter what its file says.
        if !others.iter().all(is_open) {
            self.changed();
        }
    }

    /// Reads the files of settings again, and shows again each text for which another one holds, or one that has changed.
    pub fn read_settings(&mut self) {
        let folders: Vec<(Uri, PathBuf)> = self
            .documents
            .values()
            .map(|document| (document.uri.clone(), self.project_folder(document.path.as_deref())))
            .collect();
        let settings = self.settings_of(folders.iter().map(|(_, folder)| folder.clone()).collect());
        for (uri, folder) in folders {
            let Some(document) = self.documents.get_mut(&uri) else { continue };
            if document.heed(Arc::clone(&settings[&folder]), self.encoding) {
                self.pulls.tell(document, self.settings.spoil(), &self.outbox);
                self.changed();
            }
        }
        if self.pulls.wants_all {
            self.read_settings_of_closed();
        }
        self.lend_folders();
    }

    /// The same for the files that are not open.
    pub(super) fn read_settings_of_closed(&mut self) {
        let settings =
            self.settings_of(self.folders.files().map(|(_, file)| file.folder().to_owned()).collect());
        for (_, file) in self.folders.files_mut() {
            if let Some(settings) = settings.get(file.folder()).filter(|it| **it != file.settings) {
                file.heed(Arc::clone(settings));
                self.stamp += 1;
            }
        }
    }

    /// The settings for what lies in these folders, each looked for once.
    fn settings_of(&mut self, folders: BTreeSet<PathBuf>) -> BTreeMap<PathBuf, Arc<ProjectSettings>> {
        let settings = folders.into_iter().map(|folder| (self.settings_for(&folder), folder));
        settings.map(|(settings, folder)| (folder, settings)).collect()
    }

    /// The files of settings that hold for the folders and for the open texts.
    pub fn settings_files(&self) -> BTreeSet<PathBuf> {
        let texts = self.documents.values().map(|document| self.project_folder(document.path.as_deref()));
        let folders: BTreeSet<PathBuf> = self.folders.names().map(Path::to_owned).chain(texts).collect();
        folders.iter().filter_map(|folder| self.projects.file_for(folder)).collect()
    }

    /// The folder from which the settings of a file are looked for; a text that is no file belongs to the first folder that
    /// the client works in.
    fn project_folder(&self, path: Option<&Path>) -> PathBuf {
        let folder = path.and_then(Path::parent).or(self.folders.first());
        folder.unwrap_or(Path::new("")).to_owned()
    }

    /// The settings for what lies in a folder; what is newly wrong with them is told.
    pub(super) fn settings_for(&mut self, folder: &Path) -> Arc<ProjectSettings> {
        let (settings, trouble) = self.projects.settings_for(folder);
        if let Some(message) = trouble {
            let params = json!({"type": MessageType::WARNING, "message": message});
            let told = Request::build("window/showMessage").params(params).finish();
            self.outbox.send_newest(&message, &told);
        }
        settings
    }

    /// Shows everything again: the client wants it otherwise.
    pub fn publish_all(&mut self) {
        for document in self.documents.values_mut() {
            document.choose_anew();
            self.pulls.tell(document, self.settings.spoil(), &self.outbox);
        }
        // What is shown of closed files is chosen when they are looked at together.
        self.stamp += 1;
    }

    /// What takes more than one section to find is not known any more.
    pub fn changed(&mut self) {
        self.stamp += 1;
        // Whoever changes a book copies it if somebody has it.
        *self.beside.get_mut() = None;
        self.documents.values_mut().for_each(|document| document.beyond = None);
    }

    /// What the client called a text when it opened it, however it calls it now.
    pub(super) fn known_as(&self, uri: &Uri) -> Option<Uri> {
        if self.documents.contains_key(uri) {
            return Some(uri.clone());
        }
        self.documents.keys().find(|known| is_same(known, uri)).cloned()
    }

    /// A text with what is known of it.
    pub fn document(&self, uri: &Uri) -> Option<&Document> {
        self.documents.get(uri).or_else(|| self.documents.get(&self.known_as(uri)?))
    }

    /// The text as it is now, for an answer that takes longer.
    pub fn snapshot(&self, uri: &Uri) -> Option<Snapshot> {
        let document = self.document(uri)?;
        let is_alone = document.place.as_deref().is_none_or(|place| self.folders.of(place).is_none());
        Some(Snapshot {
            is_whole: is_alone || self.folders.is_read(),
            uri: document.uri.clone(),
            version: document.version,
            book: Arc::clone(&document.book),
            others: self.beside(document),
            encoding: self.encoding,
            settings: self.settings.clone(),
            project: Arc::clone(&document.settings),
            errand: Errand::quiet(),
        })
    }

    /// The other files that are looked at together with a text.
    fn beside(&self, document: &Document) -> Files {
        let mut known = self.beside.borrow_mut();
        if let Some((stamp, uri, files)) = &*known
            && (*stamp, uri) == (self.stamp, &document.uri)
        {
            return Arc::clone(files);
        }
        let (open, closed) = self.together_with(document);
        let open = open.skip(1).map(|other| (other.uri.clone(), Arc::clone(&other.book)));
        let closed = closed.map(|(_, file)| (file.uri.clone(), Arc::clone(&file.book)));
        let files: Files = open.chain(closed).collect();
        *known = Some((self.stamp, document.uri.clone(), Arc::clone(&files)));
        files
    }

    /// Every file of the folders and every open text, each once.
    pub fn all_files(&self) -> Vec<(Uri, Arc<Book>)> {
        let open = self.documents.values().map(|document| (document.uri.clone(), Arc::clone(&document.book)));
        let closed = self.closed_files().map(|(_, file)| (file.uri.clone(), Arc::clone(&file.book)));
        open.chain(closed).collect()
    }

    /// The files of the folders that are not open under any name.
    pub(super) fn closed_files(&self) -> impl Iterator<Item = (&PathBuf, &Closed)> {
        let open: BTreeSet<&Path> = self.documents.values().filter_map(|it| it.place.as_deref()).collect();
        self.folders.files().filter(move |(place, _)| !open.contains(place.as_path()))
    }

    /// The open texts that are looked at together with one, which comes first, and the files. One file counts once, whatever
    /// it is called.
    pub(super) fn together_with<'a>(
        &'a self,
        first: &'a Document,
    ) -> (impl Iterator<Item = &'a Document>, impl Iterator<Item = (&'a PathBuf, &'a Closed)>) {
        let folder = first.place.as_deref().and_then(|place| self.folders.of(place));
        let open = self.open_in(folder, first.place.as_deref()).filter(|other| other.uri != first.uri);
        (std::iter::once(first).chain(open), self.closed_in(folder))
    }

    /// The open texts of a folder, each file once; but those of the file `known`.
    pub(super) fn open_in<'a>(
        &'a self,
        folder: Option<&'a Path>,
        known: Option<&'a Path>,
    ) -> impl Iterator<Item = &'a Document> {
        let mut once: BTreeSet<&Path> = known.into_iter().collect();
        self.documents.values().filter(move |document| {
            document.place.as_deref().is_some_and(|place| self.is_in(place, folder) && once.insert(place))
        })
    }

    /// The files of a folder that are not open.
    pub(super) fn closed_in<'a>(
        &'a self,
        folder: Option<&'a Path>,
    ) -> impl Iterator<Item = (&'a PathBuf, &'a Closed)> {
        let none = folder.is_none();
        let files = (!none).then(|| self.closed_files()).into_iter().flatten();
        files.filter(move |(place, _)| self.is_in(place, folder))
    }

    fn is_in(&self, place: &Path, folder: Option<&Path>) -> bool {
        folder.is_some() && self.folders.of(place) == folder
    }
}

#[cfg(test)]
mod tests {
    use super::super::output::written::Written;
    use super::*;
    use std::str::FromStr;
    use tower_lsp::ls_types::TextDocumentContentChangeEvent;

    #[test]
    fn a_change_copies_no_book_that_is_kept_beside_another() {
        let mut state = State::new(Way::Nothing, Outbox::new(Written::default(), || {}));
        let uri = Uri::from_str("untitled:a").unwrap();
        state.open(TextDocumentItem::new(uri.clone(), "gridsetter".into(), 1, "puzzle a\n".into()));
        let kept = Arc::clone(&state.documents[&uri].book);
        let book = Arc::as_ptr(&kept);
        let other = Uri::from_str("untitled:b").unwrap();
        *state.beside.get_mut() = Some((state.stamp, other, [(uri.clone(), kept)].into()));
        let change =
            TextDocumentContentChangeEvent { range: None, range_length: None, text: "puzzle b\n".into() };
        let text_document = VersionedTextDocumentIdentifier { uri: uri.clone(), version: 2 };
        state.change(DidChangeTextDocumentParams { text_document, content_changes: vec![change] });
        assert_eq!(Arc::as_ptr(&state.documents[&uri].book), book);
    }
}
