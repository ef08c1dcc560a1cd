//! What a server notes for whoever looks for a fault: a line a happening, in a file that was asked for.

use std::fs::File;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::Instant;

/// How much a happening matters; the first matter most.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Level {
    /// Faults in the program itself.
    Error,
    /// What took long, and what was refused.
    Warning,
    /// Beginning and end, and what was read.
    Info,
    /// Every message.
    Debug,
}

/// Where happenings are noted, if anywhere. A clone writes to the same file.
#[derive(Clone)]
pub struct Log {
    file: Option<Arc<Mutex<File>>>,
    folder: Option<PathBuf>,
    most: Level,
    start: Instant,
}

impl Log {
    /// Notes nothing.
    pub fn none() -> Log {
        Log { file: None, folder: None, most: Level::Error, start: Instant::now() }
    }

    /// Notes happenings of this level, and those that matter more, in a file, behind what it holds.
    ///
    /// # Errors
    /// If it cannot be opened for writing.
    pub fn to(path: &Path, most: Level) -> io::Result<Log> {
        let file = File::options().create(true).append(true).open(path)?;
        let folder = std::path::absolute(path)?.parent().map(Path::to_owned);
        Ok(Log { file: Some(Arc::new(Mutex::new(file))), folder, most, start: Instant::now() })
    }

    /// The folder of the file.
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Whether happenings of this level are noted.
    pub fn notes(&self, level: Level) -> bool {
        self.file.is_some() && level <= self.most
    }

    /// Notes something, with the milliseconds since the start. Where it cannot be written, it is not noted.
    pub fn note(&self, level: Level, what: &str) {
        if !self.notes(level) {
            return;
        }
        if let Some(Ok(mut file)) = self.file.as_ref().map(|file| file.lock()) {
            let word = match level {
                Level::Error => "error",
                Level::Warning => "warning",
                Level::Info => "info",
                Level::Debug => "debug",
            };
            let _ = writeln!(file, "{:>8} ms  {word:7}  {what}", self.start.elapsed().as_millis());
        }
    }
}
