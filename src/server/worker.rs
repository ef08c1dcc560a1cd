//! What no message waits for: looking at what takes longer, and at several files together, while nobody types.

use super::log::Log;
use super::state::{Job, State};
use crate::lint::Said;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// Work begins when nothing has changed for so long: who types is not kept waiting, and is not told of a row half typed.
const REST: Duration = Duration::from_millis(50);

/// So many sections are looked at before what they hold is taken up: a few milliseconds of work.
const AT_ONCE: usize = 64;

/// What is found in a long text is shown this often.
const SHOWN_EVERY: Duration = Duration::from_millis(100);

/// The state, for whoever works on it.
pub struct Shared {
    state: Mutex<State>,
    wake: Condvar,
    /// The worker waits for something to do.
    idle: AtomicBool,
    last_change: Mutex<Option<Instant>>,
    log: Log,
}

impl Shared {
    /// The state, shared.
    pub fn new(state: State, log: Log) -> Shared {
        Shared {
            state: Mutex::new(state),
            wake: Condvar::new(),
            idle: AtomicBool::new(false),
            last_change: Mutex::new(None),
            log,
        }
    }

    /// The state. It is held for a moment only: whoever works longer takes what that needs, and gives it back.
    pub fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// There is something to do; `typed`: and there will be more in a moment.
    pub fn wake(&self, typed: bool) {
        if typed {
            *self.last_change.lock().unwrap_or_else(PoisonError::into_inner) = Some(Instant::now());
        }
        if self.idle.load(Ordering::Acquire) {
            self.wake.notify_one();
        }
    }

    /// Works for ever.
    pub fn work(&self) -> ! {
        let mut shown = Instant::now();
        loop {
            self.rest();
            let mut state = self.state();
            let Some(job) = state.next_job(AT_ONCE) else {
                self.idle.store(true, Ordering::Release);
                state = self.wake.wait(state).unwrap_or_else(PoisonError::into_inner);
                self.idle.store(false, Ordering::Release);
                drop(state);
                continue;
            };
            drop(state);
            match job {
                Job::Look(uri, pending) => {
                    let found = pending.into_iter().map(|pending| {
                        let said = self.guarded(|| pending.look()).unwrap_or_else(Said::nothing);
                        (pending, said)
                    });
                    let found = found.collect();
                    let mut state = self.state();
                    let more = state.take(&uri, found);
                    if !more || shown.elapsed() >= SHOWN_EVERY {
                        state.publish(&uri);
                        shown = Instant::now();
                    }
                }
                Job::LookTogether(together) => {
                    let nothing = together.nothing();
                    let (stamp, found) = self.guarded(|| together.look()).unwrap_or(nothing);
                    self.state().take_together(stamp, found);
                }
            }
        }
    }

    /// Waits until nothing has changed for a while.
    fn rest(&self) {
        loop {
            let last = *self.last_change.lock().unwrap_or_else(PoisonError::into_inner);
            let left = last.map_or(Duration::ZERO, |last| REST.saturating_sub(last.elapsed()));
            if left.is_zero() {
                return;
            }
            thread::sleep(left);
        }
    }

    /// What `work` comes to; a fault in the program itself costs what it was about, and nothing else.
    fn guarded<T>(&self, work: impl FnOnce() -> T) -> Option<T> {
        let result = catch_unwind(AssertUnwindSafe(work));
        if result.is_err() {
            self.log.line("a fault in the program itself: what it was about is not looked at");
        }
        result.ok()
    }
}
