//! What is remembered beside the sheets of a puzzle, as its checks see it.

use super::PuzzleScene;
use super::walk::{put_lines_before, take_line_out};
use crate::book::{Sheet, known};
use crate::notation::Span;
use crate::replay::{Recollection, recollect};
use crate::study::{Start, Work};

/// A remembered fact with which something is wrong.
pub(super) struct Wrong {
    /// The claim.
    pub span: Span,
    /// Which of the section's lines.
    pub line: usize,
    /// What is wrong.
    pub what: Recollection,
}

/// The facts with which something is wrong. Beside a sheet that is wrong itself nothing is judged.
pub(super) fn wrong(scene: &PuzzleScene) -> Vec<Wrong> {
    let puzzle = scene.puzzle;
    let remembers = puzzle.telling && !puzzle.unsure && scene.takes_its_time();
    let start = if remembers { Start::of(puzzle).ok() } else { None };
    let Some(start) = start else { return Vec::new() };
    let sheets = std::iter::once(None).chain(puzzle.sheets.iter().map(Some));
    let of_sheet = |sheet: Option<&Sheet>| {
        let facts = known(scene.section, puzzle, sheet, &start.layout);
        let marked = match sheet.map(|sheet| start.work(sheet)) {
            None => start.position(),
            Some(Work::Sound { marked }) => marked,
            Some(Work::Mistaken(_)) => return Vec::new(),
        };
        if facts.is_empty() {
            return Vec::new();
        }
        let wrong = recollect(&start, scene.ladder, &marked, &facts).into_iter();
        let wrong = wrong.filter_map(|(at, what)| {
            let fact = &facts[at];
            Some(Wrong { span: fact.says.as_ref()?.span, line: fact.number, what })
        });
        wrong.collect::<Vec<_>>()
    };
    sheets.flat_map(of_sheet).collect()
}

impl Wrong {
    /// The change that takes its line out.
    pub(super) fn take_out(&self, scene: &PuzzleScene) -> (Span, String) {
        take_line_out(scene.section, self.line)
    }

    /// The change that puts lines before it.
    pub(super) fn put_before(&self, scene: &PuzzleScene, lines: &[String]) -> (Span, String) {
        put_lines_before(scene.section, self.line, lines)
    }
}
