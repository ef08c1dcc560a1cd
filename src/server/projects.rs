//! The settings of each text: those of its `gridsetter.toml`, as it is on disk.

use crate::settings::{Problem, Project, Settings, Unusable, Way};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Every file of settings that was looked at.
pub struct Projects {
    way: Way,
    /// Where no file says anything.
    usual: Arc<Settings>,
    files: BTreeMap<PathBuf, Known>,
}

/// What is known of a file of settings.
#[derive(Default)]
struct Known {
    /// What it said when it could last be used; the usual settings if it never could.
    settings: Arc<Settings>,
    /// What is wrong with it, as it was told.
    told: Option<String>,
}

impl Projects {
    /// No file was looked at yet.
    pub fn new(way: Way) -> Projects {
        Projects { way, usual: Arc::default(), files: BTreeMap::new() }
    }

    /// The file of settings that holds for what lies in `folder`, if any.
    pub fn file_for(&self, folder: &Path) -> Option<PathBuf> {
        self.way.file_for(folder)
    }

    /// The folder of the project that what lies in `folder` belongs to, if any.
    pub fn folder_of(&self, folder: &Path) -> Option<PathBuf> {
        Some(self.file_for(folder)?.parent()?.to_owned())
    }

    /// What holds for a file in `folder`, read again; and what is wrong with that, if it was not told yet.
    pub fn settings_for(&mut self, folder: &Path) -> (Arc<Settings>, Option<String>) {
        let Some(file) = self.way.file_for(folder) else { return (Arc::clone(&self.usual), None) };
        let read = Project::read(&file);
        let known = self.files.entry(file.clone()).or_default();
        let told = match read {
            // An editor that saves it may have begun with nothing. To set nothing, a comment is enough.
            Ok(project) if project.is_blank && *known.settings != project.settings => {
                Some(until_mended(&format!("{}: nothing stands here", file.display())))
            }
            Ok(project) => {
                // What is the same stays the same, so that nothing is looked at again for it.
                if *known.settings != project.settings {
                    known.settings = Arc::new(project.settings);
                }
                None
            }
            Err(unusable) => Some(trouble(&file, &unusable)),
        };
        let news = told.clone().filter(|_| known.told != told);
        known.told = told;
        (Arc::clone(&known.settings), news)
    }
}

fn trouble(file: &Path, unusable: &Unusable) -> String {
    let name = file.display();
    let what = match unusable {
        Unusable::Unread(error) => format!("{name}: {error}"),
        Unusable::Elsewhere => format!("{name}: this is a link to a file of another name, and is not read"),
        Unusable::NotText => format!("{name}: this is not UTF-8 text"),
        Unusable::Wrong(Problem { line, column, what }) => format!("{name}:{line}:{column}: {what}"),
    };
    until_mended(&what)
}

fn until_mended(what: &str) -> String {
    format!("{what}; what it said before holds until it is mended")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn a_broken_file_is_told_once_and_the_last_good_one_holds() {
        let folder = tempfile::tempdir().unwrap();
        let folder = crate::files::canonical(folder.path());
        fs::create_dir_all(&folder).unwrap();
        let file = folder.join(crate::settings::FILE_NAME);
        let mut projects = Projects::new(Way::Nearest);
        let mut read = |text: &[u8]| {
            fs::write(&file, text).unwrap();
            let (settings, news) = projects.settings_for(&folder);
            (settings.check.skip.clone(), news.map(|news| news.replace(&file.display().to_string(), "FILE")))
        };
        let said = |what: &str| Some(format!("FILE{what}; what it said before holds until it is mended"));
        assert_eq!(
            read(b"[check]\nskp = 1"),
            (vec![], said(":2:1: unknown field `skp`, expected one of `only`, `skip`, `fail-on`"))
        );
        assert_eq!(read(b"[check]\nskip = ['undecided']"), (vec!["undecided"], None));
        assert_eq!(read(b"[check\n"), (vec!["undecided"], said(":1:7: unclosed table, expected `]`")));
        assert_eq!(read(b"[check\n"), (vec!["undecided"], None), "it was told");
        assert_eq!(read(b"\xff"), (vec!["undecided"], said(": this is not UTF-8 text")));
        assert_eq!(read(b" \n"), (vec!["undecided"], said(": nothing stands here")));
        assert_eq!(read(b"# nothing"), (vec![], None));
        assert_eq!(read(b""), (vec![], None), "it is as it was");
        assert_eq!(read(b"\xff"), (vec![], said(": this is not UTF-8 text")), "it was mended meanwhile");
    }
}
