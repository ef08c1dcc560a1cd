//! How far a long job is, for who watches it on a terminal.

use std::time::{Duration, Instant};

/// A job that is done within this needs no word.
const SHORT: Duration = Duration::from_secs(1);

/// The line is written anew no more often than this.
const EVERY: Duration = Duration::from_millis(250);

/// What wipes the line, and leaves the cursor at its beginning.
pub const WIPE: &str = "\r\u{1b}[K";

/// How far a job is: a line that is written over from time to time.
pub struct Progress {
    begun: Instant,
    written: Option<Instant>,
    /// Whether the line stands there.
    shown: bool,
}

/// How much there is to do.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Extent {
    /// So many puzzles.
    Puzzles(usize),
    /// So many bytes, of which so many are done with.
    Bytes { done: u64, all: u64 },
    /// That is not known.
    Open,
}

impl Progress {
    /// A job begins now.
    pub fn new(now: Instant) -> Progress {
        Progress { begun: now, written: None, shown: false }
    }

    /// The line to write now, if it is time for one.
    pub fn line(&mut self, now: Instant, done: usize, extent: Extent) -> Option<String> {
        let passed = now - self.begun;
        if passed < SHORT || self.written.is_some_and(|written| now - written < EVERY) {
            return None;
        }
        self.written = Some(now);
        self.shown = true;
        let rate = (done as u128 * 1000 / passed.as_millis().max(1)).to_string();
        let so_far = match extent {
            Extent::Puzzles(all) => format!("{done} of {all} puzzles"),
            Extent::Bytes { done: bytes, all } => {
                let share = u128::from(bytes) * 100 / u128::from(all.max(1));
                format!("{done} puzzles, {share} % of the text")
            }
            Extent::Open => format!("{done} puzzles"),
        };
        Some(format!("{so_far}, {rate} a second"))
    }

    /// The line is to be wiped now; whether there is one.
    pub fn wipe(&mut self) -> bool {
        std::mem::take(&mut self.shown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_comes_after_a_second_and_then_from_time_to_time() {
        let begun = Instant::now();
        let at = |milliseconds| begun + Duration::from_millis(milliseconds);
        let mut progress = Progress::new(begun);
        assert_eq!(progress.line(at(999), 10, Extent::Open), None);
        let bytes = Extent::Bytes { done: 410, all: 1000 };
        assert_eq!(progress.line(at(1000), 50, bytes).unwrap(), "50 puzzles, 41 % of the text, 50 a second");
        assert!(progress.wipe() && !progress.wipe());
        assert_eq!(progress.line(at(1249), 60, bytes), None);
        let all = Extent::Puzzles(80);
        assert_eq!(progress.line(at(2000), 70, all).unwrap(), "70 of 80 puzzles, 35 a second");
        assert_eq!(progress.line(at(2500), 75, Extent::Open).unwrap(), "75 puzzles, 30 a second");
    }
}
