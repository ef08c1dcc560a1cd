//! What no message waits for: looking at what takes longer, and at several files together, while nobody types.

use super::errand::Errands;
use super::fault::working_off;
use super::folders::Done;
use super::hands::Hands;
use super::jobs::Job;
use super::later::Later;
use super::log::{Level, Log};
use super::outbox::Outbox;
use super::state::State;
use crate::lint::Said;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, Once, PoisonError};
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
    /// There is a worker.
    begun: Once,
    /// The worker waits for something to do.
    idle: AtomicBool,
    /// Grows with each change of the state, while that is held.
    changes: AtomicU64,
    /// Grows with each change that somebody types.
    typed: AtomicU64,
    last_change: Mutex<Option<Instant>>,
    hurried: Condvar,
    hands: Hands,
    outbox: Outbox,
    errands: Errands,
    /// Reads files.
    later: Later,
    log: Log,
}

impl Shared {
    /// The state, shared.
    pub fn new(state: State, outbox: Outbox, errands: Errands, later: Later, log: Log) -> Shared {
        Shared {
            state: Mutex::new(state),
            wake: Condvar::new(),
            begun: Once::new(),
            idle: AtomicBool::new(false),
            changes: AtomicU64::new(0),
            typed: AtomicU64::new(0),
            last_change: Mutex::new(None),
            hurried: Condvar::new(),
            hands: Hands::default(),
            outbox,
            errands,
            later,
            log,
        }
    }

    /// The state. It is held for a moment only: whoever works longer takes what that needs, and gives it back.
    pub fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits while too much is waiting for the client.
    pub fn wait_for_room(&self) {
        self.outbox.wait_for_room();
    }

    /// Changes what is known, and lets the worker see what there is to do. `typed`: and there will be more in a moment.
    pub fn change(self: &Arc<Self>, typed: bool, change: impl FnOnce(&mut State)) {
        if typed {
            // Whoever looks at sections ends with the one that is under way, and rests.
            self.typed.fetch_add(1, Ordering::Relaxed);
            self.somebody_types();
        }
        let mut state = self.state();
        self.changes.fetch_add(1, Ordering::Relaxed);
        change(&mut state);
        if !typed {
            state.settle();
        }
        let reads = state.folders.waits();
        drop(state);
        if reads {
            self.read_on();
        }
        self.begun.call_once(|| {
            let shared = Arc::clone(self);
            thread::spawn(move || shared.work());
        });
        self.wake(typed);
    }

    /// Somebody types just now.
    fn somebody_types(&self) {
        *self.last_change.lock().unwrap_or_else(PoisonError::into_inner) = Some(Instant::now());
    }

    fn wake(&self, typed: bool) {
        if typed {
            self.somebody_types();
        }
        if self.idle.load(Ordering::Acquire) {
            self.wake.notify_one();
        }
    }

    /// Reads what there is to read of the folders, some files at a time, and takes each of these up.
    fn read_on(self: &Arc<Self>) {
        let Ok(later) = self.later.handle() else { return };
        let shared = Arc::clone(self);
        let work = move || {
            let errand = shared.errands.unasked("Reading puzzles");
            let mut chore = shared.state().folders.next_chore();
            while let Some(next) = chore {
                let done = guarded(|| next.run(&errand)).unwrap_or(Done::Read(Vec::new()));
                let mut state = shared.state();
                shared.changes.fetch_add(1, Ordering::Relaxed);
                state.take_files(done);
                if errand.is_called_off() {
                    let what = "not all files of the folders are read: the client does not want it";
                    shared.log.note(Level::Info, what);
                    state.folders.give_up();
                }
                let (read, all) = state.folders.progress();
                chore = state.folders.next_chore();
                if chore.is_none() {
                    state.settle();
                    shared.log.note(Level::Info, &format!("files read in the folders: {read}"));
                }
                drop(state);
                errand.at(read, Some(all));
            }
            shared.wake(false);
        };
        later.spawn_blocking(|| working_off(Some("reading puzzles".into()), work));
    }

    /// Works for ever.
    pub fn work(&self) -> ! {
        working_off(Some("looking at puzzles".into()), || {
            let mut shown = Instant::now();
            loop {
                self.rest();
                let state = self.state();
                let changes = self.changes.load(Ordering::Relaxed);
                let Some(job) = guarded(|| state.next_job(AT_ONCE)).flatten() else {
                    self.wait(state);
                    continue;
                };
                drop(state);
                if guarded(|| self.work_at(job, &mut shown)).is_none() {
                    // It would come to the same again until something changes.
                    let state = self.state();
                    if self.changes.load(Ordering::Relaxed) == changes {
                        self.wait(state);
                    }
                }
            }
        })
    }

    /// Waits until there may be something to do.
    fn wait(&self, state: MutexGuard<State>) {
        self.idle.store(true, Ordering::Release);
        drop(self.wake.wait(state).unwrap_or_else(PoisonError::into_inner));
        self.idle.store(false, Ordering::Release);
    }

    fn work_at(&self, job: Job, shown: &mut Instant) {
        match job {
            Job::Look(uri, pending) => {
                let typed = self.typed.load(Ordering::Relaxed);
                let found = self.hands.each(pending, |pending| {
                    let is_wanted = self.typed.load(Ordering::Relaxed) == typed;
                    let look = || guarded(|| pending.look()).unwrap_or_else(Said::nothing);
                    is_wanted.then(look).map(|said| (pending, said))
                });
                let found = found.into_iter().flatten().collect();
                let mut state = self.state();
                let more = state.take(&uri, found);
                if !more || shown.elapsed() >= SHOWN_EVERY {
                    state.publish(&uri);
                    state.settle();
                    *shown = Instant::now();
                }
            }
            Job::LookClosed(parts) => {
                let found = parts.into_iter().map(|part| {
                    let look = |at| guarded(|| part.look(at)).unwrap_or_else(Said::nothing);
                    let said = self.hands.each(part.sections.clone().collect(), look);
                    (part, said)
                });
                let found: Vec<_> = found.collect();
                let mut state = self.state();
                for (part, said) in found {
                    state.take_closed(&part, said);
                }
                state.settle();
            }
            Job::LookTogether(together) => {
                let (stamp, nothing) = (together.stamp, together.nothing());
                let found = guarded(|| together.look()).unwrap_or(nothing);
                let mut state = self.state();
                state.take_together(stamp, found);
                state.settle();
            }
        }
    }

    /// Somebody waits for what there is to find: the worker begins at once.
    pub fn hurry(&self) {
        *self.last_change.lock().unwrap_or_else(PoisonError::into_inner) = None;
        self.hurried.notify_one();
    }

    /// Waits until nothing has changed for a while, or somebody waits.
    fn rest(&self) {
        let mut last = self.last_change.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            let left = last.map_or(Duration::ZERO, |last| REST.saturating_sub(last.elapsed()));
            if left.is_zero() {
                return;
            }
            last = self.hurried.wait_timeout(last, left).unwrap_or_else(PoisonError::into_inner).0;
        }
    }
}

/// What `work` comes to; a fault in the program itself costs what it was about, and nothing else.
fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    catch_unwind(AssertUnwindSafe(work)).ok()
}
