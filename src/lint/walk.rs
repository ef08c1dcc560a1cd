//! A walkthrough as its checks see it: its troubles, and how its lines are changed.

use super::WalkScene;
use super::wording::shown;
use crate::board::Layout;
use crate::book::{Puzzle, WalkLine, WalkSays};
use crate::notation::{Section, Span, is_blank};
use crate::replay::{Counter, Trouble, TroubleKind};

impl<'a> WalkScene<'a> {
    /// The troubles of which `wanted` makes something, with what it makes of them.
    pub(super) fn troubles<T>(
        &self,
        wanted: impl Fn(&'a TroubleKind) -> Option<T>,
    ) -> impl Iterator<Item = (&'a Trouble, T)> {
        self.replay.troubles.iter().filter_map(move |trouble| Some((trouble, wanted(&trouble.kind)?)))
    }

    /// The text at `span`, for a message.
    pub(super) fn words(&self, span: Span) -> String {
        shown(self.section.at(span))
    }

    /// The line of the walk that is this one of the section's.
    pub(super) fn line(&self, number: usize) -> Option<&WalkLine> {
        self.place(number).map(|at| &self.walk.lines[at])
    }

    fn place(&self, number: usize) -> Option<usize> {
        self.walk.lines.binary_search_by_key(&number, |line| line.number).ok()
    }

    /// What shows that a claim is false, in words.
    pub(super) fn against(&self, counter: Counter) -> String {
        against(counter, self.puzzle, self.layout)
    }

    /// The change that puts lines before one; what only prepares it, a diagram or something accepted, stays with it.
    pub(super) fn put_before(&self, number: usize, lines: &[String]) -> (Span, String) {
        let at = self.place(number).unwrap_or(0);
        let prepares = |line: &&WalkLine| matches!(line.says, WalkSays::Allow | WalkSays::Show(..));
        let first = self.walk.lines[..at].iter().rev().take_while(prepares).last();
        put_lines_before(self.section, first.map_or(number, |line| line.number), lines)
    }

    /// The change that puts a line behind the last one of the walk.
    pub(super) fn put_last(&self, line: &str) -> Option<(Span, String)> {
        let number = self.walk.lines.last()?.number;
        let end = self.section.lines[number].span.end as usize;
        let text = format!("{}{}{line}", line_end(self.section, number), indent(self.section, number));
        Some((Span::new(end, end), text))
    }

    /// The change that takes a line out.
    pub(super) fn take_out(&self, number: usize) -> (Span, String) {
        take_line_out(self.section, number)
    }

    /// The reason of the step on a line, with `by` and the blanks before it.
    pub(super) fn reason_with_by(&self, number: usize) -> Option<Span> {
        let line = self.line(number)?;
        let WalkSays::Step(claims, Some(because)) = &line.says else { return None };
        Some(Span { start: claims.last()?.span.end, end: because.span.end })
    }
}

/// What shows that a claim is false, in words.
pub(super) fn against(counter: Counter, puzzle: &Puzzle, layout: &Layout) -> String {
    match counter {
        Counter::Holds(cell, digit) if puzzle.lesson => format!("{cell} can hold {digit}"),
        Counter::Holds(cell, digit) => format!("{cell} holds {digit} in the solution"),
        Counter::Misses(house, digits) if digits.is_empty() => {
            format!("{} misses nothing here", layout.at(house).name)
        }
        Counter::Misses(house, digits) => format!("{} misses {digits} here", layout.at(house).name),
        Counter::Settled(cell) => format!("{cell} is settled here"),
    }
}

/// The change that puts lines before one, indented as that is.
pub(super) fn put_lines_before(section: &Section, number: usize, lines: &[String]) -> (Span, String) {
    let (indent, ending) = (indent(section, number), line_end(section, number));
    let text = lines.iter().fold(String::new(), |text, line| text + indent + line + ending);
    let start = section.lines[number].span.start as usize;
    (Span::new(start, start), text)
}

/// The change that takes a line out.
pub(super) fn take_line_out(section: &Section, number: usize) -> (Span, String) {
    let line = &section.lines[number];
    let end = line.span.end as usize + line.ending.text().len();
    (Span::new(line.span.start as usize, end), String::new())
}

/// What stands before the first word of a line.
fn indent(section: &Section, number: usize) -> &str {
    let text = section.at(section.lines[number].span);
    &text[..text.len() - text.trim_start_matches(is_blank).len()]
}

/// How a line ends, or would if it were not the last.
fn line_end(section: &Section, number: usize) -> &'static str {
    match section.lines[number].ending.text() {
        "" => section.lines.first().map_or("\n", |line| line.ending.text()),
        ending => ending,
    }
}
