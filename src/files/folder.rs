//! The files of a folder. A folder may come from anyone, a stranger's proposed change among them: a link in it must not
//! lead to what lies elsewhere, and no file that only says what to leave out may hold up the walk.

use super::{canonical, is_gset};
use ignore::{DirEntry, WalkBuilder};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::{fmt, fs};

/// No `.gitignore` above this many bytes is read.
const MOST_BYTES_OF_IGNORED: u64 = 1 << 20;

/// What of a folder is not walked.
#[derive(Debug)]
pub enum Unwalked {
    /// A link to what lies outside the folder.
    LeadsOut(PathBuf),
    /// A folder whose `.gitignore` is a link or no file, or too large.
    Ignoring(PathBuf),
    /// What could not be read.
    Failed(ignore::Error),
}

impl fmt::Display for Unwalked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unwalked::LeadsOut(link) => write!(f, "{} leads out of the folder", link.display()),
            Unwalked::Ignoring(folder) => {
                write!(f, "the .gitignore of {} is no plain file of at most 1 MiB", folder.display())
            }
            Unwalked::Failed(error) => error.fmt(f),
        }
    }
}

/// The `.gset` files of a folder and of those in it, by name, as far as `.gitignore` does not leave them out; and what
/// is not walked.
pub fn in_folder(folder: &Path) -> impl Iterator<Item = Result<PathBuf, Unwalked>> + use<> {
    let root = canonical(folder);
    let unusable = root.ancestors().find(|above| !has_usable_ignores(above)).map(Path::to_owned);
    let passed_over = Arc::new(Mutex::new(Vec::new()));
    let files = unusable.is_none().then(|| walk(folder, root, &passed_over));
    let files = files.into_iter().flatten().flat_map(move |file| {
        let passed_over = std::mem::take(&mut *passed_over.lock().unwrap_or_else(PoisonError::into_inner));
        passed_over.into_iter().map(Err).chain(file.transpose())
    });
    unusable.map(|above| Err(Unwalked::Ignoring(above))).into_iter().chain(files)
}

/// Walks a folder; `None` for what is no file in the notation, and once more at the end.
fn walk(
    folder: &Path,
    root: PathBuf,
    passed_over: &Arc<Mutex<Vec<Unwalked>>>,
) -> impl Iterator<Item = Result<Option<PathBuf>, Unwalked>> + use<> {
    let passed_over = Arc::clone(passed_over);
    let enter = move |entry: &DirEntry| {
        let wrong = if leads_out(entry, &root) {
            Unwalked::LeadsOut(entry.path().to_owned())
        } else if is_folder(entry) && !has_usable_ignores(entry.path()) {
            Unwalked::Ignoring(entry.path().to_owned())
        } else {
            return true;
        };
        passed_over.lock().unwrap_or_else(PoisonError::into_inner).push(wrong);
        false
    };
    let walk = WalkBuilder::new(folder)
        .follow_links(true)
        .require_git(false)
        .ignore(false)
        .git_global(false)
        .sort_by_file_name(Ord::cmp)
        .filter_entry(enter)
        .build();
    let files = walk.map(|entry| {
        let entry = entry.map_err(Unwalked::Failed)?;
        Ok((is_gset(entry.path()) && !is_folder(&entry)).then(|| entry.into_path()))
    });
    files.chain([Ok(None)])
}

fn is_folder(entry: &DirEntry) -> bool {
    entry.file_type().is_some_and(|kind| kind.is_dir())
}

/// Whether an entry that would be walked is a link to what lies outside `root`. A link to nowhere is another matter.
fn leads_out(entry: &DirEntry, root: &Path) -> bool {
    entry.path_is_symlink()
        && (is_folder(entry) || is_gset(entry.path()))
        && fs::canonicalize(entry.path()).is_ok_and(|target| !target.starts_with(root))
}

/// Whether a folder has no `.gitignore`, or one that can be read without harm.
fn has_usable_ignores(folder: &Path) -> bool {
    fs::symlink_metadata(folder.join(".gitignore"))
        .map_or(true, |about| about.is_file() && about.len() <= MOST_BYTES_OF_IGNORED)
}
