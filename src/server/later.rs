//! The threads for what no message waits for. They begin when there is something to do first: an editor waits for the first
//! answer before it shows anything, and that one needs none.

use std::io;
use std::sync::{Arc, Mutex, PoisonError};
use tokio::runtime::{Builder, Handle, Runtime};

/// As many answers are worked on at once.
const MOST_THREADS: usize = 4;

/// Runs what takes longer. A clone has the same threads.
#[derive(Clone, Default)]
pub struct Later(Arc<Mutex<Option<Runtime>>>);

impl Later {
    /// The way to have something done.
    ///
    /// # Errors
    /// If the system gives no threads.
    pub fn handle(&self) -> io::Result<Handle> {
        let mut runtime = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(runtime) = &*runtime {
            return Ok(runtime.handle().clone());
        }
        let begun =
            Builder::new_multi_thread().worker_threads(1).max_blocking_threads(MOST_THREADS).build()?;
        Ok(runtime.insert(begun).handle().clone())
    }

    /// Ends when all is done, or so much time has passed.
    #[cfg(test)]
    pub fn end_within(&self, most: std::time::Duration) {
        let runtime = self.0.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(runtime) = runtime {
            runtime.shutdown_timeout(most);
        }
    }

    /// Ends; what is still being worked on has nobody to wait for it.
    pub fn end(&self) {
        let runtime = self.0.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some(runtime) = runtime {
            runtime.shutdown_background();
        }
    }
}
