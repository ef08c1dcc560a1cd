//! Which files of a folder are meant, the one name of each, and reading them.

mod folder;
mod read;

pub use folder::{Unwalked, in_folder};
pub use read::{MOST_BYTES, read, read_from};

use std::fs;
use std::path::{Path, PathBuf};

/// The one name of a place, however it is reached; that of the current folder for the empty path.
pub fn canonical(path: &Path) -> PathBuf {
    let path = if path.as_os_str().is_empty() { Path::new(".") } else { path };
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// Whether a file is named as one in the notation.
pub fn is_gset(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("gset"))
}
