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
pub struct Hands {
    threads: OnceLock<Option<ThreadPool>>,
    come_last: bool,
}

impl Hands {
    /// Those that work as long as no other thread wants to, of whatever program.
    pub fn last() -> Hands {
        Hands { threads: OnceLock::new(), come_last: true }
    }

    /// Those that work as any other thread does, for what is short or waited for.
    pub fn prompt() -> Hands {
        Hands { threads: OnceLock::new(), come_last: false }
    }

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
            let threads = ThreadPoolBuilder::new().num_threads(threads);
            let threads = if self.come_last { threads.start_handler(|_| come_last()) } else { threads };
            threads.build().ok()
        };
        self.threads.get_or_init(begin).as_ref()
    }
}

/// Has the system let this thread work as long as no other one wants to. A lower priority would not do: a thread that is woken
/// waits for the end of a time slice of one with any priority, and that is some milliseconds (`sched(7)`: `SCHED_IDLE`).
#[cfg(target_os = "linux")]
fn come_last() {
    use thread_priority::{
        NormalThreadSchedulePolicy, ThreadPriority, ThreadSchedulePolicy, set_thread_priority_and_policy,
        thread_native_id,
    };
    let idle = ThreadSchedulePolicy::Normal(NormalThreadSchedulePolicy::Idle);
    let _refused = set_thread_priority_and_policy(thread_native_id(), ThreadPriority::Min, idle);
}

/// Elsewhere, taking turns must do.
#[cfg(not(target_os = "linux"))]
fn come_last() {}

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
