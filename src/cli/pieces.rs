//! A list of any length, read piece by piece.

use super::input::{Source, is_utf16};
use super::terminal::{Trouble, words};
use crate::book::Book;
use crate::files::MOST_BYTES;
use std::fs::File;
use std::io::{self, Read};
use std::sync::Arc;

/// So many bytes are asked for at once.
const AT_ONCE: usize = 256 << 10;

/// A piece is the lines up to the first that ends behind so many bytes: enough that the work on it is more than the work to
/// hand it over, few enough that its first puzzle does not wait long for its last.
const PIECE: usize = 2 << 10;

/// The pieces of a list, in order.
pub struct Pieces<'a> {
    source: &'a Source,
    input: Box<dyn Read>,
    /// What was read, from the first line that was not given yet on.
    read: Vec<u8>,
    /// Where in it the lines begin that were not given yet.
    begin: usize,
    /// Where in it the last whole line ends.
    whole: usize,
    /// How many lines were given.
    lines: usize,
    /// Whether something of it was not UTF-8.
    bad: bool,
    /// Whether something was read, and a piece was given.
    begun: bool,
    given: bool,
}

/// Some whole lines of a list.
pub struct Piece {
    bytes: Vec<u8>,
    /// So many lines stand before it.
    pub ahead: usize,
    /// Among them are the first bytes of the list that are not UTF-8.
    bad: bool,
}

impl<'a> Pieces<'a> {
    /// Opens a list.
    ///
    /// # Errors
    /// If that cannot be.
    pub fn of(source: &'a Source) -> Result<Pieces<'a>, Trouble> {
        let input: Box<dyn Read> = match &source.path {
            Some(path) => Box::new(File::open(path).map_err(|error| unread(source, &error))?),
            None => Box::new(io::stdin()),
        };
        let (read, begin, whole) = (Vec::new(), 0, 0);
        Ok(Pieces { source, input, read, begin, whole, lines: 0, bad: false, begun: false, given: false })
    }

    /// The next piece.
    ///
    /// # Errors
    /// If it cannot be read, has too long a line, or is not text in the one encoding that is read.
    pub fn next(&mut self) -> Result<Option<Piece>, Trouble> {
        if !self.has_more() {
            self.read_on()?;
        }
        let rest = &self.read[self.begin..self.whole];
        if rest.is_empty() {
            // A list with nothing in it is a list all the same.
            let first = !std::mem::replace(&mut self.given, true);
            return Ok(first.then(|| Piece { bytes: Vec::new(), ahead: 0, bad: false }));
        }
        self.given = true;
        let least = rest.len().min(PIECE) - 1;
        let end = memchr::memchr(b'\n', &rest[least..]).map_or(rest.len(), |at| least + at + 1);
        let bytes = rest[..end].to_vec();
        let bad = !self.bad && std::str::from_utf8(&bytes).is_err();
        self.bad |= bad;
        self.begin += end;
        let ahead = self.lines;
        self.lines += line_ends(&bytes);
        Ok(Some(Piece { bytes, ahead, bad }))
    }

    /// Whether the next piece is there already; otherwise, more must be read for it, and that may be long in coming.
    pub fn has_more(&self) -> bool {
        self.begin < self.whole
    }

    /// Reads until there is a whole line, or the list ends.
    fn read_on(&mut self) -> Result<(), Trouble> {
        self.read.drain(..self.begin);
        self.begin = 0;
        loop {
            let known = self.read.len();
            self.read.resize(known + AT_ONCE, 0);
            let more = self.input.read(&mut self.read[known..]);
            self.read.truncate(known + *more.as_ref().unwrap_or(&0));
            match more {
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(error) => return Err(unread(self.source, &error)),
                Ok(0) => self.whole = known,
                Ok(_) => {
                    let last = memchr::memrchr(b'\n', &self.read[known..]);
                    self.whole = last.map_or(0, |at| known + at + 1);
                }
            }
            if !self.begun && is_utf16(&self.read) {
                return Err(Trouble::new(&self.source.name, "is UTF-16 text", "save it as UTF-8"));
            }
            self.begun = true;
            if self.whole > 0 || self.read.len() == known {
                return Ok(());
            }
            if self.read.len() as u64 > MOST_BYTES {
                let what = format!("has a line of more than {} MiB", MOST_BYTES >> 20);
                return Err(Trouble::new(&self.source.name, what, "write one puzzle a line"));
            }
        }
    }
}

impl Piece {
    /// What it says.
    pub fn book(self, name: &str) -> Book {
        match String::from_utf8(self.bytes) {
            Ok(text) => Book::read_list_shared(name, &Arc::new(text)),
            Err(error) if self.bad => Book::read_list_bytes(name, error.as_bytes()),
            Err(error) => Book::read_list(name, &String::from_utf8_lossy(error.as_bytes())),
        }
    }
}

/// How many lines end in `bytes`; a `\r` before a `\n` is part of the same end.
fn line_ends(bytes: &[u8]) -> usize {
    let returns = memchr::memchr_iter(b'\r', bytes).filter(|at| bytes.get(at + 1) != Some(&b'\n'));
    memchr::memchr_iter(b'\n', bytes).count() + returns.count()
}

fn unread(source: &Source, error: &io::Error) -> Trouble {
    Trouble::new(&source.name, words(error), "nothing more of it was read")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Workspace;

    /// Gives a few bytes at a time.
    struct Trickle(Vec<u8>, usize);

    impl Read for Trickle {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            let few = self.1.min(self.0.len()).min(buffer.len());
            buffer[..few].copy_from_slice(&self.0[..few]);
            self.0.drain(..few);
            Ok(few)
        }
    }

    fn lines_of(workspace: &Workspace) -> Vec<String> {
        workspace
            .books
            .iter()
            .flat_map(|book| &book.tree.sections)
            .map(|section| section.text.to_string())
            .collect()
    }

    #[test]
    fn pieces_are_the_list_however_it_comes() {
        let line =
            |n: usize| format!("{}{}", ".1..".repeat(4), [" a\n", "\r\n", " é\r", "\n", " b c\n"][n % 5]);
        let mut text: Vec<u8> = (0..400).map(line).collect::<String>().into_bytes();
        text.extend_from_slice(b"12\xff34 \xfe\n# last");
        let source = Source { name: "a.txt".into(), path: None, list: true };
        let whole = Workspace::new(vec![Book::read_list_bytes("a.txt", &text)]);
        for few in [1, 7, 100, 5000, 1 << 20] {
            let input = Box::new(Trickle(text.clone(), few));
            let mut pieces = Pieces { input, ..Pieces::of(&source).unwrap() };
            let (mut lines, mut faults) = (Vec::new(), 0);
            while let Some(piece) = pieces.next().unwrap() {
                assert_eq!(piece.ahead, lines.len());
                let book = piece.book("a.txt");
                faults += book.tree.sections.iter().map(|section| section.faults.len()).sum::<usize>();
                lines.extend(lines_of(&Workspace::new(vec![book])));
            }
            assert_eq!(lines, lines_of(&whole), "{few} at a time");
            assert_eq!(faults, whole.sections().map(|(_, section, _)| section.faults.len()).sum::<usize>());
        }
    }
}
