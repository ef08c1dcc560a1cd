//! Work on all processors, told in the order in which it was given.

use rayon::Scope;
use std::collections::VecDeque;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};

/// For each processor, so much work is given before the first of it is told: enough that none waits, and no more, since
/// all of it lies in memory.
const AHEAD: usize = 8;

/// Work that was given, in order, as far as its results were not taken yet.
pub struct InOrder<'a, 'scope, T> {
    scope: &'a Scope<'scope>,
    given: VecDeque<Receiver<T>>,
    most: usize,
}

impl<'a, 'scope, T: Send + 'scope> InOrder<'a, 'scope, T> {
    /// Nothing given yet. Whatever is given ends before the scope does.
    pub fn new(scope: &'a Scope<'scope>) -> InOrder<'a, 'scope, T> {
        InOrder { scope, given: VecDeque::new(), most: AHEAD * rayon::current_num_threads() }
    }

    /// Gives work. Take what is [`ready`](InOrder::ready) after it.
    pub fn give(&mut self, work: impl FnOnce() -> T + Send + 'scope) {
        let (done, result) = sync_channel(1);
        // Where nobody takes results any more, this one is not missed.
        self.scope.spawn(move |_| _ = done.send(work()));
        self.given.push_back(result);
    }

    /// The next result, if it is there; where much is given already, it is waited for.
    pub fn ready(&mut self) -> Option<T> {
        if self.given.len() >= self.most {
            return self.next();
        }
        match self.given.front()?.try_recv() {
            Err(TryRecvError::Empty) => None,
            result => {
                self.given.pop_front();
                result.ok()
            }
        }
    }

    /// The next result, once it is there; `None` if there is no more, or a fault has ended the work: then the scope passes
    /// it on.
    pub fn next(&mut self) -> Option<T> {
        self.given.pop_front()?.recv().ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::thread;
    use std::time::Duration;

    #[test]
    fn results_come_in_order_and_few_wait() {
        let under_way = AtomicUsize::new(0);
        let mut told = Vec::new();
        rayon::in_place_scope(|scope| {
            let mut all = InOrder::new(scope);
            let most = all.most;
            for number in 0..500 {
                let before = under_way.fetch_add(1, Ordering::SeqCst);
                assert!(before <= most, "{before}");
                all.give(move || {
                    // The first ones take longest, so that they are done out of order.
                    thread::sleep(Duration::from_micros(if number % 7 == 0 { 300 } else { 0 }));
                    number
                });
                while let Some(number) = all.ready() {
                    under_way.fetch_sub(1, Ordering::SeqCst);
                    told.push(number);
                }
            }
            told.extend(std::iter::from_fn(|| all.next()));
        });
        assert!(told.into_iter().eq(0..500));
    }
}
