//! Which files a command reads, and reading them.

use super::terminal::{Terminal, Trouble, words};
use crate::book::Book;
use crate::files::{MOST_BYTES, Unwalked, canonical, in_folder, is_gset, read, read_from};
use clap::Args;
use std::collections::HashSet;
use std::fs::{self, FileType};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What to read.
#[derive(Args, Clone, Debug)]
pub struct Inputs {
    /// Files, or folders whose .gset files are taken; `-` is standard input
    ///
    /// A file of another name is a list: one puzzle a line, one symbol a cell, `.` or `0` where it is empty; what
    /// follows after a blank is the puzzle's id.
    #[arg(required = true, value_name = "PATHS")]
    pub paths: Vec<PathBuf>,
    /// Call standard input by this name
    #[arg(long, value_name = "NAME")]
    pub stdin_name: Option<String>,
    /// Read standard input as a list, one puzzle a line
    #[arg(long)]
    pub list: bool,
}

/// A file to read, or standard input.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Source {
    /// What people call it.
    pub name: String,
    /// Where it lies; `None` for standard input.
    pub path: Option<PathBuf>,
    /// Whether it is a list.
    pub list: bool,
}

/// What was read of a [`Source`].
pub enum Text {
    /// It is UTF-8: nothing else is ever written back. A book that is read of it shares it.
    Utf8(Arc<String>),
    /// It is not, or not throughout.
    Other(Vec<u8>),
}

impl Text {
    /// As it was read, to the byte.
    pub fn bytes(&self) -> &[u8] {
        match self {
            Text::Utf8(text) => text.as_bytes(),
            Text::Other(bytes) => bytes,
        }
    }
}

impl Inputs {
    /// Whether standard input is among them.
    pub fn has_stdin(&self) -> bool {
        self.paths.iter().any(|path| is_stdin(path))
    }

    /// The files that are meant, each once, in the order given; those of a folder by name. What is no file is said.
    pub fn sources(&self, terminal: &mut Terminal) -> Vec<Source> {
        let mut found = Found { terminal, sources: Vec::new(), seen: HashSet::new() };
        let has_stdin = self.has_stdin();
        for (given, option) in [(self.stdin_name.is_some(), "--stdin-name"), (self.list, "--list")] {
            if given && !has_stdin {
                let what = "says something of standard input, and that is not read";
                found.terminal.trouble(&Trouble::new(option, what, "add `-` to the paths, or leave it out"));
            }
        }
        for path in &self.paths {
            if is_stdin(path) {
                let name = self.stdin_name.clone().unwrap_or_else(|| "<stdin>".to_owned());
                if found.sources.iter().all(|source| source.path.is_some()) {
                    found.sources.push(Source { name, path: None, list: self.list });
                }
            } else {
                found.add_path(path);
            }
        }
        found.sources
    }
}

impl Source {
    /// Reads all of it.
    ///
    /// # Errors
    /// If it cannot be read, is too large, or is not text in the one encoding that is read.
    pub fn read(&self) -> Result<Text, Trouble> {
        let bytes = match &self.path {
            Some(path) => read(path, MOST_BYTES),
            None => read_from(io::stdin().lock(), MOST_BYTES),
        };
        let bytes = bytes.map_err(|error| {
            let advice = match error.kind() {
                io::ErrorKind::FileTooLarge => "split it into several files",
                _ => "nothing of it was read",
            };
            Trouble::new(&self.name, words(&error), advice)
        })?;
        if is_utf16(&bytes) {
            return Err(Trouble::new(&self.name, "is UTF-16 text", "save it as UTF-8"));
        }
        Ok(match String::from_utf8(bytes) {
            Ok(text) => Text::Utf8(Arc::new(text)),
            Err(error) => Text::Other(error.into_bytes()),
        })
    }

    /// How many bytes it has, as far as that is known before it is read.
    pub fn len(&self) -> Option<u64> {
        self.path.as_ref().and_then(|path| fs::metadata(path).ok()).map(|about| about.len())
    }

    /// What `text` says.
    pub fn book(&self, text: &Text) -> Book {
        match (text, self.list) {
            (Text::Utf8(text), false) => Book::read_shared(&self.name, text),
            (Text::Utf8(text), true) => Book::read_list_shared(&self.name, text),
            (Text::Other(bytes), false) => Book::read_bytes(&self.name, bytes),
            (Text::Other(bytes), true) => Book::read_list_bytes(&self.name, bytes),
        }
    }
}

/// The .gset files of `folder` and its folders, by name. What cannot be walked is passed over.
pub fn below(folder: &Path) -> impl Iterator<Item = Source> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    in_folder(folder).flatten().filter(|path| path.is_file()).map(|path| {
        let path = path.strip_prefix(".").unwrap_or(&path).to_owned();
        Source { name: name(&path), path: Some(path), list: false }
    })
}

/// What was found so far.
struct Found<'a> {
    terminal: &'a mut Terminal,
    sources: Vec<Source>,
    /// The real places of the files found: each is taken once, however often and by whatever name it is given.
    seen: HashSet<PathBuf>,
}

impl Found<'_> {
    fn add_path(&mut self, path: &Path) {
        match fs::metadata(path) {
            Err(error) => self.cannot(path, &error),
            Ok(about) if about.is_dir() => self.add_folder(path),
            Ok(about) => self.add_file(path, about.file_type(), !is_gset(path)),
        }
    }

    fn add_folder(&mut self, folder: &Path) {
        let before = self.sources.len();
        for file in in_folder(folder) {
            match file {
                Err(error) => self.cannot_walk(folder, &error),
                Ok(path) => match fs::metadata(&path) {
                    Err(error) => self.cannot(&path, &error),
                    Ok(about) => self.add_file(&path, about.file_type(), false),
                },
            }
        }
        if self.sources.len() == before {
            self.terminal.remark(&format!("{}: no .gset files in this folder", folder.display()));
        }
    }

    fn add_file(&mut self, path: &Path, kind: FileType, list: bool) {
        if !kind.is_file() {
            let advice = "give a file, or pipe the text in and give `-`";
            self.terminal.trouble(&Trouble::new(name(path), format!("is {}", kind_words(kind)), advice));
            return;
        }
        if self.seen.insert(canonical(path)) {
            self.sources.push(Source { name: name(path), path: Some(path.to_owned()), list });
        }
    }

    fn cannot(&mut self, path: &Path, error: &io::Error) {
        self.terminal.trouble(&Trouble::new(name(path), words(error), "check its name and its permissions"));
    }

    fn cannot_walk(&mut self, folder: &Path, unwalked: &Unwalked) {
        match unwalked {
            Unwalked::LeadsOut(link) => {
                let what = "is a link that leads out of the folder, and was not followed";
                self.terminal.trouble(&Trouble::new(name(link), what, "give it by name if it is meant"));
            }
            Unwalked::Ignoring(folder) => {
                let what = "is no plain file of at most 1 MiB, and nothing beside it was read";
                let file = name(&folder.join(".gitignore"));
                self.terminal.trouble(&Trouble::new(
                    file,
                    what,
                    "write what to leave out into a file of its own",
                ));
            }
            Unwalked::Failed(error) => self.failed(folder, error),
        }
    }

    fn failed(&mut self, folder: &Path, error: &ignore::Error) {
        if let Some((child, ancestor)) = link_loop(error) {
            let what = format!("is a link back to {}, a folder that it lies in", ancestor.display());
            self.terminal.trouble(&Trouble::new(name(child), what, "remove the link"));
        } else if let Some(reason) = error.io_error() {
            self.cannot(failed_path(error).unwrap_or(folder), reason);
        } else {
            let what = error.to_string();
            self.terminal.trouble(&Trouble::new(name(folder), what, "mend the file that it speaks of"));
        }
    }
}

/// The link and the folder that it leads back to, if that is what stopped a walk.
fn link_loop(error: &ignore::Error) -> Option<(&Path, &Path)> {
    match error {
        ignore::Error::Loop { ancestor, child } => Some((child, ancestor)),
        ignore::Error::WithPath { err, .. } | ignore::Error::WithDepth { err, .. } => link_loop(err),
        _ => None,
    }
}

/// The path that a walk stopped at, if it says.
fn failed_path(error: &ignore::Error) -> Option<&Path> {
    match error {
        ignore::Error::WithPath { path, .. } => Some(path),
        ignore::Error::WithDepth { err, .. } => failed_path(err),
        _ => None,
    }
}

fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

fn name(path: &Path) -> String {
    path.display().to_string()
}

#[cfg(unix)]
fn kind_words(kind: FileType) -> &'static str {
    use std::os::unix::fs::FileTypeExt as _;
    if kind.is_fifo() {
        "a pipe and not a file"
    } else if kind.is_socket() {
        "a socket and not a file"
    } else {
        "a device and not a file"
    }
}

#[cfg(not(unix))]
fn kind_words(_: FileType) -> &'static str {
    "not a file"
}

/// Whether `bytes` look like UTF-16: by their first two, or because every other one of the first is zero.
pub fn is_utf16(bytes: &[u8]) -> bool {
    let beginning = &bytes[..bytes.len().min(64) & !1];
    let zeros = |offset: usize| beginning.iter().skip(offset).step_by(2).all(|&byte| byte == 0);
    let none = |offset: usize| beginning.iter().skip(offset).step_by(2).all(|&byte| byte != 0);
    bytes.starts_with(&[0xff, 0xfe])
        || bytes.starts_with(&[0xfe, 0xff])
        || (beginning.len() >= 4 && ((zeros(0) && none(1)) || (zeros(1) && none(0))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn utf16_is_told_from_other_text() {
        let wide =
            |text: &str, bytes: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(bytes).collect::<Vec<_>>();
        for text in ["puzzle a-1\ngivens\n", "\u{feff}puzzle", "\u{feff}"] {
            assert!(is_utf16(&wide(text, u16::to_le_bytes)), "{text}");
            assert!(is_utf16(&wide(text, u16::to_be_bytes)), "{text}");
        }
        for other in ["", "\0", "\0\0\0\0", "puzzle a-1", "p\0", "\u{feff}puzzle"] {
            assert!(!is_utf16(other.as_bytes()), "{other:?}");
        }
    }
}
