//! The walkthrough at a place, and what a reader has there.

use super::place::Place;
use super::state::Snapshot;
use crate::book::{Book, Puzzle, WalkLine, Walkthrough, Workspace};
use crate::ladder::Ladder;
use crate::notation::Keyword;
use crate::replay::{self, Ground, Replay, State};
use crate::step::Position;
use crate::study::Start;
use crate::words::{Signs, Voice};

/// A walkthrough with the puzzle that it belongs to.
pub struct WalkAt<'a> {
    /// The puzzle or lesson.
    pub puzzle: &'a Puzzle,
    /// Where it starts.
    pub start: Start,
    /// The walkthrough.
    pub walk: Walkthrough,
    ladder: &'a Ladder,
    begin: State,
}

impl<'a> WalkAt<'a> {
    /// The walkthrough in which a place lies, or below whose last line; `None` too where it cannot be reasoned about.
    pub fn of(snapshot: &'a Snapshot, place: &Place<'a>) -> Option<WalkAt<'a>> {
        let (line, _) = place.line()?;
        let statements = &place.section.statements;
        let number = statements.partition_point(|statement| statement.line <= line).checked_sub(1)?;
        let here = statements[number].keyword == Some(Keyword::Steps);
        if here { WalkAt::found(snapshot, place, |walk| walk.statement == number) } else { None }
    }

    /// The walkthrough without a name of the puzzle in which a place lies.
    pub fn unnamed(snapshot: &'a Snapshot, place: &Place<'a>) -> Option<WalkAt<'a>> {
        WalkAt::found(snapshot, place, |walk| walk.name.is_none())
    }

    fn found(
        snapshot: &'a Snapshot,
        place: &Place<'a>,
        is_meant: impl Fn(&Walkthrough) -> bool,
    ) -> Option<WalkAt<'a>> {
        let puzzle = place.puzzle()?;
        let (start, begin) = if puzzle.borrows(place.section).is_some() {
            let others = snapshot.others.iter().map(|(_, book)| book);
            let books = std::iter::once(&snapshot.book).chain(others).map(|book| Book::clone(book));
            replay::borrowed(&Workspace::new(books.collect()), place.section, puzzle)?
        } else {
            let start = Start::of(puzzle).ok()?;
            let begin = State::new(start.position());
            (start, begin)
        };
        let walk = Walkthrough::all(place.section, puzzle, &start.layout).find(is_meant)?;
        Some(WalkAt { puzzle, start, walk, ladder: &snapshot.book.ladder, begin })
    }

    /// The voice in which its steps are told.
    pub fn voice(&self) -> Voice<'a> {
        Voice::default().with_signs(Signs(self.puzzle.facts.signs()))
    }

    /// What it is held against.
    pub fn ground(&self) -> Ground<'_> {
        Ground::new(&self.start, self.ladder, self.puzzle, &self.walk)
    }

    /// What comes of it.
    pub fn replay(&self) -> Replay {
        Replay::of(&self.ground(), &self.walk, self.begin.clone())
    }

    /// What a reader has before a line of the section.
    pub fn before(&self, number: usize) -> State {
        let lines = self.walk.lines.iter().filter(|line| line.number < number).cloned().collect();
        let part = Walkthrough { lines, ..self.walk.clone() };
        Replay::of(&self.ground(), &part, self.begin.clone()).end
    }

    /// Its line in which a place lies.
    pub fn line(&self, place: &Place) -> Option<&WalkLine> {
        let (number, _) = place.line()?;
        self.walk.lines.iter().find(|line| line.number == number as usize)
    }

    /// What a reader knows at a place that lies in one of its lines.
    pub fn known(&self, place: &Place) -> Option<Position> {
        Some(self.before(self.line(place)?.number).known)
    }
}
