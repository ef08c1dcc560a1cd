//! Choosing puzzles by `--id`.

use super::terminal::{Terminal, Trouble};
use crate::book::Puzzle;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};

/// The ids asked for, and whether a puzzle of that id was met.
pub struct Ids(BTreeMap<String, AtomicBool>);

impl Ids {
    /// Nothing met yet.
    pub fn new(asked: &[String]) -> Ids {
        Ids(asked.iter().map(|id| (id.clone(), AtomicBool::new(false))).collect())
    }

    /// Whether all are to be taken: no id is asked for.
    pub fn are_all(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether `puzzle` is to be taken: it is asked for, or no id is.
    pub fn take(&self, puzzle: &Puzzle) -> bool {
        let met = puzzle.id.as_ref().and_then(|id| self.0.get(&id.text));
        match met {
            Some(met) => {
                met.store(true, Ordering::Relaxed);
                true
            }
            None => self.are_all(),
        }
    }

    /// Says which ids no puzzle had.
    pub fn say_missing(&self, terminal: &mut Terminal) {
        for (id, _) in self.0.iter().filter(|(_, met)| !met.load(Ordering::Relaxed)) {
            let what = "no puzzle of these files has this id";
            terminal.trouble(&Trouble::new(format!("--id {id}"), what, "check the id and the paths"));
        }
    }
}
