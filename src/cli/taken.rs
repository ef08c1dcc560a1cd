//! Files that were not given, and are needed: a `take` names a puzzle of theirs.

use super::input::{Source, Text, below};
use crate::book::{Book, Taken};
use crate::files::canonical;
use crate::settings::Project;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// A file that was given, as far as it matters here.
pub struct Given<'a> {
    /// Where it lies.
    pub path: Option<&'a Path>,
    /// What it says.
    pub book: &'a Book,
    /// The project that it belongs to.
    pub project: Option<&'a Project>,
}

/// A file that is needed.
pub struct Needed {
    /// The file.
    pub source: Source,
    /// Its text.
    pub text: Text,
    /// What it says.
    pub book: Book,
}

/// The files that a `take` of the `given` ones needs, in order of folder and name. Each is looked for in the folder of the
/// project of the book that takes, and below it; one that cannot be read is passed over, and the id stays unknown.
pub fn needed(given: &[Given]) -> Vec<Needed> {
    let takes = |file: &Given| file.project.is_some() && file.book.takes().next().is_some();
    if !given.iter().any(takes) {
        return Vec::new();
    }
    let borne: BTreeSet<&str> = given.iter().flat_map(|file| file.book.ids()).collect();
    let mut wanted: BTreeMap<&Path, Vec<Taken>> = BTreeMap::new();
    for file in given {
        let Some(project) = file.project else { continue };
        // Between two ids there may be others, wherever these two stand.
        let missing = file.book.takes().filter(|taken| taken.is_range() || !borne.contains(taken.first));
        wanted.entry(&project.folder).or_default().extend(missing);
    }
    let mut seen: BTreeSet<PathBuf> = given.iter().filter_map(|file| file.path).map(canonical).collect();
    let mut needed = Vec::new();
    for (folder, wanted) in wanted.iter().filter(|(_, wanted)| !wanted.is_empty()) {
        for source in below(folder) {
            if !source.path.as_deref().is_some_and(|path| seen.insert(canonical(path))) {
                continue;
            }
            let Ok(text) = source.read() else { continue };
            let book = source.book(&text);
            if book.ids().any(|id| wanted.iter().any(|taken| taken.names(id))) {
                needed.push(Needed { source, text, book });
            }
        }
    }
    needed
}
