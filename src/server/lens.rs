//! Above each puzzle: how many clues it has, its level, and where it stands again; above each walkthrough: how many steps it
//! has, its level, whether it was checked, and the way to read it as a page.

use super::findings::listed;
use super::outbox::Message;
use super::page;
use super::place::Place;
use super::settings::Shown;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::book::{Entry, Puzzle, Verdict, WalkSays};
use crate::lint::{WalkScene, check_walk};
use crate::notation::{Keyword, Span};
use crate::study::Grader;
use serde::{Deserialize, Serialize};
use tower_lsp::ls_types::{CodeLens, Command, Location, Position, Range, Uri};

/// The command that shows a place of a file.
pub const SHOW_PLACE: &str = "gridsetter.showPlace";

/// The lenses of a text, which are as many as its puzzles.
pub struct Lenses {
    uri: Uri,
    version: i32,
    all: Vec<(Range, What)>,
}

/// Which lens is meant: what it has to say is worked out when it is seen.
#[derive(Deserialize)]
pub struct Seen {
    /// The text.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
    at: Position,
    what: What,
}

/// A lens as it is written out, with what is [`Seen`] of it.
#[derive(Serialize)]
struct Lens<'a> {
    range: Range,
    data: Meant<'a>,
}

#[derive(Serialize)]
struct Meant<'a> {
    uri: &'a Uri,
    version: i32,
    at: Position,
    what: What,
}

/// What a lens speaks of.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum What {
    Puzzle,
    Walk,
    Run,
}

/// The lenses of a text.
pub fn answer(snapshot: &Snapshot) -> Lenses {
    let mut lenses = Lenses { uri: snapshot.uri.clone(), version: snapshot.version, all: Vec::new() };
    if snapshot.settings.lenses == Shown::Hide {
        return lenses;
    }
    let sections = snapshot.book.tree.sections.iter().zip(&snapshot.book.meanings).enumerate();
    for (at, (section, meaning)) in sections {
        let mut put = |what, word: Span| lenses.all.push((snapshot.range(at, word), what));
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            let statements = section.statements_of(item);
            if let (Entry::Puzzle(puzzle), Some(head)) = (entry, statements.first())
                && puzzle.judged()
            {
                put(What::Puzzle, head.word);
            }
            for walk in statements.iter().filter(|it| it.keyword == Some(Keyword::Steps)) {
                put(What::Walk, walk.word);
                put(What::Run, walk.word);
            }
        }
    }
    lenses
}

impl Message for Lenses {
    fn write(&self, to: &mut Vec<u8>) {
        to.push(b'[');
        listed(&self.all, to, |&(range, what), to| {
            let data = Meant { uri: &self.uri, version: self.version, at: range.start, what };
            Lens { range, data }.write(to);
        });
        to.push(b']');
    }
}

/// The lens with what it says, and what it does if there is something to do.
pub fn resolve(snapshot: &Snapshot, seen: &Seen, lens: CodeLens) -> CodeLens {
    let place = Place::of(snapshot, seen.at);
    let still = |title| Command { title, command: String::new(), arguments: None };
    let command = match seen.what {
        What::Puzzle => place.puzzle().map(|puzzle| of_puzzle(snapshot, puzzle)),
        What::Walk => {
            let at = WalkAt::of(snapshot, &place);
            Some(still(at.map_or("not checked".to_owned(), |at| of_walk(snapshot, &place, &at))))
        }
        What::Run => {
            let asked = page::Asked { uri: seen.uri.clone(), at: seen.at, what: page::What::Walk };
            Some(page::command("run the walk", &asked))
        }
    };
    CodeLens { command: Some(command.unwrap_or_else(|| still(String::new()))), ..lens }
}

/// How many clues, which level; where the same puzzle stands again, a way that leads there.
fn of_puzzle(snapshot: &Snapshot, puzzle: &Puzzle) -> Command {
    let clues = puzzle.givens.as_ref().map_or(0, |board| board.grid.filled());
    let mut title = counted(clues, "clue");
    if let (Verdict::One(_), Some(layout), Some(givens)) = (puzzle.verdict(), &puzzle.layout, &puzzle.givens)
    {
        let grader = Grader::of(layout, &snapshot.book.ladder);
        let level = grader.hardest(&givens.grid).and_then(|name| grader.ladder().level(name));
        title += &level.map_or(", beyond the ladder".to_owned(), |level| format!(", level {level}"));
    }
    let Some((id, how, place)) = again(snapshot, puzzle) else {
        return Command { title, command: String::new(), arguments: None };
    };
    Command {
        title: format!("{title}, repeats {id}: {how}"),
        command: SHOW_PLACE.to_owned(),
        arguments: serde_json::to_value(place).ok().map(|place| vec![place]),
    }
}

/// Where the first other puzzle stands that is the same in another dress: what it is called, how this one comes of it, and
/// the place.
fn again(snapshot: &Snapshot, puzzle: &Puzzle) -> Option<(String, String, Location)> {
    for (file, (_, book)) in snapshot.files().enumerate() {
        for (section, meaning) in book.meanings.iter().enumerate() {
            for other in meaning.puzzles().filter(|other| !std::ptr::eq(*other, puzzle)) {
                let Some(how) = puzzle.comes_of(other) else { continue };
                let id = other
                    .id
                    .as_ref()
                    .map_or("a puzzle without an id".to_owned(), |id| format!("`{}`", id.text));
                let place = snapshot.location(file, section, other.head)?;
                return Some((id, how, place));
            }
        }
    }
    None
}

fn of_walk(snapshot: &Snapshot, place: &Place, at: &WalkAt) -> String {
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
