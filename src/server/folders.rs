//! The files that lie in the folders that the client works in, as they are on disk: what was read of them, and what is to be
//! read. Each is kept once, by its one name, however many names and folders it has.

use super::errand::Errand;
use super::shown::Shown;
use super::uris::{place_of, uri_of};
use crate::book::Book;
use crate::files::{self, MOST_BYTES};
use crate::lint::Said;
use crate::settings::Settings;
use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tower_lsp::ls_types::Uri;

/// So many files are read before they are taken up: a few milliseconds of work.
const AT_ONCE: usize = 32;

/// The folders, and the files in them.
#[derive(Default)]
pub struct Folders {
    all: Vec<Folder>,
    files: BTreeMap<PathBuf, Closed>,
    to_walk: BTreeSet<PathBuf>,
    to_read: BTreeSet<PathBuf>,
    /// Somebody is at a chore.
    busy: bool,
    /// How many files were read since there was nothing to read.
    read: usize,
    /// Somebody wanted it not to be read to its end.
    given_up: bool,
}

/// A folder whose files are looked at together.
struct Folder {
    /// As the client calls it.
    name: PathBuf,
    /// Its one name.
    place: PathBuf,
    /// It is here for a file of it that is open, which lies in none of the folders that the client works in.
    lent: bool,
}

/// A file as it is on disk.
pub struct Closed {
    /// Its name in the protocol.
    pub uri: Uri,
    /// What it says.
    pub book: Arc<Book>,
    /// What its project says.
    pub settings: Arc<Settings>,
    /// What there is to say of its sections by themselves, as far as they were looked at; that is done where the client asks
    /// for it.
    pub said: Vec<Arc<Said>>,
    /// What is shown of it, and of which state of all texts.
    pub found: Option<(u64, Vec<Shown>)>,
    /// What tells that from anything else.
    pub mark: u64,
    name: PathBuf,
}

/// Something to read.
pub enum Chore {
    /// Which files a folder has.
    Walk(PathBuf),
    /// These files.
    Read(Vec<PathBuf>),
}

/// What came of a chore.
pub enum Done {
    /// The files of a folder, and whether these are all.
    Walked(PathBuf, Vec<PathBuf>, bool),
    /// Files; `None` for what is none any more.
    Read(Vec<(PathBuf, Option<Book>)>),
}

impl Closed {
    /// The folder in which the client finds it, from which its settings are looked for.
    pub fn folder(&self) -> &Path {
        self.name.parent().unwrap_or(Path::new(""))
    }

    /// Takes up the settings of its project.
    pub fn heed(&mut self, settings: Arc<Settings>) {
        if self.book.ladder != settings.ladder {
            Arc::make_mut(&mut self.book).ladder = Arc::clone(&settings.ladder);
            self.said.clear();
        }
        self.settings = settings;
    }

    /// Whether all its sections are looked at.
    pub fn is_looked_at(&self) -> bool {
        self.said.len() == self.book.tree.sections.len()
    }

    /// The sections that are to be looked at next, at most so many.
    pub fn pending(&self, most: usize) -> std::ops::Range<usize> {
        let done = self.said.len();
        done..self.book.tree.sections.len().min(done + most)
    }
}

impl Chore {
    /// Reads, which may take a while; a folder is walked for `errand`.
    pub fn run(self, errand: &Errand) -> Done {
        match self {
            Chore::Walk(folder) => {
                let files = files::in_folder(&folder).filter_map(Result::ok).enumerate();
                let wanted = files.take_while(|(found, _)| {
                    errand.at(*found, None);
                    !errand.is_called_off()
                });
                let files = wanted.map(|(_, name)| name).collect();
                Done::Walked(folder, files, !errand.is_called_off())
            }
            Chore::Read(files) => {
                let read = |name: &Path| {
                    let bytes = files::read(name, MOST_BYTES).ok()?;
                    // A fault in the program itself costs this file, and nothing else.
                    let read = || Book::read_bytes(&name.display().to_string(), &bytes);
                    catch_unwind(AssertUnwindSafe(read)).ok()
                };
                let read = files.into_iter().map(|name| {
                    let book = read(&name);
                    (name, book)
                });
                Done::Read(read.collect())
            }
        }
    }
}

impl Folders {
    /// Takes up a folder that the client works in.
    pub fn add(&mut self, name: PathBuf) {
        self.insert(name, false);
    }

    /// Takes up these folders for files of them that are open alone, and forgets those that were here for others.
    pub fn lend(&mut self, names: &BTreeSet<PathBuf>) {
        let places: BTreeSet<PathBuf> = names.iter().map(|name| place_of(name)).collect();
        let before = self.all.len();
        self.all.retain(|folder| !folder.lent || places.contains(&folder.place));
        if self.all.len() < before {
            self.forget_what_lies_nowhere();
        }
        let is_new = |name: &&PathBuf| !self.all.iter().any(|folder| folder.place == place_of(name));
        let new: Vec<PathBuf> = names.iter().filter(is_new).cloned().collect();
        for name in new {
            self.insert(name, true);
        }
    }

    fn insert(&mut self, name: PathBuf, lent: bool) {
        let place = place_of(&name);
        match self.all.iter_mut().find(|folder| folder.place == place) {
            Some(known) => known.lent &= lent,
            None => self.all.push(Folder { name: name.clone(), place, lent }),
        }
        self.given_up = false;
        self.to_walk.insert(name);
    }

    /// Forgets a folder that the client worked in.
    pub fn remove(&mut self, name: &Path) {
        let place = place_of(name);
        self.all.retain(|folder| folder.place != place);
        self.forget_what_lies_nowhere();
    }

    fn forget_what_lies_nowhere(&mut self) {
        let all = &self.all;
        let lies = |place: &Path| all.iter().any(|folder| place.starts_with(&folder.place));
        self.files.retain(|place, _| lies(place));
        self.to_walk.retain(|name| lies(&place_of(name)));
        self.to_read.retain(|name| lies(&place_of(name)));
    }

    /// The innermost folder that a file lies in, by the one name of both.
    pub fn of(&self, place: &Path) -> Option<&Path> {
        self.innermost(place).map(|folder| folder.place.as_path())
    }

    /// Whether a file lies in a folder that the client works in.
    pub fn works_in(&self, place: &Path) -> bool {
        self.all.iter().any(|folder| !folder.lent && place.starts_with(&folder.place))
    }

    /// The first folder that the client works in.
    pub fn first(&self) -> Option<&Path> {
        self.all.iter().find(|folder| !folder.lent).map(|folder| folder.name.as_path())
    }

    /// As the client calls them.
    pub fn names(&self) -> impl Iterator<Item = &Path> {
        self.all.iter().map(|folder| folder.name.as_path())
    }

    fn innermost(&self, place: &Path) -> Option<&Folder> {
        let within = self.all.iter().filter(|folder| place.starts_with(&folder.place));
        within.max_by_key(|folder| folder.place.as_os_str().len())
    }

    /// The files, by their one names.
    pub fn files(&self) -> impl Iterator<Item = (&PathBuf, &Closed)> {
        self.files.iter()
    }

    /// The same, to be changed.
    pub fn files_mut(&mut self) -> impl Iterator<Item = (&PathBuf, &mut Closed)> {
        self.files.iter_mut()
    }

    /// A file by its one name.
    pub fn file(&self, place: &Path) -> Option<&Closed> {
        self.files.get(place)
    }

    /// The same, to be changed.
    pub fn file_mut(&mut self, place: &Path) -> Option<&mut Closed> {
        self.files.get_mut(place)
    }

    /// A text that was closed counts as it was until its file is read.
    pub fn put_back(&mut self, name: &Path, place: &Path, book: &Arc<Book>, settings: &Arc<Settings>) {
        if self.files.contains_key(place) {
            self.take_up(name, place.to_owned(), Arc::clone(book), Arc::clone(settings));
        }
        self.happened(name);
    }

    /// Something happened to a file or a folder: it came, changed, or is no more. Of a file that is known only that is read;
    /// otherwise its folder is walked, which tells what is meant to be read in it.
    pub fn happened(&mut self, name: &Path) {
        let place = place_of(name);
        let is_there = name.exists();
        // What was a link is kept by the name of what it led to.
        let by_name = || self.files.values().find(|file| !is_there && file.name == name);
        let known = self.files.get(&place).or_else(by_name);
        if let Some(file) = known {
            self.to_read.insert(file.name.clone());
        }
        if (known.is_none() || !is_there)
            && let Some(folder) = self.innermost(&place)
        {
            self.to_walk.insert(folder.name.clone());
        }
    }

    /// Whether all is read that there is to read.
    pub fn is_read(&self) -> bool {
        self.is_settled() && !self.given_up
    }

    /// Whether nothing more will be read.
    pub fn is_settled(&self) -> bool {
        !self.busy && self.to_walk.is_empty() && self.to_read.is_empty()
    }

    /// Whether somebody wanted it not to be read to its end.
    pub fn is_given_up(&self) -> bool {
        self.given_up
    }

    /// Whether somebody should take up a chore.
    pub fn waits(&self) -> bool {
        !self.busy && !self.is_settled()
    }

    /// What is to be read next, unless somebody is at another chore: one is taken up before the next is begun.
    pub fn next_chore(&mut self) -> Option<Chore> {
        if self.busy {
            return None;
        }
        let chore = if let Some(folder) = self.to_walk.pop_first() {
            Chore::Walk(folder)
        } else {
            let files: Vec<PathBuf> = std::iter::from_fn(|| self.to_read.pop_first()).take(AT_ONCE).collect();
            if files.is_empty() {
                self.read = 0;
                return None;
            }
            Chore::Read(files)
        };
        self.busy = true;
        Some(chore)
    }

    /// How many files were read so far, of how many.
    pub fn progress(&self) -> (usize, usize) {
        (self.read, self.read + self.to_read.len())
    }

    /// Reads no more. What takes several files is then not told, since some of them are not known.
    pub fn give_up(&mut self) {
        self.to_walk.clear();
        self.to_read.clear();
        self.given_up = true;
    }

    /// Takes up what came of a chore; `settings` tells what holds in which folder. Tells which files are others now.
    pub fn take(&mut self, done: Done, settings: &BTreeMap<PathBuf, Arc<Settings>>) -> Vec<PathBuf> {
        self.busy = false;
        match done {
            Done::Walked(folder, found, whole) => {
                let walked = place_of(&folder);
                let found: BTreeMap<PathBuf, PathBuf> =
                    found.into_iter().map(|name| (place_of(&name), name)).collect();
                let is_gone = |place: &&PathBuf| {
                    whole && self.of(place) == Some(&walked) && !found.contains_key(place.as_path())
                };
                let gone: Vec<PathBuf> = self.files.keys().filter(is_gone).cloned().collect();
                for place in &gone {
                    self.files.remove(place);
                }
                let new = found.into_iter().filter(|(place, _)| !self.files.contains_key(place));
                let new: Vec<PathBuf> = new.map(|(_, name)| name).collect();
                self.to_read.extend(new);
                gone
            }
            Done::Read(read) => {
                self.read += read.len();
                let take_up = |(name, book): (PathBuf, Option<Book>)| {
                    let place = place_of(&name);
                    // What leads out of the folder is not its own.
                    match book.filter(|_| self.innermost(&place).is_some()) {
                        Some(book) => {
                            let settings = name.parent().and_then(|folder| settings.get(folder));
                            let settings = settings.cloned().unwrap_or_default();
                            let book = book.with_ladder(Arc::clone(&settings.ladder));
                            self.take_up(&name, place.clone(), Arc::new(book), settings);
                        }
                        None => self.files.retain(|at, file| *at != place && file.name != name),
                    }
                    place
                };
                read.into_iter().map(take_up).collect()
            }
        }
    }

    fn take_up(&mut self, name: &Path, place: PathBuf, book: Arc<Book>, settings: Arc<Settings>) {
        let Some(uri) = uri_of(name) else { return };
        let (said, found, mark, name) = (Vec::new(), None, 0, name.to_owned());
        self.files.insert(place, Closed { uri, book, settings, said, found, mark, name });
    }
}
