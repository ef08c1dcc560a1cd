//! Pictures and pages: what is read back from them is what they were made of, a step's picture has what the step rests
//! on and nothing else, no page without answers holds one, and all are valid.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod digits;
mod files;
mod reader;
mod secret;
mod valid;
mod why;

use gridsetter::book::{Book, Puzzle, Workspace};
use gridsetter::draw::{Length, Look};
use gridsetter::print::{Press, Subject};
use gridsetter::words::Voice;
use std::fs;

/// How pages are printed where nothing else is said.
pub(crate) fn press(words: bool) -> Press {
    Press { voice: Voice::default(), look: Look::default(), width: width(), words }
}

pub(crate) fn width() -> Length {
    "90mm".parse().unwrap()
}

/// Calls `take` with each puzzle and lesson of the samples and of the demo volume.
pub(crate) fn each_subject(mut take: impl FnMut(Subject)) {
    let mut count = 0;
    for folder in ["tests/samples", "demo/volume"] {
        for entry in fs::read_dir(folder).unwrap() {
            let text = fs::read_to_string(entry.unwrap().path()).unwrap();
            let workspace = Workspace::new(vec![Book::read("it.gset", &text)]);
            for (id, at, puzzle) in workspace.puzzles() {
                count += 1;
                take(subject(&workspace, id, at, puzzle));
            }
        }
    }
    assert!(count > 30, "{count} puzzles");
}

pub(crate) fn subject<'a>(
    workspace: &'a Workspace,
    id: gridsetter::book::SectionId,
    at: usize,
    puzzle: &'a Puzzle,
) -> Subject<'a> {
    let section = workspace.section(id);
    let (book, item) = (&workspace.books[id.book], &section.items[at]);
    Subject { workspace, book, section, item, puzzle, voice: Voice::default(), number: None }
}
