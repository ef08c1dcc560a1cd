//! Lessons that start from another puzzle: their walks are taken when all files are known.

use super::WalkScene;
use crate::book::{SectionId, Workspace};
use crate::replay::{self, Lender};
use std::collections::BTreeMap;

/// Looks at each walkthrough of the lessons of a workspace that start from another puzzle, in order.
pub(super) fn each_walk(workspace: &Workspace, look: &mut dyn FnMut(SectionId, &WalkScene)) {
    // Many lessons may start from one walk.
    let mut lenders: BTreeMap<&str, Option<Lender>> = BTreeMap::new();
    for (id, _, puzzle) in workspace.puzzles().filter(|(_, _, puzzle)| puzzle.lesson && !puzzle.unsure) {
        let (section, ladder) = (workspace.section(id), &workspace.books[id.book].ladder);
        let Some((from, point)) = puzzle.borrows(section) else { continue };
        let lender = lenders.entry(from).or_insert_with(|| Lender::find(workspace, from));
        let Some((start, state)) = lender.as_ref().and_then(|lender| lender.lend(point)) else { continue };
        for (walk, replay) in replay::walks(section, puzzle, ladder, &start, &state) {
            let (layout, walk, replay) = (&*start.layout, &walk, &replay);
            look(id, &WalkScene { section, puzzle, layout, walk, replay });
        }
    }
}
