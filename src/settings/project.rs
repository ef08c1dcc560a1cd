//! A folder with a file of settings, and how it is found.

use super::{FILE_NAME, Problem, Settings, nearest};
use crate::files::{self, canonical};
use std::io;
use std::path::{Path, PathBuf};

/// No settings above this many bytes are read.
const MOST_BYTES: u64 = 1 << 20;

/// A folder with a file of settings.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Project {
    /// The folder; files that a `take` needs are looked for below it.
    pub folder: PathBuf,
    /// What its file says.
    pub settings: Settings,
    /// Nothing at all stands there: somebody may be at its beginning.
    pub is_blank: bool,
}

/// How the file of settings is found that holds for a folder.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Way {
    /// Upward from the folder.
    Nearest,
    /// It is this one for every folder.
    This(PathBuf),
    /// There is none for any.
    Nothing,
}

impl Way {
    /// The file of settings for what lies in `folder`.
    pub fn file_for(&self, folder: &Path) -> Option<PathBuf> {
        match self {
            Way::Nearest => nearest(folder),
            Way::This(file) => Some(file.clone()),
            Way::Nothing => None,
        }
    }
}

/// Why a file of settings cannot be used.
#[derive(Debug)]
pub enum Unusable {
    /// It cannot be read.
    Unread(io::Error),
    /// It is a link to a file of another name: what stands there need not be settings, and is told to nobody.
    Elsewhere,
    /// It is not UTF-8.
    NotText,
    /// It is not TOML, or says what cannot be set.
    Wrong(Problem),
}

impl Project {
    /// Reads the file of settings of a folder.
    ///
    /// # Errors
    /// If it cannot be used.
    pub fn read(file: &Path) -> Result<Project, Unusable> {
        let is_settings = |path: &Path| path.file_name().is_some_and(|name| name == FILE_NAME);
        if is_settings(file) && !is_settings(&canonical(file)) {
            return Err(Unusable::Elsewhere);
        }
        let bytes = files::read(file, MOST_BYTES).map_err(Unusable::Unread)?;
        let text = String::from_utf8(bytes).map_err(|_| Unusable::NotText)?;
        let settings = Settings::read(&text).map_err(Unusable::Wrong)?;
        let folder = file.parent().unwrap_or(Path::new("")).to_owned();
        Ok(Project { folder, settings, is_blank: text.trim().is_empty() })
    }
}
