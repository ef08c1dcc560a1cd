//! A walkthrough as its checks see it: its troubles, and how its lines are changed.

use super::WalkScene;
use super::wording::shown;
use crate::book::{WalkLine, WalkSays};
use crate::notation::{Line, Span};
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

    /// What shows that a claim is false, in words.
    pub(super) fn against(&self, counter: Counter) -> String {
        let lesson = self.puzzle.lesson;
        match counter {
            Counter::Holds(cell, digit) if lesson => format!("{cell} can hold {digit}"),
            Counter::Holds(cell, digit) => format!("{cell} holds {digit} in the solution"),
            Counter::Misses(house, digits) if digits.is_empty() => {
                format!("{} misses nothing here", self.layout.at(house).name)
            }
            Counter::Misses(house, digits) => format!("{} misses {digits} here", self.layout.at(house).name),
            Counter::Settled(cell) => format!("{cell} is settled here"),
        }
    }

    fn line(&self, number: usize) -> &'a Line {
        &self.section.lines[number]
    }

    /// What stands before the first word of a line.
    fn indent(&self, number: usize) -> &'a str {
        let text = self.section.at(self.line(number).span);
        &text[..text.len() - text.trim_start_matches(crate::notation::is_blank).len()]
    }

    /// The change that puts lines before one; what only prepares it, a diagram or something accepted, stays with it.
    pub(super) fn put_before(&self, number: usize, lines: &[String]) -> (Span, String) {
        let at = self.walk.lines.iter().position(|line| line.number == number).unwrap_or(0);
        let prepares = |line: &&WalkLine| matches!(line.says, WalkSays::Allow | WalkSays::Show(..));
        let first = self.walk.lines[..at].iter().rev().take_while(prepares).last();
        let number = first.map_or(number, |line| line.number);
        let (indent, ending) = (self.indent(number), self.line_end(number));
        let text = lines.iter().map(|line| format!("{indent}{line}{ending}")).collect();
        let start = self.line(number).span.start as usize;
        (Span::new(start, start), text)
    }

    /// The change that puts lines behind the last one of the walk.
    pub(super) fn put_last(&self, lines: &[String]) -> Option<(Span, String)> {
        let last = self.walk.lines.last()?;
        let (indent, ending) = (self.indent(last.number), self.line_end(last.number));
        let text = lines.iter().map(|line| format!("{ending}{indent}{line}")).collect();
        let end = self.line(last.number).span.end as usize;
        Some((Span::new(end, end), text))
    }

    /// The change that takes a line out.
    pub(super) fn take_out(&self, number: usize) -> (Span, String) {
        let line = self.line(number);
        let end = line.span.end as usize + line.ending.text().len();
        (Span::new(line.span.start as usize, end), String::new())
    }

    /// How a line ends, or would if it were not the last.
    fn line_end(&self, number: usize) -> &'static str {
        match self.line(number).ending.text() {
            "" => self.section.lines.first().map_or("\n", |line| line.ending.text()),
            ending => ending,
        }
    }

    /// The reason of the step on a line, with `by` and the blanks before it.
    pub(super) fn reason_with_by(&self, number: usize) -> Option<Span> {
        let line = self.walk.lines.iter().find(|line| line.number == number)?;
        let WalkSays::Step(claims, Some(because)) = &line.says else { return None };
        Some(Span { start: claims.last()?.span.end, end: because.span.end })
    }
}
