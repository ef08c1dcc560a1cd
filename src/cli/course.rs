//! The way through all files: part by part, on all processors, and told in order.

use super::in_order::InOrder;
use super::input::{Source, Text};
use super::pieces::{Piece, Pieces};
use super::progress::Extent;
use super::project::Projects;
use super::puzzles::Together;
use super::room::make_room;
use super::stop::Stop;
use super::telling::Telling;
use super::terminal::{Closed, Terminal, Trouble};
use crate::settings::Project;
use std::ops::Range;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A file of the notation up to this many bytes is read where its puzzles are looked at; a longer one is read first, and its
/// puzzles are shared out.
const SMALL: usize = 16 << 10;

/// So many bytes of a longer one are looked at together.
const SHARE: usize = 4 << 10;

/// Some sections of a file, or a piece of a list.
pub struct Part<'a> {
    /// The file by itself, or the piece.
    pub all: &'a Arc<Together>,
    /// Which sections of it.
    pub sections: Range<usize>,
    stop: &'a Stop,
    enough: &'a AtomicBool,
}

impl Part<'_> {
    /// Whether nobody waits for what is found any more.
    pub fn is_given_up(&self) -> bool {
        self.enough.load(Ordering::Relaxed) || self.stop.is_asked()
    }

    fn bytes(&self) -> u64 {
        let sections = &self.all.workspace().books[0].tree.sections[self.sections.clone()];
        sections.iter().map(|section| section.text.len() as u64).sum()
    }
}

/// Looks at each part of these files, and calls `take` with what was found, in order; it says how many puzzles that were.
/// Lists of any length are read piece by piece, other files one by one. What cannot be read is told.
///
/// # Errors
/// [`Closed`] if standard output takes nothing more, or the user wants no more.
pub fn each_part<T: Send>(
    sources: &[Source],
    projects: &mut Projects,
    terminal: &mut Terminal,
    look: &(impl Fn(&Part) -> T + Sync),
    take: &mut dyn FnMut(T, &mut Terminal) -> Result<usize, Closed>,
) -> Result<(), Closed> {
    let sizes: Option<Vec<u64>> = sources.iter().map(Source::len).collect();
    let looking = Looking { look, stop: terminal.stop().clone(), enough: AtomicBool::new(false) };
    looking.stop.ends_itself(true);
    terminal.begin();
    let ended = rayon::in_place_scope(|scope| {
        let mut course = Course {
            looking: &looking,
            results: InOrder::new(scope),
            take,
            terminal,
            bytes: 0,
            all: sizes.map(|sizes| sizes.into_iter().sum()),
        };
        let ended = course.run(sources, projects);
        looking.enough.store(true, Ordering::Relaxed);
        ended
    });
    terminal.end();
    looking.stop.ends_itself(false);
    ended
}

/// What is done with each part.
struct Looking<'a, L> {
    look: &'a L,
    stop: Stop,
    /// Nobody listens any more.
    enough: AtomicBool,
}

impl<L> Looking<'_, L> {
    fn at<T>(&self, all: Together, before: Telling) -> Done<T>
    where
        L: Fn(&Part) -> T,
    {
        let sections = 0..all.workspace().books[0].tree.sections.len();
        self.within(&Arc::new(all), sections, before)
    }

    fn within<T>(&self, all: &Arc<Together>, sections: Range<usize>, before: Telling) -> Done<T>
    where
        L: Fn(&Part) -> T,
    {
        let part = Part { all, sections, stop: &self.stop, enough: &self.enough };
        Done { before, found: Some((self.look)(&part)), bytes: part.bytes() }
    }
}

/// What was found in a part.
struct Done<T> {
    /// What is told before it.
    before: Telling,
    found: Option<T>,
    bytes: u64,
}

/// The way through all files.
struct Course<'a, 'scope, T, L> {
    looking: &'scope Looking<'scope, L>,
    results: InOrder<'a, 'scope, Done<T>>,
    take: &'a mut dyn FnMut(T, &mut Terminal) -> Result<usize, Closed>,
    terminal: &'a mut Terminal,
    /// How many bytes are done with, of how many, where that is known.
    bytes: u64,
    all: Option<u64>,
}

impl<'scope, T, L> Course<'_, 'scope, T, L>
where
    T: Send + 'scope,
    L: Fn(&Part) -> T + Sync,
{
    fn run(&mut self, sources: &[Source], projects: &mut Projects) -> Result<(), Closed> {
        for source in sources {
            match projects.of(source) {
                Ok(project) if source.list => self.list(source, project.as_ref())?,
                Ok(project) => self.file(source, project)?,
                Err(trouble) => self.trouble(trouble)?,
            }
        }
        self.catch_up()
    }

    /// A list, piece by piece.
    fn list(&mut self, source: &Source, project: Option<&Arc<Project>>) -> Result<(), Closed> {
        let mut pieces = match Pieces::of(source) {
            Ok(pieces) => pieces,
            Err(trouble) => return self.trouble(trouble),
        };
        let (name, looking): (Arc<str>, _) = (Arc::from(&*source.name), self.looking);
        let mut before = being_read(source);
        loop {
            let piece: Piece = match pieces.next() {
                Ok(Some(piece)) => piece,
                Ok(None) => return self.tell_of(before),
                Err(trouble) => {
                    before.trouble(trouble);
                    return self.tell_of(before);
                }
            };
            let (name, project, before) = (Arc::clone(&name), project.cloned(), std::mem::take(&mut before));
            self.give(move || {
                let ahead = piece.ahead;
                looking.at(Together::new([(piece.book(&name), ahead, project)]), before)
            })?;
            if source.path.is_none() && !pieces.has_more() {
                self.catch_up()?;
            }
        }
    }

    /// A file of the notation.
    fn file(&mut self, source: &Source, project: Option<Arc<Project>>) -> Result<(), Closed> {
        let text: Text = match source.read() {
            Ok(text) => text,
            Err(trouble) => return self.trouble(trouble),
        };
        let (looking, mut before) = (self.looking, being_read(source));
        if text.bytes().len() <= SMALL {
            let source = source.clone();
            return self.give(move || looking.at(Together::new([(source.book(&text), 0, project)]), before));
        }
        make_room(text.bytes().len());
        let all = Arc::new(Together::new([(source.book(&text), 0, project)]));
        drop(text);
        let mut begin = 0;
        let mut bytes = 0;
        let sections = &all.workspace().books[0].tree.sections;
        for (section, end) in sections.iter().zip(1..) {
            bytes += section.text.len();
            if bytes >= SHARE || end == sections.len() {
                let (all, sections, before) = (Arc::clone(&all), begin..end, std::mem::take(&mut before));
                self.give(move || looking.within(&all, sections, before))?;
                (begin, bytes) = (end, 0);
            }
        }
        Ok(())
    }

    fn trouble(&mut self, trouble: Trouble) -> Result<(), Closed> {
        let mut telling = Telling::default();
        telling.trouble(trouble);
        self.tell_of(telling)
    }

    fn tell_of(&mut self, before: Telling) -> Result<(), Closed> {
        self.give(move || Done { before, found: None, bytes: 0 })
    }

    /// Gives work, and tells what is done of what was given before.
    fn give(&mut self, work: impl FnOnce() -> Done<T> + Send + 'scope) -> Result<(), Closed> {
        self.results.give(work);
        while let Some(done) = self.results.ready() {
            self.tell(done)?;
        }
        Ok(())
    }

    /// Tells all that was given.
    fn catch_up(&mut self) -> Result<(), Closed> {
        while let Some(done) = self.results.next() {
            self.tell(done)?;
        }
        Ok(())
    }

    fn tell(&mut self, done: Done<T>) -> Result<(), Closed> {
        self.terminal.tell(done.before)?;
        let puzzles = done.found.map_or(Ok(0), |found| (self.take)(found, self.terminal))?;
        self.terminal.flush()?;
        self.bytes += done.bytes;
        let extent = self.all.map_or(Extent::Open, |all| Extent::Bytes { done: self.bytes, all });
        let stop = &self.looking.stop;
        self.terminal.advance(stop.told(puzzles), extent);
        if stop.is_asked() { Err(self.terminal.leave_off()) } else { Ok(()) }
    }
}

/// What is said of a file that is read.
fn being_read(source: &Source) -> Telling {
    let mut telling = Telling::default();
    telling.detail(format!("read {}", source.name));
    telling
}
