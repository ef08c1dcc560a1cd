//! Staying: doing a thing again whenever a file has changed.

use super::terminal::{Closed, Terminal};
use crate::files::in_folder;
use crate::settings::Way;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, SystemTime};

/// So often the files are looked at. Nobody sees a difference, and it takes next to nothing.
const EVERY: Duration = Duration::from_millis(200);

/// When each file was written, and how long it is; nothing of one that is not there.
type Sight = BTreeMap<PathBuf, Option<(SystemTime, u64)>>;

/// Does it now, and again whenever one of the `.gset` files below these paths, or a file of settings that holds for them, is
/// not as it was. It ends with the process.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more.
pub fn stay(
    paths: &[PathBuf],
    way: &Way,
    terminal: &mut Terminal,
    mut again: impl FnMut(&mut Terminal) -> Result<(), Closed>,
) -> Result<(), Closed> {
    loop {
        // What changes while it is done is seen afterwards.
        let before = sight(paths, way);
        again(terminal)?;
        terminal.flush()?;
        terminal.remark("waiting for a change; Ctrl-C ends");
        while sight(paths, way) == before {
            thread::sleep(EVERY);
        }
    }
}

fn sight(paths: &[PathBuf], way: &Way) -> Sight {
    let below = |path: &PathBuf| {
        if path.is_dir() { in_folder(path).flatten().collect() } else { vec![path.clone()] }
    };
    let files: Vec<PathBuf> = paths.iter().flat_map(below).collect();
    let folders: BTreeSet<&Path> = files.iter().filter_map(|file| file.parent()).collect();
    let settings: Vec<PathBuf> = folders.into_iter().filter_map(|folder| way.file_for(folder)).collect();
    files.into_iter().chain(settings).map(|file| (file.clone(), written(&file))).collect()
}

fn written(file: &Path) -> Option<(SystemTime, u64)> {
    let about = fs::metadata(file).ok()?;
    Some((about.modified().ok()?, about.len()))
}
