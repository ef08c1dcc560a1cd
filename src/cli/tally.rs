//! How many puzzles were looked at, and how many of them came to what was asked.

use super::terminal::Terminal;

/// What a job came to, by the puzzle.
#[derive(Default)]
pub struct Tally {
    /// How many were looked at.
    pub puzzles: usize,
    /// How many came to what was asked: a walk to the end, a level.
    pub finished: usize,
}

impl Tally {
    /// Counts a puzzle; one that did not come to it is something that was found.
    pub fn take(&mut self, finished: bool, terminal: &mut Terminal) {
        self.puzzles += 1;
        if finished {
            self.finished += 1;
        } else {
            terminal.found();
        }
    }
}
