//! Claims and the lines of a walk.
//!
//! A line is not composed from its parts but mended: the parts that have one written form are replaced in place, and what
//! stands between them keeps its words and loses its spare blanks. So nothing that was written can get lost.

use super::Writer;
use crate::ladder;
use crate::notation::{
    CellRange, Claim, Digits, Line, Named, Place, Reason, Says, Section, ShowPart, Span, StepLine, is_blank,
    is_quote,
};

/// A claim of a `known` block.
pub(super) fn claim_line(writer: &Writer, line: &Line, side: Option<u8>) -> String {
    let mut mending = Mending::new(writer, line, side);
    writer.section.claim(line).into_iter().for_each(|claim| mending.claim(claim));
    mending.text()
}

/// A line of a walk.
pub(super) fn step_line(writer: &Writer, line: &Line, side: Option<u8>) -> String {
    let mut mending = Mending::new(writer, line, side);
    let Some(step) = writer.section.step(line) else { return mending.text() };
    match step {
        StepLine::Say(_) => {
            let said = writer.inner(line).trim_start_matches('>').trim_matches(is_blank);
            return format!("> {said}").trim_end().to_owned();
        }
        StepLine::Step(claims, reason) => {
            for claim in claims {
                mending.claim(claim);
            }
            if let Some(reason) = reason {
                mending.reason(reason);
            }
        }
        StepLine::Ask(_, claims) => {
            for claim in claims {
                mending.claim(claim);
            }
        }
        StepLine::Show(show) => {
            for part in &show.parts {
                match part {
                    ShowPart::Only(place) | ShowPart::Shade(place) | ShowPart::Ring(place) => {
                        mending.place(place);
                    }
                    ShowPart::MarksOf(digits) => mending.digits(digits),
                    ShowPart::MarksAll | ShowPart::MarksNone | ShowPart::MarksKnown => {}
                }
            }
        }
        StepLine::Finish(patterns) => {
            for &pattern in patterns {
                mending.pattern(pattern);
            }
            if let Some(first) = patterns.first() {
                mending.widen_by(*first);
            }
        }
        StepLine::Point(_) | StepLine::Allow(..) => {}
    }
    mending.text()
}

struct Mending<'a> {
    section: &'a Section,
    line: Span,
    side: Option<u8>,
    /// What is written in place of what, in order.
    parts: Vec<(Span, String)>,
}

impl<'a> Mending<'a> {
    fn new(writer: &Writer<'a>, line: &Line, side: Option<u8>) -> Self {
        Mending { section: writer.section, line: line.span, side, parts: Vec::new() }
    }

    fn claim(&mut self, claim: &Claim) {
        match &claim.says {
            Says::Is(cells, digits) => {
                self.cells(cells);
                self.sign(cells, digits);
                self.digits(digits);
            }
            Says::Not(cells, digits) => {
                self.cells(cells);
                self.digits(digits);
            }
            Says::Within { digits, place, .. } => {
                self.digits(digits);
                self.place(place);
            }
            Says::Misses(_, digits) => self.digits(digits),
            Says::Open(cells) => self.cells(cells),
        }
    }

    /// One blank on each side of `=`.
    fn sign(&mut self, cells: &[CellRange], digits: &Digits) {
        if let Some(last) = cells.last() {
            let between = Span { start: last.span().end, end: digits.span.start };
            self.parts.push((between, " = ".to_owned()));
        }
    }

    fn reason(&mut self, reason: &Reason) {
        self.widen_by(reason.pattern);
        self.pattern(reason.pattern);
        for named in &reason.names {
            match named {
                Named::Cells(range) => self.cells(&[*range]),
                Named::WithCells(cells) => self.cells(cells),
                Named::Digits(digits) | Named::WithDigit(digits, _) => self.digits(digits),
                Named::House(_) => {}
            }
        }
    }

    /// Two blanks before the `by` that stands before `name`.
    fn widen_by(&mut self, name: Span) {
        let before =
            self.section.text[self.line.start as usize..name.start as usize].trim_end_matches(is_blank);
        if let Some(claims) = before.strip_suffix("by") {
            let start = self.line.start as usize + claims.trim_end_matches(is_blank).len();
            self.parts.push((Span::new(start, name.start as usize), "  by ".to_owned()));
        }
    }

    fn pattern(&mut self, name: Span) {
        let written = self.section.at(name);
        let known = ladder::named(written).map_or_else(|| written.to_owned(), |known| known.name.to_owned());
        self.parts.push((name, known));
    }

    fn digits(&mut self, digits: &Digits) {
        let mut symbols: Vec<char> = digits.symbols.iter().map(|&(symbol, _)| symbol).collect();
        symbols.sort_by_key(|symbol| (symbol.is_alphabetic(), *symbol));
        self.parts.push((digits.span, symbols.into_iter().collect()));
    }

    /// Cells one by one, in reading order; a range that was typed stays a range, where its first cell comes.
    fn cells(&mut self, ranges: &[CellRange]) {
        let (Some(first), Some(last)) = (ranges.first(), ranges.last()) else { return };
        let Some(mut written) = self.written(ranges) else { return };
        written.sort();
        let cells: Vec<String> = written.into_iter().map(|(_, text)| text).collect();
        self.parts.push((first.span().to(last.span()), cells.join(" ")));
    }

    /// Each cell or range with what it is sorted by; `None` where a cell lies outside the board, or the board is not known.
    fn written(&self, ranges: &[CellRange]) -> Option<Vec<(crate::board::Cell, String)>> {
        let text = &self.section.text;
        let mut written = Vec::new();
        for range in ranges {
            let cells = range.cells(text, self.side?).ok()?;
            if let Some(to) = range.to {
                written.push((
                    *cells.first()?,
                    format!("{}..{}", self.section.at(range.from.span), self.section.at(to.span)),
                ));
            } else {
                written.extend(cells.into_iter().map(|cell| (cell, cell.to_string())));
            }
        }
        Some(written)
    }

    /// The cells of a place; its houses stay, and with them the order of all.
    fn place(&mut self, place: &[Place]) {
        for part in place {
            if let Place::Cells(range) = part {
                self.cells(&[*range]);
            }
        }
    }

    fn text(mut self) -> String {
        self.parts.sort_by_key(|(span, _)| *span);
        let mut text = String::with_capacity(self.line.len());
        let mut at = self.line.start;
        for (span, part) in std::mem::take(&mut self.parts) {
            self.push_between(&mut text, at, span.start);
            text.push_str(&part);
            at = span.end;
        }
        self.push_between(&mut text, at, self.line.end);
        text.trim_matches(is_blank).to_owned()
    }

    /// Appends what stands between two parts, with one blank for many; strings and a comment stay.
    fn push_between(&self, text: &mut String, from: u32, to: u32) {
        let mut quoted = false;
        let mut rest = self.section.at(Span { start: from, end: to }).chars().peekable();
        while let Some(c) = rest.next() {
            match c {
                '\\' if quoted => {
                    text.push(c);
                    text.extend(rest.next());
                }
                c if is_quote(c) => {
                    quoted = !quoted;
                    text.push(c);
                }
                c if quoted => text.push(c),
                '#' if text.is_empty() || text.ends_with(' ') => {
                    text.truncate(text.trim_end().len());
                    text.push_str("  #");
                    text.extend(rest);
                    return;
                }
                c if is_blank(c) => {
                    if !text.ends_with(' ') {
                        text.push(' ');
                    }
                }
                ',' => {
                    text.truncate(text.trim_end().len());
                    text.push_str(", ");
                }
                c => text.push(c),
            }
        }
    }
}
