//! How long somebody waits for reasoning. Where nobody does any more, it is called off and then finds nothing.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// So many candidates are supposed beside others in the trials of one climb: some seconds of work. A walk that takes more
/// is cut short.
pub(super) const MOST_IN_A_CLIMB: usize = 6_000_000;

thread_local! {
    /// The sign that reasoning which begins on this thread looks at.
    static SIGN: RefCell<Sign> = const { RefCell::new(Sign(None)) };
}

/// Does something in which all reasoning that is done on this thread ends soon after `called_off` is set. What
/// comes of it counts for nothing then.
pub fn while_wanted<T>(called_off: &Arc<AtomicBool>, work: impl FnOnce() -> T) -> T {
    let _before = Before(SIGN.replace(Sign(Some(Arc::clone(called_off)))));
    work()
}

/// Whether reasoning on this thread is called off: what it comes to counts for nothing.
pub fn is_called_off() -> bool {
    Sign::here().is_set()
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
pub(super) struct Sign(Option<Arc<AtomicBool>>);

impl Sign {
    /// The one that reasoning looks at which begins here.
    pub(super) fn here() -> Sign {
        SIGN.with_borrow(Clone::clone)
    }

    /// Whether nobody waits any more.
    pub(super) fn is_set(&self) -> bool {
        self.0.as_ref().is_some_and(|called_off| called_off.load(Ordering::Relaxed))
    }
}

/// How long somebody waits for a climb.
#[derive(Debug)]
pub(super) struct Patience {
    sign: Sign,
    /// So many candidates may still be supposed beside others in its trials.
    pub(super) supposable: usize,
}

impl Patience {
    /// The patience of whoever begins here, with so many candidates to suppose.
    pub(super) fn new(supposable: usize) -> Patience {
        Patience { sign: Sign::here(), supposable }
    }

    /// Whether nobody waits any more.
    pub(super) fn is_over(&self) -> bool {
        self.sign.is_set()
    }
}
