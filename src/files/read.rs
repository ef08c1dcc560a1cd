//! Reading a file whole, if it is one and not too large.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read as _};
use std::path::Path;

/// No text above this many bytes is read whole: what is read of it takes a few times its size, and forty times if it is made
/// for that.
pub const MOST_BYTES: u64 = 64 << 20;

/// All bytes of a file.
///
/// # Errors
/// [`ErrorKind::InvalidInput`] if it is a pipe or a device, which may never end, [`ErrorKind::FileTooLarge`] if it has
/// more than `most` bytes, and whatever keeps it from being read.
pub fn read(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let about = fs::metadata(path)?;
    if !about.is_file() {
        return Err(io::Error::new(ErrorKind::InvalidInput, "it is a pipe or a device and no file"));
    }
    if about.len() > most {
        return Err(too_large(most));
    }
    read_from(File::open(path)?, most)
}

/// All bytes of what may be longer than it was said to be.
///
/// # Errors
/// As [`read`] has them.
pub fn read_from(source: impl io::Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    source.take(most + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most { Err(too_large(most)) } else { Ok(bytes) }
}

fn too_large(most: u64) -> io::Error {
    io::Error::new(ErrorKind::FileTooLarge, format!("it has more than {} MiB", most >> 20))
}
