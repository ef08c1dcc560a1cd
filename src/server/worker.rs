//! What no message waits for: looking at what takes longer, and at several files together, while nobody types.

use super::alone::Pending;
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
use crate::study::while_wanted;
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
    /// Tells the worker's job that somebody types. Each job has its own. It is begun and set while the state is held, so that
    /// nobody types between a text and its sign.
    called_off: Mutex<Arc<AtomicBool>>,
    last_change: Mutex<Option<Instant>>,
    hurried: Condvar,
    /// Who looks at many sections, which takes long.
    hands: Hands,
    /// Who looks at few, or at what somebody waits for: on a machine with much to do, the others may not come to it.
    prompt_hands: Hands,
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
            called_off: Mutex::default(),
            last_change: Mutex::new(None),
            hurried: Condvar::new(),
            hands: Hands::last(),
            prompt_hands: Hands::prompt(),
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
            self.somebody_types();
        }
        let mut state = self.state();
        if typed {
            self.call_off();
        }
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

    /// Whoever looks at sections ends, and rests.
    fn call_off(&self) {
        self.sign().store(true, Ordering::Relaxed);
    }

    /// A sign for the next job.
    fn next_sign(&self) -> Arc<AtomicBool> {
        let sign = Arc::default();
        *self.sign() = Arc::clone(&sign);
        sign
    }

    fn sign(&self) -> MutexGuard<'_, Arc<AtomicBool>> {
        self.called_off.lock().unwrap_or_else(PoisonError::into_inner)
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
                let called_off = self.next_sign();
                let is_short = job.sections() < AT_ONCE || state.pulls.is_waited_for();
                let hands = if is_short { &self.prompt_hands } else { &self.hands };
                drop(state);
                if guarded(|| self.work_at(job, hands, &called_off, &mut shown)).is_none() {
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

    fn work_at(&self, job: Job, hands: &Hands, called_off: &Arc<AtomicBool>, shown: &mut Instant) {
        match job {
            Job::Look(uri, pending) => {
                let said = look(hands, pending.iter().collect(), called_off, Pending::look);
                let found =
                    pending.into_iter().zip(said).filter_map(|(pending, said)| Some((pending, said?)));
                let mut state = self.state();
                let more = state.take(&uri, found.collect());
                if !more || shown.elapsed() >= SHOWN_EVERY {
                    state.publish(&uri);
                    state.settle();
                    *shown = Instant::now();
                }
            }
            Job::LookClosed(parts) => {
                // One list of all: a file may have one section, and one after the other would keep one processor.
                let all = parts.iter().flat_map(|part| part.sections.clone().map(move |at| (part, at)));
                let said = look(hands, all.collect(), called_off, |(part, at)| part.look(at));
                let mut said = said.into_iter();
                let mut state = self.state();
                for part in &parts {
                    // They are taken up in order: what is behind one that was called off is looked at again.
                    let of_part: Vec<_> = said.by_ref().take(part.sections.len()).collect();
                    state.take_closed(part, of_part.into_iter().map_while(|said| said).collect());
                }
                state.settle();
            }
            Job::LookTogether(together) => {
                let (stamp, nothing) = (together.stamp, together.nothing());
                let found = guarded(|| hands.together(|| together.look())).unwrap_or(nothing);
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

/// What there is to say of each of these, in order; nothing of what was called off before its end.
fn look<T: Send>(
    hands: &Hands,
    all: Vec<T>,
    called_off: &Arc<AtomicBool>,
    look: impl Fn(T) -> Said + Sync,
) -> Vec<Option<Said>> {
    let is_wanted = || !called_off.load(Ordering::Relaxed);
    hands.each(all, |one| {
        let look = || guarded(|| look(one)).unwrap_or_else(Said::nothing);
        // The sign is that of a thread: each of the hands must be told.
        let said = is_wanted().then(|| while_wanted(called_off, look));
        said.filter(|_| is_wanted())
    })
}

/// What `work` comes to; a fault in the program itself costs what it was about, and nothing else.
fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    catch_unwind(AssertUnwindSafe(work)).ok()
}

#[cfg(test)]
mod tests {
    use super::super::output::written::Written;
    use super::*;
    use crate::book::Book;
    use crate::lint::Effort;
    use crate::settings::Way;

    /// One with a level, which takes reasoning.
    const PUZZLE: &str =
        "puzzle a\nsize 4\nlevel 1\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

    #[test]
    fn who_types_ends_what_is_looked_at() {
        let outbox = Outbox::new(Written::default(), || {});
        let state = State::new(Way::Nothing, outbox.clone());
        let shared = Shared::new(state, outbox.clone(), Errands::new(outbox), Later::default(), Log::none());
        let book = Book::read("a.gset", PUZZLE);
        let at = book.tree.sections.len() - 1;
        let is_as_said = Mutex::new(Vec::new());
        let looked = |types: bool| {
            let sign = shared.next_sign();
            let said = look(&shared.hands, vec![()], &sign, |()| {
                if types {
                    shared.call_off();
                }
                let said = Said::of(&book.tree.sections[at], &book.meanings[at], &book.ladder, Effort::Full);
                is_as_said.lock().unwrap().push(said.is_empty());
                said
            });
            let later = look(&shared.hands, vec![()], &sign, |()| Said::nothing());
            [said, later].map(|said| said[0].is_some())
        };
        assert_eq!(looked(false), [true, true]);
        assert_eq!(looked(true), [false, false], "it is of an older text");
        assert_eq!(looked(false), [true, true], "each job has a sign of its own");
        assert_eq!(*is_as_said.lock().unwrap(), [true, false, true], "the reasoning ends");
    }
}
