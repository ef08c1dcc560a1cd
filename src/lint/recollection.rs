//! What is remembered beside the sheets of a puzzle, as its checks see it.

use super::PuzzleScene;
use crate::book::{Sheet, known};
use crate::notation::{Span, is_blank};
use crate::replay::{Counter, Recollection, recollect};
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
    /// What shows that it is false, in words.
    pub(super) fn against(&self, scene: &PuzzleScene, counter: Counter) -> String {
        match counter {
            Counter::Holds(cell, digit) if scene.puzzle.lesson => format!("{cell} can hold {digit}"),
            Counter::Holds(cell, digit) => format!("{cell} holds {digit} in the solution"),
            Counter::Misses(house, digits) => match &scene.puzzle.layout {
                Some(layout) => format!("{} misses {digits} here", layout.at(house).name),
                None => String::new(),
            },
            Counter::Settled(cell) => format!("{cell} is settled here"),
        }
    }

    /// The change that takes its line out.
    pub(super) fn take_out(&self, scene: &PuzzleScene) -> (Span, String) {
        let line = &scene.section.lines[self.line];
        let end = line.span.end as usize + line.ending.text().len();
        (Span::new(line.span.start as usize, end), String::new())
    }

    /// The change that puts lines before it.
    pub(super) fn put_before(&self, scene: &PuzzleScene, lines: &[String]) -> (Span, String) {
        let line = &scene.section.lines[self.line];
        let text = scene.section.at(line.span);
        let indent = &text[..text.len() - text.trim_start_matches(is_blank).len()];
        let ending = match line.ending.text() {
            "" => "\n",
            ending => ending,
        };
        let text = lines.iter().map(|line| format!("{indent}{line}{ending}")).collect();
        let start = line.span.start as usize;
        (Span::new(start, start), text)
    }
}
