//! Who looks at sections while nobody waits: as many threads as there are processors, which make room for whoever does.

use super::fault::{at_work, working_off};
use rayon::prelude::*;
use rayon::{ThreadPool, ThreadPoolBuilder};
use std::cell::Cell;
use std::sync::OnceLock;
use std::thread;
use std::time::{Duration, Instant};

/// After so long a thread lets others go on. A thread that a keystroke wakes may find all processors at work: without this it
/// would wait until the system parts them anew, which takes some milliseconds.
const TURN: Duration = Duration::from_micros(200);

/// Threads that look at sections. They begin when there is something to look at.
#[derive(Default)]
pub struct Hands(OnceLock<Option<ThreadPool>>);

impl Hands {
    /// What comes of each of these, in order.
    pub fn each<T: Send, R: Send>(&self, all: Vec<T>, work: impl Fn(T) -> R + Sync) -> Vec<R> {
        let work = |one| {
            let done = work(one);
            make_room();
            done
        };
        match self.0.get_or_init(begin) {
            Some(pool) if all.len() > 1 => {
                let method = at_work();
                let work = |one| working_off(method.clone(), || work(one));
                pool.install(|| all.into_par_iter().map(work).collect())
            }
            _ => all.into_iter().map(work).collect(),
        }
    }
}

/// The threads; none where there is one processor, or the system gives no threads.
fn begin() -> Option<ThreadPool> {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    (threads > 1).then(|| ThreadPoolBuilder::new().num_threads(threads).build().ok()).flatten()
}

/// Lets others go on, if this thread has worked for its turn.
fn make_room() {
    thread_local! {
        static SINCE: Cell<Option<Instant>> = const { Cell::new(None) };
    }
    let now = Instant::now();
    if SINCE.get().is_none_or(|since| now - since >= TURN) {
        thread::yield_now();
        SINCE.set(Some(Instant::now()));
    }
}
