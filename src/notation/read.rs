//! Reading a file: sections, then line by line, with what is half typed or slipped read as what it must have been.
//!
//! A section begins at each head in column 1 and is read by itself, so what one section reads as never depends on another.

use super::line::{first_word, trimmed};
use super::reader::Reader;
use super::{
    BadText, Ending, Fault, FaultKind, ItemKind, Keyword, LineKind, Section, Span, Statement, Tree, Value,
    is_blank, is_cell,
};
use rayon::prelude::*;
use std::sync::Arc;

/// From so many sections on, a text is read on all processors.
const MANY: usize = 64;

/// Reads the text of a file. Never fails: what cannot be read is in the tree too, with a fault.
pub fn read(text: &str) -> Tree {
    let sections: Vec<&str> = sections(text).collect();
    let read = |text: &str| Arc::new(Section::read(text));
    let sections = if sections.len() < MANY {
        sections.into_iter().map(read).collect()
    } else {
        sections.into_par_iter().with_min_len(MANY / 4).map(read).collect()
    };
    Tree { sections }
}

/// The text of each section of a file: at least one, together the whole text.
pub fn sections(text: &str) -> impl Iterator<Item = &str> {
    let mut heads = lines(text)
        .map(|(line, _)| line)
        .filter(|line| line.start > 0 && is_section_head(line.of(text)))
        .map(|line| line.start as usize);
    let mut next = Some(0);
    std::iter::from_fn(move || {
        let start = next?;
        next = heads.next();
        Some(&text[start..next.unwrap_or(text.len())])
    })
}

/// Reads a list: one puzzle a line, one symbol a cell, and behind a blank its id. Each line is a section of its own, with
/// a puzzle that has `givens` and nothing else; blank lines and comments are sections with no statement.
pub fn read_list(text: &str) -> Tree {
    let whole =
        |(span, ending): (Span, Ending)| &text[span.start as usize..span.end as usize + ending.text().len()];
    let mut sections: Vec<Arc<Section>> = lines(text).map(whole).map(read_listed).map(Arc::new).collect();
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
                Arc::make_mut(section).faults.insert(place, fault);
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
        let mut reader = Reader::new(text);
        for (span, ending) in lines(text) {
            reader.line(span, ending);
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

fn is_section_head(line: &str) -> bool {
    // Nearly every line begins with a blank: look no further at those.
    line.starts_with(['p', 'l', 'a'])
        && first_word(line).and_then(Keyword::named).is_some_and(Keyword::is_head)
}

fn read_listed(text: &str) -> Section {
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
    let symbols = inner.of(text).split(is_blank).next().unwrap_or_default();
    let end = inner.start as usize + symbols.len();
    let id = trimmed(text, Span::new(end, inner.end as usize));
    reader.section.items[0].kind = ItemKind::Puzzle;
    reader.section.statements.push(Statement {
        keyword: Some(Keyword::Givens),
        word: inner.first(0),
        values: if id.is_empty() { Vec::new() } else { vec![Value { span: id, quoted: false }] },
        line: 0,
        block: 0..1,
        broken: false,
    });
    if let Some((at, c)) = symbols.char_indices().find(|&(_, c)| !is_cell(c)) {
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
