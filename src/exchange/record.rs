//! The records of a table, with the place of each field.
//!
//! Reading is our own, because it must say where a field stands and must not let one lost quotation mark swallow the
//! rows below it; a library reads the rest of the file into one field then. Where a table is well-formed, both read the
//! same (a test compares them).

use super::text::{Line, Lines, is_blank, trim};

/// A field between quotes may run over so many lines.
const MOST_LINES: usize = 20;
/// A record may have so many fields.
const MOST_FIELDS: usize = 1000;

/// One row of a table; of several lines, where a quoted field holds line ends.
pub(super) struct Record<'a> {
    /// As it was written.
    pub raw: &'a str,
    /// Its first line, from 1.
    pub line: usize,
    /// Its fields.
    pub fields: Vec<Field>,
    /// Where a quotation mark has no partner: the record is one line, read without regard to quotes.
    pub open_quote: bool,
    /// It has more fields than are read; then it has none here.
    pub too_many: bool,
}

/// One field.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Field {
    /// What it says: without its quotes, a doubled one as one.
    pub text: String,
    /// The line that it begins in, from 1.
    pub line: usize,
    /// The character of that line that it begins at, from 1.
    pub column: usize,
}

impl Record<'_> {
    /// Whether it holds nothing at all.
    pub(super) fn is_blank(&self) -> bool {
        !self.too_many && self.fields.iter().all(|field| trim(&field.text).is_empty())
    }

    /// What its fields say.
    pub(super) fn texts(&self) -> impl Iterator<Item = &str> + Clone {
        self.fields.iter().map(|field| field.text.as_str())
    }
}

/// The records of a text. Those that hold nothing are left out.
pub(super) struct Records<'a> {
    text: &'a str,
    lines: Lines<'a>,
    separator: char,
}

impl<'a> Records<'a> {
    pub(super) fn of(text: &'a str, separator: char) -> Records<'a> {
        Records { text, lines: Lines::of(text), separator }
    }

    fn record(&mut self, first: Line<'a>) -> Record<'a> {
        let mut ahead = self.lines.clone();
        let mut end = first.end();
        for _ in 0..MOST_LINES {
            let raw = &self.text[first.start..end];
            match split(raw, first.number, self.separator, true) {
                Split::Fields(fields) => {
                    self.lines = ahead;
                    return Record { raw, line: first.number, fields, open_quote: false, too_many: false };
                }
                Split::TooMany => return too_many(first),
                Split::Malformed => break,
                Split::Open => match ahead.next() {
                    Some(line) => end = line.end(),
                    None => break,
                },
            }
        }
        match split(first.text, first.number, self.separator, false) {
            Split::Fields(fields) => {
                Record { raw: first.text, line: first.number, fields, open_quote: true, too_many: false }
            }
            _ => too_many(first),
        }
    }
}

impl<'a> Iterator for Records<'a> {
    type Item = Record<'a>;

    fn next(&mut self) -> Option<Record<'a>> {
        loop {
            let first = self.lines.next()?;
            let record = self.record(first);
            if !record.is_blank() {
                return Some(record);
            }
        }
    }
}

fn too_many(line: Line<'_>) -> Record<'_> {
    Record { raw: line.text, line: line.number, fields: Vec::new(), open_quote: false, too_many: true }
}

enum Split {
    /// A whole record.
    Fields(Vec<Field>),
    /// It ends within quotes.
    Open,
    /// Something stands behind a closing quote.
    Malformed,
    /// More than are read.
    TooMany,
}

/// Where in a field the next character stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    Start,
    Bare,
    Quoted,
    BehindQuotes,
}

fn split(text: &str, first_line: usize, separator: char, quotes: bool) -> Split {
    let (mut line, mut column) = (first_line, 0);
    let mut fields = Vec::new();
    let mut field = Field { text: String::new(), line, column: 1 };
    let mut at = At::Start;
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        column += 1;
        at = match at {
            At::Start if c == '"' && quotes => At::Quoted,
            At::Quoted if c == '"' && chars.next_if_eq(&'"').is_none() => At::BehindQuotes,
            At::Quoted => {
                column += usize::from(c == '"');
                field.text.push(c);
                At::Quoted
            }
            _ if c == separator => {
                if fields.len() == MOST_FIELDS {
                    return Split::TooMany;
                }
                let next = Field { text: String::new(), line, column: column + 1 };
                fields.push(std::mem::replace(&mut field, next));
                At::Start
            }
            At::BehindQuotes if !is_blank(c) => return Split::Malformed,
            At::BehindQuotes => At::BehindQuotes,
            At::Start | At::Bare => {
                field.text.push(c);
                At::Bare
            }
        };
        if c == '\n' || c == '\r' && chars.peek() != Some(&'\n') {
            (line, column) = (line + 1, 0);
        }
    }
    if at == At::Quoted {
        return Split::Open;
    }
    fields.push(field);
    Split::Fields(fields)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> Vec<Vec<String>> {
        Records::of(text, ';').map(|record| record.texts().map(str::to_owned).collect()).collect()
    }

    #[test]
    fn quotes_hold_separators_quotes_and_line_ends() {
        assert_eq!(read("a;\"b;\"\"c\nd\";e\r\nf"), [vec!["a", "b;\"c\nd", "e"], vec!["f"]]);
    }

    #[test]
    fn a_lost_quote_costs_no_other_row() {
        assert_eq!(read("a;\"b\nc;d\n\ne;\"f\ng;h"), [["a", "\"b"], ["c", "d"], ["e", "\"f"], ["g", "h"]]);
        let open: Vec<bool> = Records::of("a;\"b\nc;d", ';').map(|record| record.open_quote).collect();
        assert_eq!(open, [true, false]);
    }

    #[test]
    fn fields_know_their_place() {
        let record = Records::of("\n ä;\"b\n\";c", ';').next().unwrap();
        let places: Vec<(usize, usize)> =
            record.fields.iter().map(|field| (field.line, field.column)).collect();
        assert_eq!(places, [(2, 1), (2, 4), (3, 3)]);
    }

    #[test]
    fn absurdly_many_fields_are_not_read() {
        let text = format!("{}\na;b", ";".repeat(1_000_000));
        let counts: Vec<(bool, usize)> =
            Records::of(&text, ';').map(|record| (record.too_many, record.fields.len())).collect();
        assert_eq!(counts, [(true, 0), (false, 2)]);
    }

    proptest! {
        #[test]
        fn a_well_formed_table_is_read_as_the_library_reads_it(
            rows in prop::collection::vec(prop::collection::vec("x[a-c\",; \n]{0,8}", 1..5), 1..8),
        ) {
            let mut writer = csv::WriterBuilder::new().flexible(true).delimiter(b';').from_writer(Vec::new());
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            prop_assert_eq!(read(&text), rows);
        }
    }
}
