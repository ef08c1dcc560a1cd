//! What a server notes for whoever looks for a fault: a line a happening, in a file that was asked for.

use std::fs::File;
use std::io::{self, Write};
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::Instant;

/// Where happenings are noted, if anywhere. A clone writes to the same file.
#[derive(Clone)]
pub struct Log {
    file: Option<Arc<Mutex<File>>>,
    start: Instant,
}

impl Log {
    /// Notes nothing.
    pub fn none() -> Log {
        Log { file: None, start: Instant::now() }
    }

    /// Notes happenings in a file, behind what it holds.
    ///
    /// # Errors
    /// If it cannot be opened for writing.
    pub fn to(path: &Path) -> io::Result<Log> {
        let file = File::options().create(true).append(true).open(path)?;
        Ok(Log { file: Some(Arc::new(Mutex::new(file))), start: Instant::now() })
    }

    /// Notes something, with the milliseconds since the start. Where it cannot be written, it is not noted.
    pub fn line(&self, what: &str) {
        if let Some(Ok(mut file)) = self.file.as_ref().map(|file| file.lock()) {
            let _ = writeln!(file, "{:>8} ms  {what}", self.start.elapsed().as_millis());
        }
    }
}
