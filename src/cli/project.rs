//! Which settings hold for a file, and the folder in which the rest of its workspace lies.

use super::EVERYWHERE;
use super::input::{Source, canonical};
use super::terminal::Trouble;
use crate::settings::{self, Settings};
use clap::Args;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// Which settings to read.
#[derive(Args, Debug)]
pub struct Options {
    /// Read settings from this file, instead of the gridsetter.toml of the nearest folder upward from each file
    #[arg(long, value_name = "FILE", global = true, help_heading = EVERYWHERE, conflicts_with = "no_config")]
    config: Option<PathBuf>,
    /// Read no settings
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    no_config: bool,
}

/// A folder with a file of settings.
#[derive(Debug)]
pub struct Project {
    /// The folder; files that a `take` needs are looked for below it.
    pub folder: PathBuf,
    /// What its file says.
    pub settings: Settings,
}

/// The project of each file.
pub struct Projects {
    way: Way,
    /// Those read so far, by their files of settings.
    read: BTreeMap<PathBuf, Rc<Project>>,
}

/// How the project of a file is found.
enum Way {
    /// Upward from the file.
    Nearest,
    /// It is this one for every file.
    This(Rc<Project>),
    /// No file has one.
    Nothing,
}

impl Projects {
    /// The projects that `options` speak of.
    ///
    /// # Errors
    /// If the one file of settings that they name cannot be used.
    pub fn new(options: &Options) -> Result<Projects, Trouble> {
        let way = match &options.config {
            Some(file) => Way::This(Rc::new(Project::read(file)?)),
            None if options.no_config => Way::Nothing,
            None => Way::Nearest,
        };
        Ok(Projects { way, read: BTreeMap::new() })
    }

    /// The project that `source` belongs to, if any.
    ///
    /// # Errors
    /// If its settings cannot be used.
    pub fn of(&mut self, source: &Source) -> Result<Option<Rc<Project>>, Trouble> {
        match &self.way {
            Way::This(project) => return Ok(Some(Rc::clone(project))),
            Way::Nothing => return Ok(None),
            Way::Nearest => {}
        }
        let folder = source.path.as_deref().and_then(Path::parent).unwrap_or(Path::new(""));
        let Some(file) = settings::nearest(&canonical(folder)) else { return Ok(None) };
        if let Some(project) = self.read.get(&file) {
            return Ok(Some(Rc::clone(project)));
        }
        let project = Rc::new(Project::read(&from_here(&file))?);
        self.read.insert(file, Rc::clone(&project));
        Ok(Some(project))
    }
}

impl Project {
    fn read(file: &Path) -> Result<Project, Trouble> {
        let name = file.display().to_string();
        let source = Source { name: name.clone(), path: Some(file.to_owned()), list: false };
        let text = String::from_utf8(source.read()?.bytes)
            .map_err(|_| Trouble::new(&name, "is not UTF-8 text", "save it as UTF-8"))?;
        let settings = Settings::read(&text).map_err(|problem| {
            let place = format!("{name}:{}:{}", problem.line, problem.column);
            Trouble::new(place, problem.what, "mend it, or give `--no-config`")
        })?;
        Ok(Project { folder: file.parent().unwrap_or(Path::new("")).to_owned(), settings })
    }
}

/// `path` as seen from the current folder, if it lies there or deeper.
fn from_here(path: &Path) -> PathBuf {
    path.strip_prefix(canonical(Path::new(""))).unwrap_or(path).to_owned()
}
