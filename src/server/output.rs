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

#[cfg(test)]
pub mod written {
    //! What was written, for whoever looks.

    use super::super::frame::{Frame, Frames};
    use super::Output;
    use serde_json::Value;
    use std::io::{self, Write};
    use std::sync::{Arc, Mutex, PoisonError};

    /// All that was written. A clone is the same.
    #[derive(Clone, Default)]
    pub struct Written(Arc<Mutex<Vec<u8>>>);

    impl Written {
        /// The messages.
        pub fn messages(&self) -> Vec<Value> {
            let bytes = self.0.lock().unwrap_or_else(PoisonError::into_inner).clone();
            let mut frames = Frames::new(&bytes[..]);
            let mut messages = Vec::new();
            while let Ok(Frame::Body(body)) = frames.next() {
                messages.push(serde_json::from_slice(&body).unwrap());
            }
            messages
        }
    }

    impl Write for Written {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.lock().unwrap_or_else(PoisonError::into_inner).write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    impl Output for Written {
        fn takes_at_once(&self, _: usize) -> bool {
            true
        }
    }
}
