//! Reasoning that nobody waits for any more: it is called off, and then finds nothing.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

thread_local! {
    /// What is looked at by what begins on this thread.
    static SIGN: RefCell<Sign> = const { RefCell::new(Sign(None)) };
}

/// Does something in which all reasoning ends soon after `called_off` is set. What comes of it counts for nothing then.
pub fn while_wanted<T>(called_off: &Arc<AtomicBool>, work: impl FnOnce() -> T) -> T {
    let before = SIGN.replace(Sign(Some(Arc::clone(called_off))));
    let done = work();
    SIGN.set(before);
    done
}

/// Whether somebody waits, for whoever asks again and again.
#[derive(Clone, Debug)]
pub(super) struct Sign(Option<Arc<AtomicBool>>);

impl Sign {
    /// That of this thread.
    pub(super) fn here() -> Sign {
        SIGN.with_borrow(Clone::clone)
    }

    /// Whether nobody waits any more.
    pub(super) fn is_off(&self) -> bool {
        self.0.as_ref().is_some_and(|called_off| called_off.load(Ordering::Relaxed))
    }
}
