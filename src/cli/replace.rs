//! Replacing a file so that it is at every moment either the old one or the new one.

use super::terminal::{Trouble, words};
use std::fs::{self, File, Metadata};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Replaces files, one at a time, and can be told to give up from another thread.
#[derive(Clone, Default)]
pub struct Replacer(Arc<Mutex<Option<PathBuf>>>);

impl Replacer {
    /// Puts `new` in the place of the file at `path`, which held `old` when it was read. A link stays a link, and
    /// permissions stay.
    ///
    /// # Errors
    /// If the file is read-only or has changed since, or if the system refuses: then nothing of it has changed.
    pub fn replace(&self, name: &str, path: &Path, old: &[u8], new: &[u8]) -> Result<(), Trouble> {
        let trouble = |error: &io::Error| {
            Trouble::new(
                name,
                format!("cannot be replaced: {}", words(error)),
                "it is as it was; make room or rights",
            )
        };
        let target = fs::canonicalize(path).map_err(|error| trouble(&error))?;
        let about = fs::metadata(&target).map_err(|error| trouble(&error))?;
        if about.permissions().readonly() {
            return Err(Trouble::new(
                name,
                "is read-only",
                "it is as it was; make it writable if it may change",
            ));
        }
        if fs::read(&target).map_err(|error| trouble(&error))? != old {
            return Err(Trouble::new(
                name,
                "has changed since it was read",
                "it is as it is now; run this again",
            ));
        }
        self.write(&target, new, Some(&about)).map_err(|error| trouble(&error))
    }

    /// Puts `new` at `path`, whether or not a file is there; a file that is there keeps its permissions.
    ///
    /// # Errors
    /// If the system refuses: then what was there is as it was.
    pub fn put(&self, path: &Path, new: &[u8]) -> Result<(), Trouble> {
        let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        self.write(&target, new, fs::metadata(&target).ok().as_ref()).map_err(|error| {
            let what = format!("cannot be written: {}", words(&error));
            Trouble::new(path.display().to_string(), what, "name another place, or make room or rights")
        })
    }

    /// Removes what is half written, if anything is, and keeps everything else from being written. Only to be called
    /// right before the process ends.
    pub fn give_up(&self) -> MutexGuard<'_, Option<PathBuf>> {
        let mut unfinished = self.unfinished();
        if let Some(path) = unfinished.take() {
            let _ = fs::remove_file(path);
        }
        unfinished
    }

    /// `about` is the file that is there, if one is.
    fn write(&self, target: &Path, new: &[u8], about: Option<&Metadata>) -> io::Result<()> {
        let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
        let folder = folder.unwrap_or(Path::new("."));
        let (mut file, beside) = {
            let mut unfinished = self.unfinished();
            let mut builder = tempfile::Builder::new();
            let file = for_everyone(builder.prefix(".gridsetter-"), about).tempfile_in(folder)?;
            *unfinished = Some(file.path().to_owned());
            file.into_parts()
        };
        let written = file
            .write_all(new)
            .and_then(|()| match about {
                Some(about) => {
                    keep_owner(&file, about);
                    file.set_permissions(about.permissions())
                }
                None => Ok(()),
            })
            .and_then(|()| file.sync_all());
        let mut unfinished = self.unfinished();
        *unfinished = None;
        written?;
        beside.persist(target).map_err(|refused| refused.error)?;
        sync_folder(folder);
        Ok(())
    }

    fn unfinished(&self) -> MutexGuard<'_, Option<PathBuf>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A file that was not there gets the permissions that files usually get; until it has its old ones, nobody else reads it.
#[cfg(unix)]
fn for_everyone<'a, 'b, 'c>(
    builder: &'c mut tempfile::Builder<'a, 'b>,
    about: Option<&Metadata>,
) -> &'c mut tempfile::Builder<'a, 'b> {
    use std::os::unix::fs::PermissionsExt as _;
    match about {
        Some(_) => builder,
        None => builder.permissions(fs::Permissions::from_mode(0o666)), // less what the system's mask takes away
    }
}

#[cfg(not(unix))]
fn for_everyone<'a, 'b, 'c>(
    builder: &'c mut tempfile::Builder<'a, 'b>,
    _: Option<&Metadata>,
) -> &'c mut tempfile::Builder<'a, 'b> {
    builder
}

/// A file belongs to whoever writes it; the new one is given to whom the old one belonged to, where the system allows it.
#[cfg(unix)]
fn keep_owner(file: &File, about: &Metadata) {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    let _ = fchown(file, Some(about.uid()), Some(about.gid()));
}

#[cfg(not(unix))]
fn keep_owner(_: &File, _: &Metadata) {}

/// Makes the new name last. Not every file system can, and the file itself is safe by now.
fn sync_folder(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_only_as_it_was_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.gset");
        fs::write(&path, "old").unwrap();
        let replacer = Replacer::default();
        replacer.replace("a.gset", &path, b"old", b"new").unwrap();
        let trouble = replacer.replace("a.gset", &path, b"old", b"newer").unwrap_err();
        assert!(trouble.to_string().contains("has changed since it was read"));
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn links_and_permissions_stay() {
        use std::os::unix::fs::{PermissionsExt as _, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a.gset"), folder.path().join("link.gset"));
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o604)).unwrap();
        symlink("a.gset", &link).unwrap();
        Replacer::default().replace("link.gset", &link, b"old", b"new").unwrap();
        assert_eq!(fs::read_link(&link).unwrap(), Path::new("a.gset"));
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o604);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        assert!(Replacer::default().replace("a.gset", &path, b"new", b"newer").is_err());
    }
}
