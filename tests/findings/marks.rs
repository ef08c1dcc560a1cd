//! Texts with their findings marked under the line: the small format of every example and fixture.
//!
//! ```text
//! givens
//!   1 . 3 . . 4 2
//! #~^^^^^^^^^^^^^ row-length: this row has 7 cells
//! ```
//!
//! A *mark row* is a comment of the notation that begins with `#~` in column 1. Its carets stand under the place of
//! one finding in the line above (or above the other mark rows of that line); then come a blank, the finding's name
//! and, if wished, a colon and the beginning of its message. A place that holds nothing, such as where a value is
//! missing, has one caret. A place of several lines is marked in its first.
//!
//! `#~` itself hides columns 1 and 2: a place that begins there is marked by `#<`, which counts as two carets.
//!
//! ```text
//! givns
//! #<^^^ unknown-statement
//! ```
//!
//! A line `#= NAME.gset` begins a further file of the same workspace. Characters that picture a control character,
//! `␍` or `␀`, stand for it. Mark rows and `#=` lines are taken out before the text is read.

use gridsetter::book::Workspace;
use gridsetter::lint::Report;

/// One finding, marked: file, line and columns (all from 0), name, and the beginning of its message.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Mark {
    pub file: usize,
    pub line: usize,
    pub from: usize,
    pub to: usize,
    pub name: String,
    pub message: String,
}

/// Files without their marks, and the marks.
#[derive(Debug)]
pub struct Marked {
    /// Name and text of each file.
    pub files: Vec<(String, String)>,
    pub marks: Vec<Mark>,
}

impl Marked {
    pub fn read(text: &str) -> Marked {
        let mut files = vec![("book.gset".to_owned(), String::new())];
        let mut marks = Vec::new();
        let mut line = 0;
        for raw in text.split_inclusive('\n') {
            let bare = raw.trim_end_matches('\n');
            if let Some(name) = bare.strip_prefix("#= ") {
                if files.len() == 1 && files[0].1.is_empty() {
                    files.clear();
                }
                files.push((name.to_owned(), String::new()));
                line = 0;
            } else if bare.starts_with("#~") || bare.starts_with("#<") {
                marks.push(Mark::read(bare, files.len() - 1, line - 1));
            } else {
                let text = &mut files.last_mut().expect("one at least").1;
                text.extend(raw.chars().map(pictured));
                line += 1;
            }
        }
        marks.sort();
        Marked { files, marks }
    }
}

impl Mark {
    fn read(row: &str, file: usize, line: usize) -> Mark {
        let at_start = row.starts_with("#<");
        let rest: Vec<char> = row.chars().skip(2).collect();
        let blanks = rest.iter().take_while(|c| **c == ' ').count();
        let carets = rest[blanks..].iter().take_while(|c| **c == '^').count();
        let (from, to, text) = match (at_start, blanks, carets) {
            (true, 0, carets) => (0, 2 + carets, &rest[carets..]),
            (true, ..) => (0, 2, &rest[..]),
            (false, _, 0) => panic!("a mark row without carets: {row}"),
            (false, ..) => (2 + blanks, 2 + blanks + carets, &rest[blanks + carets..]),
        };
        let said: String = text.iter().collect();
        let (name, message) = said.trim().split_once(": ").unwrap_or((said.trim(), ""));
        assert!(!name.is_empty(), "a mark row without a finding's name: {row}");
        Mark { file, line, from, to, name: name.to_owned(), message: message.to_owned() }
    }

    /// The mark that `report` asks for.
    pub fn of(report: &Report, workspace: &Workspace) -> Mark {
        let id = report.spot.section;
        let tree = &workspace.books[id.book].tree;
        let text = tree.to_string();
        let base: usize = tree.sections[..id.section].iter().map(|section| section.text.len()).sum();
        let start = base + report.spot.span.start as usize;
        let end = base + report.spot.span.end as usize;
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        let from = text[line_start..start].chars().count();
        let marked = text[start..end.min(line_end)].trim_end_matches('\r').chars().count();
        Mark {
            file: id.book,
            line: before.matches('\n').count(),
            from,
            to: from + marked.max(1),
            name: report.finding.name.to_owned(),
            message: report.message.clone(),
        }
    }

    /// Whether `self`, as someone wrote it, marks what `found` marks.
    pub fn marks(&self, found: &Mark) -> bool {
        let at_start = self.from == 0 && found.from < 2;
        let columns = if at_start {
            self.to == found.to.max(2)
        } else {
            (self.from, self.to) == (found.from, found.to)
        };
        (self.file, self.line, &self.name) == (found.file, found.line, &found.name)
            && columns
            && found.message.starts_with(&self.message)
    }

    fn row(&self) -> String {
        let carets = if self.from < 2 {
            format!("#<{}", "^".repeat(self.to.saturating_sub(2)))
        } else {
            format!("#~{}{}", " ".repeat(self.from - 2), "^".repeat(self.to - self.from))
        };
        format!("{carets} {}: {}", self.name, self.message)
    }
}

/// The files with `marks` under their lines.
pub fn drawn(files: &[(String, String)], marks: &[Mark]) -> String {
    let mut drawn = String::new();
    for (file, (name, text)) in files.iter().enumerate() {
        if files.len() > 1 {
            drawn += &format!("#= {name}\n");
        }
        // A finding may stand behind the last line's end.
        let past_the_end = marks.iter().filter(|mark| mark.file == file).map(|mark| mark.line + 1).max();
        let lines = text.lines().count().max(past_the_end.unwrap_or(0));
        for (number, line) in text.lines().chain(std::iter::repeat("")).take(lines).enumerate() {
            drawn.extend(line.chars().map(picture));
            drawn.push('\n');
            for mark in marks.iter().filter(|mark| (mark.file, mark.line) == (file, number)) {
                drawn += &(mark.row() + "\n");
            }
        }
    }
    drawn
}

/// The control character that `c` pictures.
fn pictured(c: char) -> char {
    match c {
        '␀'..='␟' => char::from_u32(u32::from(c) - 0x2400).unwrap_or(c),
        '␡' => '\u{7f}',
        _ => c,
    }
}

/// The sign that pictures a control character.
fn picture(c: char) -> char {
    match u32::from(c) {
        9 => c,
        code @ 0..0x20 => char::from_u32(0x2400 + code).unwrap_or(c),
        0x7f => '␡',
        _ => c,
    }
}
