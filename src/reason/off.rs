//! How long somebody waits for reasoning. Where nobody does any more, it is called off and then finds nothing.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// So many candidates are supposed beside others in the trials of one climb: some seconds of work. A puzzle that takes
/// more is left unfinished.
const MOST_IN_A_CLIMB: usize = 6_000_000;

thread_local! {
    /// The sign that reasoning which begins on this thread looks at.
    static SIGN: RefCell<Sign> = const { RefCell::new(Sign(None)) };
}

/// Does something in which all reasoning with marks that is done on this thread ends soon after `called_off` is set. What
/// comes of it counts for nothing then.
pub fn while_wanted<T>(called_off: &Arc<AtomicBool>, work: impl FnOnce() -> T) -> T {
    let _before = Before(SIGN.replace(Sign(Some(Arc::clone(called_off)))));
    work()
}

/// The sign of before, put back also where the work breaks off.
struct Before(Sign);

impl Drop for Before {
    fn drop(&mut self) {
        SIGN.set(Sign(self.0.0.take()));
    }
}

/// A sign that nobody waits any more; without one somebody always does.
#[derive(Clone, Debug)]
struct Sign(Option<Arc<AtomicBool>>);

/// How long somebody waits for a climb.
#[derive(Debug)]
pub(super) struct Patience {
    sign: Sign,
    /// So many candidates may still be supposed beside others in its trials.
    pub(super) supposable: usize,
}

impl Default for Patience {
    fn default() -> Patience {
        Patience { sign: SIGN.with_borrow(Clone::clone), supposable: MOST_IN_A_CLIMB }
    }
}

impl Patience {
    /// Whether nobody waits any more.
    pub(super) fn is_over(&self) -> bool {
        self.sign.0.as_ref().is_some_and(|called_off| called_off.load(Ordering::Relaxed))
    }
}
