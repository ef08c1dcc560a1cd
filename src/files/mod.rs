//! Which files of a folder are meant, and the one name of each.

use ignore::WalkBuilder;
use std::fs;
use std::path::{Path, PathBuf};

/// The `.gset` files of a folder and of those in it, by name, as far as `.gitignore` does not leave them out; and what
/// could not be read.
pub fn in_folder(folder: &Path) -> impl Iterator<Item = Result<PathBuf, ignore::Error>> + use<> {
    let walk = WalkBuilder::new(folder)
        .follow_links(true)
        .require_git(false)
        .ignore(false)
        .git_global(false)
        .sort_by_file_name(Ord::cmp)
        .build();
    walk.filter_map(|entry| match entry {
        Err(error) => Some(Err(error)),
        Ok(entry) => {
            let is_folder = entry.file_type().is_some_and(|kind| kind.is_dir());
            (is_gset(entry.path()) && !is_folder).then(|| Ok(entry.into_path()))
        }
    })
}

/// The one name of a place, however it is reached; that of the current folder for the empty path.
pub fn canonical(path: &Path) -> PathBuf {
    let path = if path.as_os_str().is_empty() { Path::new(".") } else { path };
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// Whether a file is named as one in the notation.
pub fn is_gset(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("gset"))
}
