//! Where the server writes.

use std::fs::File;
use std::io::Write;

/// What takes bytes, and knows whether it would take them without waiting for whoever reads at its other end.
pub trait Output: Write + Send + 'static {
    /// Whether so many bytes can be written at once. Not to know is no.
    fn takes_at_once(&self, _bytes: usize) -> bool {
        false
    }
}

/// A pipe that can be written to takes as much as this in one piece: `PIPE_BUF` of POSIX.1-2017, as Linux has it; other
/// systems give no less room to one that is empty, which mostly it is.
#[cfg(unix)]
const IN_ONE_PIECE: usize = 4096;

impl Output for File {
    #[cfg(unix)]
    fn takes_at_once(&self, bytes: usize) -> bool {
        use rustix::event::{PollFd, PollFlags, Timespec, poll};
        let mut ends = [PollFd::new(self, PollFlags::OUT)];
        bytes <= IN_ONE_PIECE
            && poll(&mut ends, Some(&Timespec { tv_sec: 0, tv_nsec: 0 })).is_ok()
            && ends[0].revents() == PollFlags::OUT
    }
}
