//! Above each walkthrough: how many steps it has, its level, and whether it was checked.

use super::convert::Lines;
use super::place::Place;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::WalkSays;
use crate::lint::{WalkScene, check_walk};
use crate::notation::Keyword;
use serde::{Deserialize, Serialize};
use tower_lsp::ls_types::{CodeLens, Command, Position, Uri};

/// Which walkthrough is meant: what it has to say is worked out when it is seen.
#[derive(Clone, Serialize, Deserialize)]
pub struct Seen {
    /// The text.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
    at: Position,
}

/// A lens for each walkthrough of a text.
pub fn answer(snapshot: &Snapshot) -> Vec<CodeLens> {
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    let sections = snapshot.book.tree.sections.iter().enumerate();
    let words = sections.flat_map(|(at, section)| {
        let walks = section.statements.iter().filter(|it| it.keyword == Some(Keyword::Steps));
        walks.map(move |walk| (at, walk.word))
    });
    let lens = |(at, word)| {
        let range = lines.range(at, word);
        let seen = Seen { uri: snapshot.uri.clone(), version: snapshot.version, at: range.start };
        CodeLens { range, command: None, data: serde_json::to_value(seen).ok() }
    };
    words.map(lens).collect()
}

/// The lens with what it says. It does nothing.
pub fn resolve(snapshot: &Snapshot, seen: &Seen, lens: CodeLens) -> CodeLens {
    let place = Place::of(snapshot, seen.at);
    let at = WalkAt::of(snapshot, &place);
    let title = at.map_or("not checked".to_owned(), |at| title(snapshot, &place, &at));
    CodeLens { command: Some(Command { title, command: String::new(), arguments: None }), ..lens }
}

fn title(snapshot: &Snapshot, place: &Place, at: &WalkAt) -> String {
    let (ground, replay) = (at.ground(), at.replay());
    let lines = &at.walk.lines;
    let steps = lines.iter().filter(|line| matches!(line.says, WalkSays::Step(..))).count();
    let steps = counted(steps, "step");
    let (section, puzzle, layout) = (place.section, at.puzzle, ground.layout());
    let scene = WalkScene { section, puzzle, layout, walk: &at.walk, replay: &replay };
    let found = check_walk(&snapshot.book, place.at, &scene).len();
    if found > 0 {
        return format!("{steps}, {}", counted(found, "finding"));
    }
    let taken =
        replay.end.steps.iter().filter(|step| !step.supposed).map(|step| step.deduction.pattern.name());
    let finish = lines.iter().flat_map(|line| match &line.says {
        WalkSays::Finish(names) => names.as_slice(),
        _ => &[],
    });
    let names = taken.chain(finish.map(|name| name.name));
    match names.filter_map(|name| ground.ladder().level(name)).max() {
        Some(level) => format!("{steps}, level {level}, checked"),
        None => format!("{steps}, checked"),
    }
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
