//! Lessons that start from another puzzle: their walks are taken when all files are known.

use super::WalkScene;
use crate::book::{Puzzle, SectionId, Walkthrough, Workspace};
use crate::notation::Section;
use crate::replay::{self, Lender, Replay};
use crate::study::Start;
use std::collections::BTreeMap;

/// A lesson that starts from another puzzle, with its walkthroughs.
pub(super) struct Borrowing<'a> {
    section: &'a Section,
    puzzle: &'a Puzzle,
    start: Start,
    walks: Vec<(Walkthrough, Replay)>,
}

impl<'a> Borrowing<'a> {
    /// Those of a workspace, in order.
    pub fn all(workspace: &'a Workspace) -> Vec<(SectionId, Borrowing<'a>)> {
        let lessons = workspace.puzzles().filter(|(_, _, puzzle)| puzzle.lesson && !puzzle.unsure);
        // Many lessons may start from one walk.
        let mut lenders: BTreeMap<&str, Option<Lender>> = BTreeMap::new();
        let mut borrowing = |(id, _, puzzle): (SectionId, usize, &'a Puzzle)| {
            let section = workspace.section(id);
            let (from, point) = puzzle.borrows(section)?;
            let lender = lenders.entry(from).or_insert_with(|| Lender::find(workspace, from));
            let (start, state) = lender.as_ref()?.lend(point)?;
            let ladder = &workspace.books[id.book].ladder;
            let walks = replay::walks(section, puzzle, ladder, &start, &state);
            Some((id, Borrowing { section, puzzle, start, walks }))
        };
        lessons.filter_map(&mut borrowing).collect()
    }

    /// Each of its walkthroughs, as it is looked at.
    pub fn scenes(&self) -> impl Iterator<Item = WalkScene<'_>> {
        self.walks.iter().map(|(walk, replay)| WalkScene {
            section: self.section,
            puzzle: self.puzzle,
            layout: &self.start.layout,
            walk,
            replay,
        })
    }
}
