//! Further constraints: `WORD [NUMBER] CELLS [: CELLS]`. They are understood as far as that, and not used yet.

use super::meaning::Reader;
use super::values::{line_of, values_of};
use super::{Fault, FaultKind};
use crate::board::Size;
use crate::notation::{Keyword, Span, Statement, is_blank, read_cells};
use std::ops::RangeInclusive;

/// What a constraint is made of.
struct Form {
    /// Whether a number stands first: it may, it must, or it must not.
    number: Number,
    /// How many cells follow.
    cells: RangeInclusive<usize>,
    /// Whether further cells follow a colon.
    more: bool,
    /// The same in words.
    words: &'static str,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Number {
    None,
    May,
    Must,
}

/// The form of each constraint.
fn form(keyword: Keyword) -> Form {
    const MANY: usize = usize::MAX;
    let (number, cells, more, words) = match keyword {
        Keyword::Cage => (Number::May, 1..=MANY, false, "a sum, which may be left out, and its cells"),
        Keyword::Sum => (Number::Must, 1..=MANY, false, "a sum and its cells"),
        Keyword::Thermometer => (Number::None, 2..=MANY, false, "at least two cells, from the bulb on"),
        Keyword::Arrow => {
            (Number::None, 1..=MANY, true, "the cells of the circle, a colon, and the cells of the shaft")
        }
        Keyword::Less => (Number::None, 2..=2, false, "two cells, the one with the smaller digit first"),
        Keyword::Differ => (Number::Must, 2..=2, false, "a number and two cells"),
        _ => (Number::None, 1..=MANY, false, "cells"),
    };
    Form { number, cells, more, words }
}

impl Reader<'_> {
    /// Whether a constraint can be understood, on a board of this size.
    pub(super) fn constraint(&self, statement: &Statement, size: Size) -> Result<(), Fault> {
        let Some(keyword) = statement.keyword else { return Ok(()) };
        let form = form(keyword);
        let whole = values_of(statement);
        let unreadable = |span: Span, why: String| {
            Err(Fault { span, kind: FaultKind::ConstraintUnreadable(keyword, why) })
        };
        let wanted = || format!("it needs {}", form.words);

        let first = statement.values[0];
        let numbered = self.section.at(first.span).bytes().all(|byte| byte.is_ascii_digit());
        let rest = match (numbered, form.number) {
            (true, Number::None) => {
                return unreadable(first.span, format!("no number belongs here: it needs {}", form.words));
            }
            (false, Number::Must) => return unreadable(whole, wanted()),
            (true, _) => match statement.values.get(1) {
                Some(second) => Span { start: second.span.start, end: whole.end },
                None => return unreadable(whole, wanted()),
            },
            (false, _) => whole,
        };
        let mut groups = self.groups(rest);
        let (Some(cells), more, None) = (groups.next(), groups.next(), groups.next()) else {
            return unreadable(whole, wanted());
        };
        if more.is_some() != form.more {
            return unreadable(whole, wanted());
        }
        let mut count = Vec::new();
        for group in [Some(cells), more].into_iter().flatten() {
            let Some(ranges) = read_cells(&self.section.text, group) else {
                return unreadable(group, wanted());
            };
            let mut cells = 0;
            for range in ranges {
                cells += self.cells(&range, size, keyword)?.len();
            }
            count.push(cells);
        }
        if form.cells.contains(&count[0]) { Ok(()) } else { unreadable(line_of(statement), wanted()) }
    }

    /// What a colon parts.
    fn groups(&self, span: Span) -> impl Iterator<Item = Span> {
        let mut start = span.start as usize;
        self.section.at(span).split(':').map(move |part| {
            let inner = part.trim_matches(is_blank);
            let at = start + (part.len() - part.trim_start_matches(is_blank).len());
            start += part.len() + 1;
            Span::new(at, at + inner.len())
        })
    }
}
