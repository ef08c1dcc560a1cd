//! One file, and what a change of its text changes in it.

use super::begins::Begins;
use super::values::title;
use super::{Defaults, Entry, Layouts, Meaning, Puzzle};
use crate::ladder::Ladder;
use crate::notation::{self, ItemKind, Keyword, Section, Statement, Text, Tree};
use rayon::prelude::*;
use std::ops::Range;
use std::sync::Arc;

/// From so many sections on, a file is read on all processors.
pub(super) const MANY: usize = 64;

/// One file.
#[derive(Clone, Debug)]
pub struct Book {
    /// What people call it: a path as it was given, or the name for standard input.
    pub name: String,
    /// Its text, read.
    pub tree: Tree,
    /// The ladder by which levels and patterns are meant.
    pub ladder: Arc<Ladder>,
    /// What each section of the tree means, in the same order.
    pub meanings: Vec<Arc<Meaning>>,
    begins: Begins,
    /// What holds by default where each section begins.
    defaults: Vec<Arc<Defaults>>,
    /// The sections in which a part begins, rising.
    parts: Vec<usize>,
    layouts: Layouts,
}

/// Which sections of a book a change took out, and which came in their place, as indices.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Touched {
    /// In the book as it was.
    pub old: Range<usize>,
    /// In the book as it is; they begin where the old ones did.
    pub new: Range<usize>,
    /// Sections behind these belong to another part, or to none, though they are as they were.
    pub parts_moved: bool,
}

impl Book {
    /// Reads the text of a file in the notation.
    pub fn read(name: &str, text: &str) -> Book {
        Book::of(name, notation::read(text))
    }

    /// The same; the book shares the text.
    pub fn read_shared(name: &str, text: &Arc<String>) -> Book {
        Book::of(name, notation::read_shared(text))
    }

    /// Reads the text of a list: one puzzle a line.
    pub fn read_list(name: &str, text: &str) -> Book {
        Book::of(name, notation::read_list(text))
    }

    /// The same; the book shares the text.
    pub fn read_list_shared(name: &str, text: &Arc<String>) -> Book {
        Book::of(name, notation::read_list_shared(text))
    }

    /// Reads the bytes of a file in the notation. What is not UTF-8 is read as U+FFFD, and is a fault of its section.
    pub fn read_bytes(name: &str, bytes: &[u8]) -> Book {
        Book::of(name, as_tree(bytes, notation::read))
    }

    /// Reads the bytes of a list, likewise.
    pub fn read_list_bytes(name: &str, bytes: &[u8]) -> Book {
        Book::of(name, as_tree(bytes, notation::read_list))
    }

    /// The same book, with levels and patterns meant by this ladder.
    #[must_use]
    pub fn with_ladder(self, ladder: Arc<Ladder>) -> Book {
        Book { ladder, ..self }
    }

    /// The ids of its puzzles and lessons, in order.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.meanings.iter().flat_map(|meaning| &meaning.entries).filter_map(|entry| match entry {
            Entry::Puzzle(puzzle) => puzzle.id.as_ref().map(|id| id.text.as_str()),
            _ => None,
        })
    }

    /// The printed number of the puzzle that each section begins with: its own, or as `numbers from` has them run, one more
    /// than that of the puzzle before. A lesson has none but its own.
    pub fn numbers(&self) -> Vec<Option<u32>> {
        let mut next: Option<u32> = self.value(Keyword::Numbers, 1).and_then(|first| first.parse().ok());
        let number = |meaning: &Arc<Meaning>| {
            let first = meaning.puzzles().next();
            let own = first.and_then(|puzzle| puzzle.facts.number.as_ref()).filter(|number| number.own);
            let runs = first.is_some_and(|puzzle| !puzzle.lesson && !puzzle.unsure);
            let number = own.map(|number| number.value).or(next.filter(|_| runs));
            next = number.map_or(next, |number| next.and(number.checked_add(1)));
            number
        };
        self.meanings.iter().map(number).collect()
    }

    fn of(name: &str, tree: Tree) -> Book {
        let begins = Begins::of(&tree.sections);
        let mut book = Book {
            name: name.to_owned(),
            tree,
            ladder: Arc::default(),
            meanings: Vec::new(),
            begins,
            defaults: Vec::new(),
            parts: Vec::new(),
            layouts: Layouts::default(),
        };
        // Only what stands between puzzles changes what holds for others; when that is known, all can be read at once.
        let (mut holds, mut openings) = (Arc::default(), Vec::new());
        for (at, section) in book.tree.sections.iter().enumerate() {
            book.defaults.push(Arc::clone(&holds));
            let opens = section.items.iter().any(|item| item.kind.is_opening());
            if opens && is_part(section) {
                book.parts.push(at);
            }
            let meaning = opens.then(|| Arc::new(Meaning::of(section, &holds, &book.layouts)));
            if let Some(changed) = meaning.as_ref().and_then(|meaning| meaning.defaults.as_ref()) {
                holds = Arc::clone(changed);
            }
            openings.push(meaning);
        }
        let understand = |(section, (holds, opening)): (usize, (&Arc<Defaults>, Option<Arc<Meaning>>))| {
            opening
                .unwrap_or_else(|| Arc::new(Meaning::of(&book.tree.sections[section], holds, &book.layouts)))
        };
        let sections = book.defaults.iter().zip(openings).enumerate();
        book.meanings = if book.tree.sections.len() < MANY {
            sections.map(understand).collect()
        } else {
            let sections: Vec<_> = sections.collect();
            sections.into_par_iter().with_min_len(MANY / 4).map(understand).collect()
        };
        book
    }

    /// Puts `new` in the place of the bytes `range` of its text, and reads again what that touches: mostly one section,
    /// however long the file is. After a change of what holds by default, all for which it holds is understood anew.
    ///
    /// What comes of it is what [`Book::read`] makes of the changed text. The text comes first: whatever fails in reading it,
    /// a fault in the program itself, the tree holds the changed text, with its lines, and the places of its sections.
    ///
    /// # Panics
    /// If the text has no such range, or one of its ends is within a character.
    pub fn edit(&mut self, range: Range<usize>, new: &str) -> Touched {
        let (first, last) = self.reach(&range);
        let start = self.begins.byte(first);
        let mut text = self.tree.text(first..last + 1);
        text.replace_range(range.start - start..range.end - start, new);
        let text = Arc::new(text);
        let unread = Section::unread(&Text::of(&text, 0..text.len()));
        let old = self.put(first..last + 1, vec![Arc::new(unread)]);

        let read = |(at, text): (usize, Text)| {
            let same = old.get(at).filter(|old| old.text == text);
            same.map_or_else(|| Arc::new(Section::of(&text)), Arc::clone)
        };
        let sections: Vec<Arc<Section>> = notation::sections(&text).enumerate().map(read).collect();
        let new = first..first + sections.len();
        self.put(first..first + 1, sections);
        let mut touched = Touched { old: first..last + 1, new, parts_moved: false };
        touched.parts_moved = self.move_parts(&touched);

        self.defaults.splice(touched.old.clone(), touched.new.clone().map(|_| Arc::default()));
        self.meanings.splice(touched.old.clone(), touched.new.clone().map(|_| Arc::default()));
        let mut next = first;
        while next < self.meanings.len() {
            let holds = self.defaults_at(next);
            if next >= touched.new.end && *holds == *self.defaults[next] {
                break;
            }
            let (holds, meaning) = self.understand(next);
            self.defaults[next] = holds;
            self.meanings[next] = meaning;
            next += 1;
        }
        let further = next.saturating_sub(touched.new.end);
        touched.old.end += further;
        touched.new.end += further;
        touched
    }

    /// What the first statement of this kind says in its first value, such as `language` or `naming`.
    pub fn says(&self, keyword: Keyword) -> Option<String> {
        self.value(keyword, 0)
    }

    /// What it is called in one line where another file speaks of it: its series, or else its title, and behind that its
    /// volume; its title where it is no volume. `None` if it has no such name.
    pub fn title(&self) -> Option<String> {
        let line = |keyword| {
            let (section, statement) = self.first(keyword)?;
            Some(title(section, &statement.values).join(" ")).filter(|line| !line.is_empty())
        };
        let volume = self.value(Keyword::Volume, 0).and_then(|volume| volume.parse::<u32>().ok());
        let Some(volume) = volume else { return line(Keyword::Collection) };
        let name = line(Keyword::Series).or_else(|| line(Keyword::Collection))?;
        Some(format!("{name} {volume}"))
    }

    /// A value, counted from 0, of the first statement of this kind.
    fn value(&self, keyword: Keyword, at: usize) -> Option<String> {
        let (section, statement) = self.first(keyword)?;
        statement.values.get(at).map(|value| section.value(*value))
    }

    /// The day on which the book says that it was printed; `None` for one that is not.
    pub fn printed(&self) -> Option<String> {
        self.says(Keyword::Status).filter(|status| status == "printed")?;
        self.value(Keyword::Status, 1)
    }

    /// The first statement of this kind that could be read, and its section.
    fn first(&self, keyword: Keyword) -> Option<(&Section, &Statement)> {
        self.tree.sections.iter().find_map(|section| {
            let found = section.statements.iter().find(|it| it.keyword == Some(keyword) && !it.broken)?;
            Some((&**section, found))
        })
    }

    /// Its puzzles and lessons, in order.
    pub fn puzzles(&self) -> impl Iterator<Item = &Puzzle> {
        self.meanings.iter().flat_map(|meaning| meaning.puzzles())
    }

    /// Where its text ends, in bytes.
    pub fn end(&self) -> usize {
        let last = self.tree.sections.len() - 1;
        self.begin(last) + self.tree.sections[last].text.len()
    }

    /// Where the section begins, in bytes of the file.
    pub fn begin(&self, section: usize) -> usize {
        self.begins.byte(section)
    }

    /// How many lines of the file stand before the section.
    pub fn lines_before(&self, section: usize) -> u32 {
        self.begins.line(section)
    }

    /// The section that the byte `at` stands in: the last that begins there or before.
    pub fn section_at(&self, at: usize) -> usize {
        self.begins.at_byte(at)
    }

    /// The section that has the line `line`, counted from 0; the last where there is no such line.
    pub fn section_with(&self, line: u32) -> usize {
        self.begins.at_line(line)
    }

    /// The section of the part that a section belongs to, if it belongs to one.
    pub fn part_of(&self, section: usize) -> Option<usize> {
        self.parts[..self.parts.partition_point(|part| *part <= section)].last().copied()
    }

    /// The sections in which a part begins, in order.
    pub fn parts(&self) -> &[usize] {
        &self.parts
    }

    /// Takes up which parts there are now; tells whether those that begin or end with the change reach behind it.
    fn move_parts(&mut self, touched: &Touched) -> bool {
        let behind = self.parts.split_off(self.parts.partition_point(|part| *part < touched.old.end));
        let gone = self.parts.split_off(self.parts.partition_point(|part| *part < touched.old.start));
        let new = self.parts_among(touched.new.clone());
        let moved = gone.is_empty() != new.is_empty();
        self.parts.extend(new);
        self.parts.extend(behind.iter().map(|part| part + touched.new.len() - touched.old.len()));
        moved
    }

    fn parts_among(&self, sections: Range<usize>) -> Vec<usize> {
        sections.filter(|at| is_part(&self.tree.sections[*at])).collect()
    }

    /// Puts sections in the place of others, which it gives back; where each begins is known again.
    fn put(&mut self, old: Range<usize>, new: Vec<Arc<Section>>) -> Vec<Arc<Section>> {
        let came = old.start..old.start + new.len();
        let gone = self.tree.sections.splice(old.clone(), new).collect();
        self.begins.edit(old, came, &self.tree.sections);
        gone
    }

    /// The first and the last section that read otherwise, it may be, after a change of `range`. Where the head of a
    /// section is touched, it may be one no more, and the section before goes on.
    fn reach(&self, range: &Range<usize>) -> (usize, usize) {
        let (first, last) = (self.section_at(range.start), self.section_at(range.end));
        // Where the file ends within the head, what is put at its end goes on with it.
        let head = self.tree.sections[first].lines.first();
        let head_ends = head.map_or(0, |line| line.span.len() + line.ending.text().len().max(1));
        let touches_head = range.start < self.begins.byte(first) + head_ends;
        (if touches_head { first.saturating_sub(1) } else { first }, last)
    }

    /// What holds by default at a section, from what the section before means.
    fn defaults_at(&self, section: usize) -> Arc<Defaults> {
        let Some(before) = section.checked_sub(1) else { return Arc::default() };
        match &self.meanings[before].defaults {
            Some(changed) => Arc::clone(changed),
            None => Arc::clone(&self.defaults[before]),
        }
    }

    /// What holds at a section, and what it means there.
    fn understand(&self, section: usize) -> (Arc<Defaults>, Arc<Meaning>) {
        let holds = self.defaults_at(section);
        let meaning = Meaning::of(&self.tree.sections[section], &holds, &self.layouts);
        (holds, Arc::new(meaning))
    }
}

/// Whether a part begins in a section.
fn is_part(section: &Section) -> bool {
    section.items.iter().any(|item| item.kind == ItemKind::Part)
}

/// What is read of bytes.
fn as_tree(bytes: &[u8], read: fn(&str) -> Tree) -> Tree {
    // Nearly all files are UTF-8 throughout, and to see that takes next to no time.
    match std::str::from_utf8(bytes) {
        Ok(text) => read(text),
        Err(_) => read(&String::from_utf8_lossy(bytes)).with_bad_bytes(bytes),
    }
}
