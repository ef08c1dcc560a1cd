//! Who looks at puzzles while nobody waits: as many threads as there are processors, which give way to whoever does.

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

/// Threads that look at puzzles. They begin when there is something to look at.
#[derive(Default)]
pub struct Hands(OnceLock<Option<ThreadPool>>);

impl Hands {
    /// What comes of each of these, in order.
    pub fn each<T: Send, R: Send>(&self, all: Vec<T>, work: impl Fn(T) -> R + Sync) -> Vec<R> {
        let method = at_work();
        let work = |one| {
            let done = working_off(method.clone(), || work(one));
            give_way();
            done
        };
        match self.threads() {
            Some(threads) => threads.install(|| all.into_par_iter().map(work).collect()),
            None => all.into_iter().map(work).collect(),
        }
    }

    /// What comes of this, in which all of them may take part.
    pub fn together<R: Send>(&self, work: impl FnOnce() -> R + Send) -> R {
        let method = at_work();
        match self.threads() {
            Some(threads) => threads.install(|| working_off(method, work)),
            None => work(),
        }
    }

    /// The threads; none where the system gives none.
    fn threads(&self) -> Option<&ThreadPool> {
        let begin = || {
            let threads = thread::available_parallelism().map_or(1, usize::from);
            ThreadPoolBuilder::new().num_threads(threads).start_handler(|_| come_last()).build().ok()
        };
        self.0.get_or_init(begin).as_ref()
    }
}

/// Has the system let this thread work when no other thread wants to. Of Linux alone: elsewhere it would be said of the whole
/// process.
fn come_last() {
    #[cfg(target_os = "linux")]
    let _refused = rustix::process::setpriority_process(None, LAST);
}

/// The lowest priority of a thread (setpriority(2)).
#[cfg(target_os = "linux")]
const LAST: i32 = 19;

/// Lets others go on, if this thread has worked for its turn.
fn give_way() {
    thread_local! {
        static SINCE: Cell<Option<Instant>> = const { Cell::new(None) };
    }
    let now = Instant::now();
    if SINCE.get().is_none_or(|since| now - since >= TURN) {
        thread::yield_now();
        SINCE.set(Some(Instant::now()));
    }
}
