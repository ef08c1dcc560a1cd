//! The threads for what no message waits for. They begin when there is something to do first: an editor waits for the first
//! answer before it shows anything, and that one needs none.

use futures::channel::oneshot;
use std::io;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use tokio::runtime::{Builder, Handle};

/// As many answers are worked on at once.
const MOST_THREADS: usize = 4;

/// Runs what takes longer. A clone has the same threads.
#[derive(Clone, Default)]
pub struct Later(Arc<Mutex<Option<Begun>>>);

/// What runs on a thread of its own until it is told to end.
struct Begun {
    handle: Handle,
    end: oneshot::Sender<()>,
}

impl Later {
    /// The way to have something done.
    ///
    /// # Errors
    /// If the system gives no threads.
    pub fn handle(&self) -> io::Result<Handle> {
        let mut begun = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(begun) = &*begun {
            return Ok(begun.handle.clone());
        }
        // One thread for what waits is enough. The runtime with several also needs the library of mathematics, and to
        // load that takes a tenth of the time to the first answer.
        let runtime = Builder::new_current_thread().max_blocking_threads(MOST_THREADS).build()?;
        let handle = runtime.handle().clone();
        let (end, ended) = oneshot::channel();
        thread::Builder::new().spawn(move || {
            let _told_or_forgotten = runtime.block_on(ended);
            runtime.shutdown_background();
        })?;
        Ok(begun.insert(Begun { handle, end }).handle.clone())
    }

    /// Waits until all is done.
    #[cfg(test)]
    pub fn wait(&self) {
        while self.handle().is_ok_and(|handle| handle.metrics().num_alive_tasks() > 0) {
            thread::yield_now();
        }
    }

    /// Ends; what is still being worked on has nobody to wait for it.
    pub fn end(&self) {
        let begun = self.0.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(begun) = begun {
            let _gone_already = begun.end.send(());
        }
    }
}
