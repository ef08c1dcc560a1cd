//! What of a file could not be read, said where a command leans on it.

use super::place::Places;
use super::telling::Telling;
use crate::book::SectionId;
use crate::lint::{self, Report, Scene};
use crate::notation::Keyword;
use std::collections::BTreeSet;

/// What says which grid is meant, in a puzzle or for all that follow.
const GEOMETRY: [Keyword; 5] =
    [Keyword::Size, Keyword::Boxes, Keyword::Rules, Keyword::Regions, Keyword::House];

/// Says what could not be read of these statements of an item; a line of which nobody can tell what it says is one of them.
/// Of each statement the first trouble is said.
pub fn say_item(at: SectionId, item: usize, leans_on: &[Keyword], places: &Places, telling: &mut Telling) {
    let workspace = places.workspace();
    let scene = Scene { section: workspace.section(at), meaning: workspace.meaning(at) };
    let mut said = BTreeSet::new();
    for report in lint::unread(&workspace.books[at.book], at.section) {
        let span = report.spot.span;
        let statement = scene.statement_at(span).and_then(|it| Some((it.keyword?, it.word)));
        let leans = statement.is_none_or(|(keyword, _)| leans_on.contains(&keyword));
        if leans && scene.item_at(span) == item && said.insert(statement) {
            let what = statement.map_or("a line".to_owned(), |(keyword, _)| format!("`{}`", keyword.word()));
            telling.found();
            telling.remark(sentence(&report, at, &what, places));
        }
    }
}

/// Says the same of what stands between the puzzles of a file and holds for them: of what these lean on, and of which grid
/// is meant.
pub fn say_openings(book: usize, leans_on: &[Keyword], places: &Places, telling: &mut Telling) {
    let leans_on = [leans_on, &GEOMETRY].concat();
    for (section, tree) in places.workspace().books[book].tree.sections.iter().enumerate() {
        for (item, _) in tree.items.iter().enumerate().filter(|(_, item)| item.kind.is_opening()) {
            say_item(SectionId { book, section }, item, &leans_on, places, telling);
        }
    }
}

fn sentence(report: &Report, at: SectionId, what: &str, places: &Places) -> String {
    let line = places.place(at, report.spot.span.start as usize).line;
    let puzzle = report.puzzle.as_ref().map_or_else(String::new, |id| format!(" {id}:"));
    let (file, message) = (places.file(at.book), &report.message);
    format!("{file}:{line}:{puzzle} {what} could not be read: {message}; `gridsetter check` says more")
}
