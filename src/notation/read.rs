//! Reading a file: sections, then line by line, with what is half typed or slipped read as what it must have been.
//!
//! A section begins at each head in column 1 and is read by itself, so what one section reads as never depends on another.

use super::line::{first_but_cells, first_word, trimmed, up_to_blank};
use super::reader::Reader;
use super::{
    BadText, Ending, Fault, FaultKind, ItemKind, Keyword, LineKind, Section, Span, Statement, Text, Tree,
    Value,
};
use rayon::prelude::*;
use std::ops::Range;
use std::sync::Arc;

/// A text of more bytes than this is read on all processors, so many bytes at a time.
const STRETCH: usize = 16 << 10;

/// Reads the text of a file. Never fails: what cannot be read is in the tree too, with a fault.
pub fn read(text: &str) -> Tree {
    read_shared(&Arc::new(text.to_owned()))
}

/// The same; the tree shares the text.
pub fn read_shared(text: &Arc<String>) -> Tree {
    let read = |stretch: Range<usize>| {
        let begin = stretch.start;
        let sections = section_ranges(&text[stretch]);
        sections.map(move |it| Section::of(&Text::of(text, begin + it.start..begin + it.end))).map(Arc::new)
    };
    let sections = if text.len() <= STRETCH {
        read(0..text.len()).collect()
    } else {
        stretches(text).collect::<Vec<_>>().into_par_iter().flat_map_iter(read).collect()
    };
    Tree { sections }
}

/// Some sections each, together the whole text: [`STRETCH`] bytes, and those up to the next head.
fn stretches(text: &str) -> impl Iterator<Item = Range<usize>> {
    let mut begin = 0;
    std::iter::from_fn(move || {
        let start = begin;
        let from = text.floor_char_boundary(start + STRETCH);
        begin = heads(&text[from..]).next().map_or(text.len(), |head| from + head);
        (start < begin).then_some(start..begin)
    })
}

/// The text of each section of a file: at least one, together the whole text.
pub fn sections(text: &Arc<String>) -> impl Iterator<Item = Text> {
    section_ranges(text).map(|section| Text::of(text, section))
}

fn section_ranges(text: &str) -> impl Iterator<Item = Range<usize>> {
    let mut heads = heads(text);
    let mut next = Some(0);
    std::iter::from_fn(move || {
        let start = next?;
        next = heads.next();
        Some(start..next.unwrap_or(text.len()))
    })
}

/// Where a section begins behind the first line.
fn heads(text: &str) -> impl Iterator<Item = usize> {
    // A line begins behind each of these two; where they stand together, none begins between them, nor a head.
    let ends = memchr::memchr2_iter(b'\n', b'\r', text.as_bytes());
    ends.map(|end| end + 1).filter(|&start| is_section_head(text, start))
}

/// Reads a list: one puzzle a line, one symbol a cell, and behind a blank its id. Each line is a section of its own, with
/// a puzzle that has `givens` and nothing else; blank lines and comments are sections with no statement.
pub fn read_list(text: &str) -> Tree {
    read_list_shared(&Arc::new(text.to_owned()))
}

/// The same; the tree shares the text.
pub fn read_list_shared(text: &Arc<String>) -> Tree {
    let whole = |(span, ending): (Span, Ending)| {
        read_listed(&Text::of(text, span.start as usize..span.end as usize + ending.text().len()))
    };
    let mut sections: Vec<Arc<Section>> = lines(text).map(whole).map(Arc::new).collect();
    if sections.is_empty() {
        sections.push(Arc::new(Section::read("")));
    }
    Tree { sections }
}

impl Tree {
    /// With a fault at the first of `bytes` that is not UTF-8, if one is; the tree was read from all of them, with U+FFFD
    /// where they are not.
    #[must_use]
    pub fn with_bad_bytes(mut self, bytes: &[u8]) -> Tree {
        let Err(error) = std::str::from_utf8(bytes) else { return self };
        let mut at = error.valid_up_to();
        let bad = '\u{fffd}'.len_utf8();
        for section in &mut self.sections {
            if at < section.text.len() {
                let fault =
                    Fault { span: Span::new(at, at + bad), kind: FaultKind::Encoding(BadText::NotUtf8) };
                let place = section.faults.partition_point(|other| other.span.start < fault.span.start);
                let section = Arc::make_mut(section);
                let mut faults = std::mem::take(&mut section.faults).into_vec();
                faults.insert(place, fault);
                section.faults = faults.into();
                break;
            }
            at -= section.text.len();
        }
        self
    }
}

impl Section {
    /// Reads a section by itself: the text of a file from one head in column 1 to before the next.
    pub fn read(text: &str) -> Section {
        Section::of(&text.into())
    }

    /// Reads a section of a longer text.
    pub fn of(text: &Text) -> Section {
        let mut reader = Reader::new(text);
        for (span, ending) in lines(text) {
            reader.line(span, ending);
        }
        reader.finish()
    }

    /// A text of which nothing is read yet but where its lines are.
    pub fn unread(text: &Text) -> Section {
        let mut reader = Reader::new(text);
        for (span, ending) in lines(text) {
            reader.keep(span, ending, LineKind::Kept);
        }
        reader.finish()
    }
}

/// The lines of `text`: each without its end, and how it ends. They tile the text; an empty text has none.
fn lines(text: &str) -> impl Iterator<Item = (Span, Ending)> {
    let bytes = text.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        if at == bytes.len() {
            return None;
        }
        let start = at;
        let end = memchr::memchr2(b'\n', b'\r', &bytes[at..]).map_or(bytes.len(), |n| at + n);
        let ending = match &bytes[end..] {
            [b'\n', ..] => Ending::Lf,
            [b'\r', b'\n', ..] => Ending::CrLf,
            [_, ..] => Ending::Cr,
            [] => Ending::None,
        };
        at = end + ending.text().len();
        Some((Span::new(start, end), ending))
    })
}

/// Whether the head of a section begins at `start`.
fn is_section_head(text: &str, start: usize) -> bool {
    // Nearly every line begins with a blank: look no further at those.
    matches!(text.as_bytes().get(start), Some(b'p' | b'l' | b'a'))
        && lines(&text[start..])
            .next()
            .and_then(|(line, _)| first_word(line.of(&text[start..])))
            .and_then(Keyword::named)
            .is_some_and(Keyword::is_head)
}

fn read_listed(text: &Text) -> Section {
    let (line, ending) = lines(text).next().unwrap_or((Span::default(), Ending::None));
    let content = after_mark(text, line);
    let inner = trimmed(text, content);
    if inner.is_empty() || inner.of(text).starts_with('#') {
        let kind = if inner.is_empty() { LineKind::Blank } else { LineKind::Comment };
        let mut reader = Reader::new(text);
        reader.keep(line, ending, kind);
        return reader.finish();
    }
    let mut reader = Reader::new(text);
    let symbols = up_to_blank(inner.of(text));
    let end = inner.start as usize + symbols.len();
    let id = trimmed(text, Span::new(end, inner.end as usize));
    reader.section.items[0].kind = ItemKind::Puzzle;
    reader.section.statements.push(Statement {
        keyword: Some(Keyword::Givens),
        word: inner.first(0),
        values: if id.is_empty() { [].into() } else { [Value { span: id, quoted: false }].into() },
        line: 0,
        block: 0..1,
        broken: false,
    });
    if let Some((at, c)) = first_but_cells(symbols) {
        let at = inner.start as usize + at;
        reader.fault(Span::new(at, at + c.len_utf8()), FaultKind::RowUnreadable(c));
        reader.section.statements[0].broken = true;
    }
    reader.keep(Span::new(0, line.end as usize), ending, LineKind::Listed);
    reader.finish()
}

/// `line` without a byte order mark at the beginning of the text.
pub(super) fn after_mark(text: &str, line: Span) -> Span {
    let mark = if line.start == 0 && text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    Span::new(line.start as usize + mark, line.end as usize)
}
