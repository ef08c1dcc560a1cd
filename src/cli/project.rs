//! Which project a file belongs to: by the options, or by where it lies.

use super::EVERYWHERE;
use super::input::Source;
use super::terminal::{Trouble, words};
use crate::files::canonical;
use crate::settings::{Problem, Project, Unusable, Way};
use clap::Args;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Which settings to read.
#[derive(Args, Debug, Default)]
pub struct Options {
    /// Read settings from this file, instead of the gridsetter.toml of the nearest folder upward from each file
    #[arg(long, value_name = "FILE", global = true, help_heading = EVERYWHERE, conflicts_with = "no_config")]
    config: Option<PathBuf>,
    /// Read no settings
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    no_config: bool,
}

/// The project of each file.
pub struct Projects {
    way: Way,
    /// Those read so far, by their files of settings.
    read: BTreeMap<PathBuf, Arc<Project>>,
}

impl Projects {
    /// The projects that `options` speak of.
    ///
    /// # Errors
    /// If the one file of settings that they name cannot be used.
    pub fn new(options: &Options) -> Result<Projects, Trouble> {
        let (way, read) = match &options.config {
            Some(file) => (Way::This(file.clone()), [(file.clone(), Arc::new(read(file)?))].into()),
            None if options.no_config => (Way::Nothing, BTreeMap::new()),
            None => (Way::Nearest, BTreeMap::new()),
        };
        Ok(Projects { way, read })
    }

    /// None for any file: where nothing of them matters.
    pub fn none() -> Projects {
        Projects { way: Way::Nothing, read: BTreeMap::new() }
    }

    /// Reads what settings there are again.
    ///
    /// # Errors
    /// If the one file of settings that was named cannot be used any more.
    pub fn read_anew(&mut self) -> Result<(), Trouble> {
        self.read.clear();
        if let Way::This(file) = &self.way {
            self.read.insert(file.clone(), Arc::new(read(file)?));
        }
        Ok(())
    }

    /// How they are found.
    pub fn way(&self) -> &Way {
        &self.way
    }

    /// The project that `source` belongs to, if any.
    ///
    /// # Errors
    /// If its settings cannot be used.
    pub fn of(&mut self, source: &Source) -> Result<Option<Arc<Project>>, Trouble> {
        self.of_folder(source.path.as_deref().and_then(Path::parent).unwrap_or(Path::new("")))
    }

    /// The project that what lies in `folder` belongs to, if any.
    ///
    /// # Errors
    /// If its settings cannot be used.
    pub fn of_folder(&mut self, folder: &Path) -> Result<Option<Arc<Project>>, Trouble> {
        let Some(file) = self.way.file_for(folder) else { return Ok(None) };
        if let Some(project) = self.read.get(&file) {
            return Ok(Some(Arc::clone(project)));
        }
        let project = Arc::new(read(&from_here(&file))?);
        self.read.insert(file, Arc::clone(&project));
        Ok(Some(project))
    }
}

fn read(file: &Path) -> Result<Project, Trouble> {
    let name = file.display();
    Project::read(file).map_err(|unusable| match unusable {
        Unusable::Unread(error) => Trouble::new(name.to_string(), words(&error), "nothing of it was read"),
        Unusable::Elsewhere => {
            let what = "is a link to a file of another name, and was not read";
            Trouble::new(name.to_string(), what, "link to a `gridsetter.toml`, or copy it")
        }
        Unusable::NotText => Trouble::new(name.to_string(), "is not UTF-8 text", "save it as UTF-8"),
        Unusable::Wrong(Problem { line, column, what }) => {
            Trouble::new(format!("{name}:{line}:{column}"), what, "mend it, or give `--no-config`")
        }
    })
}

/// `path` as seen from the current folder, if it lies there or deeper.
fn from_here(path: &Path) -> PathBuf {
    path.strip_prefix(canonical(Path::new(""))).unwrap_or(path).to_owned()
}
