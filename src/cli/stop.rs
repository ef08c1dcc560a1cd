//! Ending before the end: on Ctrl-C and the like.
//!
//! A job that tells one thing after another ends by itself, once what it is at is done; where that takes too long, and
//! everywhere else, the process is ended. Either way no line and no file is left half written.

use super::replace::Replacer;
use super::words::counted;
use std::io::{self, Write as _};
use std::process;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// The exit code that shells use for it.
pub const EXIT_CODE: u8 = 130;

/// A job that ends by itself has so long for it; who presses the keys should not have to wait.
const GRACE: Duration = Duration::from_millis(150);

/// So long an output that nobody takes is waited for.
const PATIENCE: Duration = Duration::from_millis(30);

/// Whether the user wants no more, and what must be known to end well.
#[derive(Clone, Default)]
pub struct Stop(Arc<State>);

#[derive(Default)]
struct State {
    asked: AtomicBool,
    /// Whether the job at hand ends by itself.
    ends_itself: AtomicBool,
    /// How many puzzles of it were told.
    told: AtomicUsize,
    /// Held while something is written to standard output.
    output: Mutex<()>,
}

impl Stop {
    /// From now on, a signal to end is heard. Where the system allows no handler it ends the process by itself, and a file
    /// is still never half written, though one may lie beside it.
    pub fn listen(&self, replacer: Replacer) {
        let stop = self.clone();
        let _ = ctrlc::set_handler(move || stop.ask(&replacer));
    }

    /// Whether to go on no more.
    pub fn is_asked(&self) -> bool {
        self.0.asked.load(Ordering::Relaxed)
    }

    /// A job begins (or is over) that looks at [`is_asked`](Stop::is_asked) and ends by itself.
    pub fn ends_itself(&self, does: bool) {
        self.0.told.store(0, Ordering::Relaxed);
        self.0.ends_itself.store(does, Ordering::SeqCst);
    }

    /// So many more puzzles were told; how many that makes.
    pub fn told(&self, more: usize) -> usize {
        self.0.told.fetch_add(more, Ordering::Relaxed) + more
    }

    /// To be held while standard output is written to.
    pub fn output(&self) -> MutexGuard<'_, ()> {
        self.0.output.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How far the job came, in words.
    pub fn how_far(&self) -> String {
        let told = self.0.told.load(Ordering::Relaxed);
        format!("stopped: {} told, and what follows was left out", counted(told, "puzzle"))
    }

    /// Does what a signal asks for; it does not return.
    fn ask(&self, replacer: &Replacer) {
        let first = !self.0.asked.swap(true, Ordering::SeqCst);
        let ends_itself = self.0.ends_itself.load(Ordering::SeqCst);
        if first && ends_itself {
            thread::sleep(GRACE);
        }
        let _nothing_is_written_any_more = (replacer.give_up(), self.output_soon());
        if ends_itself {
            let _ = writeln!(io::stderr(), "{}", self.how_far());
        }
        process::exit(EXIT_CODE.into());
    }

    /// The output, once what is being written is out; not for ever, since it may be that nobody takes it.
    fn output_soon(&self) -> Option<MutexGuard<'_, ()>> {
        let begun = Instant::now();
        loop {
            match self.0.output.try_lock() {
                Ok(output) => return Some(output),
                Err(_) if begun.elapsed() > PATIENCE => return None,
                Err(_) => thread::sleep(Duration::from_millis(1)),
            }
        }
    }
}
