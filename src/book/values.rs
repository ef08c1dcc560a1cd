//! What statements' values say, and whether they make sense.

use super::claims::is_id;
use super::{Fact, Facts, Fault, FaultKind, Marks, Patterns, Printing, Symmetry, fingerprint, words_of};
use crate::board::{BoxShape, MAX_SIDE, MIN_SIDE, Size};
use crate::ladder::{NameKind, named, nearest};
use crate::notation::{Keyword, Section, Span, Statement, Value, is_blank};
use std::borrow::Cow;
use std::str::FromStr;

/// A statement's line, from its keyword to its last value.
pub(super) fn line_of(statement: &Statement) -> Span {
    statement.values.last().map_or(statement.word, |last| statement.word.to(last.span))
}

/// A statement's values, from the first to the last; its keyword if it has none.
pub(super) fn values_of(statement: &Statement) -> Span {
    let values = &statement.values;
    values.first().zip(values.last()).map_or(statement.word, |(first, last)| first.span.to(last.span))
}

/// A title's lines: each string is one, and neighbouring words without quotes are one together.
pub(super) fn title(section: &Section, values: &[Value]) -> Vec<String> {
    let together = |a: &Value, b: &Value| !a.quoted && !b.quoted;
    let line =
        |values: &[Value]| values.iter().map(|value| section.value(*value)).collect::<Vec<_>>().join(" ");
    let mut title: Vec<String> = values.chunk_by(together).map(line).collect();
    title.shrink_to_fit();
    title
}

/// What the values of a statement about geometry, or about a claim on the puzzle, add to `facts`; for other statements
/// only whether they make sense. At most one fault, but one for each unknown pattern of a list.
pub(super) fn take(section: &Section, statement: &Statement, facts: &mut Facts) -> Vec<Fault> {
    use Keyword as K;
    let Some(keyword) = statement.keyword else { return Vec::new() };
    let geometry = matches!(keyword, K::Size | K::Boxes | K::Rules);
    if statement.broken || (statement.values.is_empty() && !matches!(keyword, K::Minimal | K::Scanning)) {
        facts.geometry_broken |= statement.broken && geometry;
        return Vec::new();
    }
    let said = Said { section, statement };
    let read = match keyword {
        K::Size => said.fact(&mut facts.size, "a whole number from 4 to 25", |text| {
            number(text).filter(|side| (MIN_SIDE..=MAX_SIDE).contains(side)).and_then(Size::new)
        }),
        K::Boxes => said.fact(&mut facts.boxes, "rows x columns of one box, such as `2x3`", extent),
        K::Rules => said.fact(&mut facts.diagonals, "`diagonals` or `none`", |text| match text {
            "diagonals" => Some(true),
            "none" => Some(false),
            _ => None,
        }),
        K::Marks => said.fact(&mut facts.marks, "`free` or `by-box`", |text| {
            Marks::WORDS.iter().find(|(word, _)| *word == text).map(|(_, marks)| *marks)
        }),
        K::Clues => said.fact(
            &mut facts.clues,
            "a whole number, or two such as `22-26`, the smaller first",
            span_of_numbers,
        ),
        K::Symmetry => said.fact(
            &mut facts.symmetry,
            "`half-turn`, `quarter-turn`, `mirror-across`, `mirror-down`, `mirror-diagonal` or `none`",
            |text| Symmetry::WORDS.iter().find(|(word, _)| *word == text).map(|(_, symmetry)| *symmetry),
        ),
        K::Minimal => said.fact(&mut facts.minimal, "nothing", |_| Some(())),
        K::Level => said.fact(&mut facts.level, "a whole number from 1 up", |text| {
            number(text).filter(|level| *level > 0)
        }),
        K::Levels => said.fact(
            &mut facts.levels,
            "two whole numbers from 1 up, the smaller first, such as `1-3`",
            |text| span_of_numbers(text).filter(|(least, _)| *least > 0),
        ),
        K::Scanning => said.fact(
            &mut facts.scanning,
            "nothing, or `held` and a whole number, such as `held 3`",
            |text| match text {
                "" => Some(None),
                _ => text.strip_prefix("held ").and_then(number).map(Some),
            },
        ),
        K::Number => said.fact(&mut facts.number, "a whole number, such as `14`", number),
        K::Repeats => said.rare(&mut facts.repeats, "an id, and how it is another dress in quotes", |text| {
            let id = text.split(' ').next().unwrap_or_default();
            is_id(id).then(|| id.into())
        }),
        K::Printed => {
            facts.printed = None;
            let can_be = "a date and the mark of the grid, such as `2026-05-31 7c1e40`";
            said.rare(&mut facts.printed, can_be, |text| {
                let (date, mark) =
                    text.split_once(' ').map_or((text, None), |(date, mark)| (date, Some(mark)));
                let sense = is_date(date) && mark.is_none_or(is_mark);
                sense.then(|| Printing { date: date.to_owned(), mark: mark.map(str::to_ascii_lowercase) })
            })
        }
        K::Ids => said.rare(&mut facts.ids, "one id that ends in digits, such as `lk-001`", |id| {
            (statement.values.len() == 1 && id.ends_with(|c: char| c.is_ascii_digit())).then(|| id.into())
        }),
        K::Needs => return said.patterns(keyword, Some(&mut facts.needs)),
        K::Avoids => return said.patterns(keyword, Some(&mut facts.avoids)),
        K::Teaches => return said.patterns(keyword, Some(&mut facts.teaches)),
        _ => said.sense(keyword),
    };
    facts.geometry_broken |= read.is_err() && geometry;
    read.err().into_iter().collect()
}

/// A statement with values, and the section that it stands in.
#[derive(Clone, Copy)]
struct Said<'a> {
    section: &'a Section,
    statement: &'a Statement,
}

impl<'a> Said<'a> {
    /// A fault at all values.
    fn unreadable<T>(self, can_be: impl Into<String>) -> Result<T, Fault> {
        let keyword = self.statement.keyword.unwrap_or(Keyword::Extra);
        let kind = FaultKind::ValueUnreadable(keyword, can_be.into());
        Err(Fault { span: values_of(self.statement), kind })
    }

    /// The values as they are said.
    fn words(self) -> Vec<Cow<'a, str>> {
        self.statement.values.iter().map(|value| self.word(*value)).collect()
    }

    /// The same as one, with blanks between them.
    fn joined(self) -> Cow<'a, str> {
        match self.statement.values[..] {
            [] => Cow::from(""),
            [value] => self.word(value),
            _ => self.words().join(" ").into(),
        }
    }

    fn word(self, value: Value) -> Cow<'a, str> {
        if value.quoted { self.section.value(value).into() } else { self.section.at(value.span).into() }
    }

    /// Puts what the values say into `fact`; they are one word, and what was said first holds.
    fn fact<T>(
        self,
        fact: &mut Option<Fact<T>>,
        can_be: &str,
        read: impl FnOnce(&str) -> Option<T>,
    ) -> Result<(), Fault> {
        let Some(value) = read(&self.joined()) else { return self.unreadable(can_be) };
        if fact.as_ref().is_none_or(|fact| !fact.own) {
            *fact = Some(Fact { value, span: line_of(self.statement), own: true });
        }
        Ok(())
    }

    /// The same for what is rarely said.
    fn rare<T>(
        self,
        fact: &mut Option<Box<Fact<T>>>,
        can_be: &str,
        read: impl FnOnce(&str) -> Option<T>,
    ) -> Result<(), Fault> {
        let mut plain = fact.take().map(|fact| *fact);
        let said = self.fact(&mut plain, can_be, read);
        *fact = plain.map(Box::new);
        said
    }

    /// Whether each name in the list is known; those that are go into `fact`.
    fn patterns(self, keyword: Keyword, fact: Option<&mut Option<Box<Fact<Patterns>>>>) -> Vec<Fault> {
        let list = values_of(self.statement);
        if let Some(fact) = fact.filter(|fact| fact.as_ref().is_none_or(|fact| !fact.own)) {
            let known = |span: Span| {
                let row = named(self.section.at(span)).filter(|row| row.kind != NameKind::Seeing)?;
                Some((row.name, span))
            };
            let value = listed(self.section, list).filter_map(known).collect();
            *fact = Some(Box::new(Fact { value, span: line_of(self.statement), own: true }));
        }
        let seeing_fits = keyword == Keyword::Teaches;
        let check = |span: Span| match named(self.section.at(span)) {
            Some(row) if row.kind == NameKind::Seeing && !seeing_fits => {
                let can_be = format!(
                    "patterns only; {} is a way of seeing, which a reason or `teaches` may name",
                    row.name
                );
                Some(Fault { span, kind: FaultKind::ValueUnreadable(keyword, can_be) })
            }
            Some(_) => None,
            None => Some(unknown_pattern(self.section, span)),
        };
        listed(self.section, list).filter_map(check).collect()
    }

    /// Whether the values of a statement that has no meaning of its own yet make sense.
    fn sense(self, keyword: Keyword) -> Result<(), Fault> {
        use Keyword as K;
        let (makes_sense, can_be): (fn(&[&str]) -> bool, _) = match keyword {
            K::Notation => (|words| words == ["1"], "`1`, the only edition of the notation so far"),
            K::Volume | K::Edition => (|words| is_number(&words.join(" ")), "a whole number, such as `2`"),
            K::Numbers => (
                |words| matches!(words, ["from", first] if is_number(first)),
                "`from` and a whole number, such as `from 1`",
            ),
            K::Status => (
                |words| {
                    matches!(words, ["draft" | "ready"])
                        || matches!(words, ["printed", date] if is_date(date))
                },
                "`draft`, `ready`, or `printed` and a date such as `2026-05-31`",
            ),
            K::Language => (
                |words| matches!(words, [tag] if is_language(tag)),
                "a language tag, such as `en` or `de-CH`",
            ),
            K::Naming => (
                |words| matches!(words, [word] if words_of(K::Naming).contains(word)),
                "`r4c1`, `D1` or `words`",
            ),
            K::Page => {
                (|words| extent(&words.join(" ")).is_some(), "rows x columns of puzzles, such as `2x3`")
            }
            K::Answers => (
                |words| matches!(words, [word] if words_of(K::Answers).contains(word)),
                "`end`, `facing`, `after` or `none`",
            ),
            K::Ladder => (|words| words.len() == 1, "one name"),
            K::From => (
                |words| matches!(words, [_] | [_, "at", _]),
                "an id, with `at` and a point's name where it does not begin at the givens",
            ),
            K::Date => (|words| matches!(words, [date] if is_date(date)), "a date, such as `2026-05-31`"),
            K::Tested | K::Revised | K::Erratum => {
                (|words| is_date(words[0]), "a date such as `2026-05-31`, and what there is to say in quotes")
            }
            _ => return Ok(()),
        };
        let words = self.words();
        let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
        if makes_sense(&words) { Ok(()) } else { self.unreadable(can_be) }
    }
}

/// The parts of a list, which commas part, without blanks at their ends; empty ones are left out.
pub(super) fn listed(section: &Section, list: Span) -> impl Iterator<Item = Span> {
    let mut start = list.start as usize;
    section.at(list).split(',').filter_map(move |part| {
        let body = part.trim_matches(is_blank);
        let at = start + (part.len() - part.trim_start_matches(is_blank).len());
        start += part.len() + 1;
        (!body.is_empty()).then(|| Span::new(at, at + body.len()))
    })
}

/// The fault of a name that no pattern has.
pub(super) fn unknown_pattern(section: &Section, span: Span) -> Fault {
    let text = section.at(span);
    Fault { span, kind: FaultKind::PatternUnknown(text.to_owned(), nearest(text)) }
}

/// A number in plain figures.
fn number<T: FromStr>(text: &str) -> Option<T> {
    let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse().ok().filter(|_| plain)
}

fn is_number(text: &str) -> bool {
    number::<u32>(text).is_some()
}

/// `2x3` or `2 x 3`: rows and columns.
fn extent(text: &str) -> Option<BoxShape> {
    let (rows, columns) = text.split_once(['x', 'X'])?;
    BoxShape::from_str(&format!("{}x{}", rows.trim_end(), columns.trim_start())).ok()
}

/// `22` or `22-26`: least and most.
fn span_of_numbers(text: &str) -> Option<(u16, u16)> {
    let (least, most) = text.split_once(['-', '–']).unwrap_or((text, text));
    let (least, most) = (number(least.trim())?, number(most.trim())?);
    (least <= most).then_some((least, most))
}

/// A day of the calendar, as in `2026-05-31` (ISO 8601).
fn is_date(text: &str) -> bool {
    let mut parts = text.split('-').map(number::<u16>);
    let mut next = || parts.next().flatten();
    let (Some(year), Some(month), Some(day), None) = (next(), next(), next(), parts.next()) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    text.len() == "2026-05-31".len() && text.as_bytes()[4] == b'-' && (1..=days).contains(&day)
}

/// A grid's mark by its shape.
fn is_mark(text: &str) -> bool {
    text.len() == fingerprint::DIGITS && text.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// A language tag by its shape (BCP 47): a word of letters, then further parts of letters and figures.
fn is_language(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let letters = |part: &str| (2..=8).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphabetic());
    let further =
        |part: &str| (1..=8).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphanumeric());
    parts.next().is_some_and(letters) && parts.all(further)
}
