//! References to puzzles by id, wherever they stand.

use super::claims::is_id;
use super::{Book, SectionId, Spot, Workspace};
use crate::ladder::named;
use crate::notation::{
    Block, BraceReads, Keyword, Line, LineKind, Section, Span, Statement, StepLine, Value, braces,
};

/// A place that names a puzzle or a lesson.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reference<'a> {
    /// What names it.
    pub by: ReferenceBy,
    /// The id as written.
    pub id: &'a str,
    /// Where it stands.
    pub spot: Spot,
    /// A point of its walks, as written and where, if one is named.
    pub point: Option<(&'a str, Spot)>,
}

/// What names a puzzle or a lesson.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ReferenceBy {
    /// `{ID}` or `{ID at POINT}` in prose.
    Brace,
    /// `from ID` or `from ID at POINT`.
    From,
    /// `answer ID`.
    Answer,
    /// `take ID` or `take ID..ID`: each of the two.
    Take,
    /// `repeats ID`: it may be in a file that is not at hand.
    Repeats,
}

/// What a `take` names: a puzzle or a lesson, or all whose numbers lie between those of two.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Taken<'a> {
    /// The first id.
    pub first: &'a str,
    /// The last id, which may be the first.
    pub last: &'a str,
}

impl Taken<'_> {
    /// Whether it is more than one.
    pub fn is_range(&self) -> bool {
        self.first != self.last
    }

    /// Whether `id` is meant.
    pub fn names(&self, id: &str) -> bool {
        let between = || {
            let (series, number) = numbered(id)?;
            let ((first_series, first), (last_series, last)) = (numbered(self.first)?, numbered(self.last)?);
            Some(series == first_series && series == last_series && (first..=last).contains(&number))
        };
        id == self.first || id == self.last || (self.is_range() && between().unwrap_or(false))
    }
}

/// An id less the figures at its end, and these.
fn numbered(id: &str) -> Option<(&str, u64)> {
    let series = id.trim_end_matches(|c: char| c.is_ascii_digit());
    Some((series, id[series.len()..].parse().ok()?))
}

impl Book {
    /// What its `take` lines name, in order.
    pub fn takes(&self) -> impl Iterator<Item = Taken<'_>> {
        let statements = self
            .tree
            .sections
            .iter()
            .flat_map(|section| section.statements.iter().map(move |it| (section, it)));
        statements.filter(|(_, it)| it.keyword == Some(Keyword::Take) && !it.broken).flat_map(
            |(section, statement)| {
                statement.values.iter().map(|value| {
                    let said = section.at(value.span).trim_end_matches(',');
                    let (first, last) = said.split_once("..").unwrap_or((said, said));
                    Taken { first, last }
                })
            },
        )
    }

    /// Every reference to a puzzle or a lesson in one of its sections, in order of place; it counts as this `book`.
    pub fn references_in(&self, book: usize, section: usize) -> impl Iterator<Item = Reference<'_>> {
        let at = References { id: SectionId { book, section }, section: &self.tree.sections[section] };
        at.section.statements.iter().filter(|it| may_refer(it)).flat_map(move |statement| at.of(statement))
    }
}

impl Workspace {
    /// Every reference to a puzzle or a lesson, in order of place. Each is to be looked up with [`Workspace::find`].
    pub fn references(&self) -> impl Iterator<Item = Reference<'_>> {
        self.sections().flat_map(|(id, ..)| self.books[id.book].references_in(id.book, id.section))
    }
}

/// Where references are gathered.
#[derive(Clone, Copy)]
struct References<'a> {
    id: SectionId,
    section: &'a Section,
}

impl<'a> References<'a> {
    fn reference(self, by: ReferenceBy, name: Span, point: Option<Span>) -> Reference<'a> {
        let spot = |span| Spot { section: self.id, span };
        let point = point.map(|span| (self.section.at(span), spot(span)));
        Reference { by, id: self.section.at(name), spot: spot(name), point }
    }

    fn of(self, statement: &Statement) -> Vec<Reference<'a>> {
        let values = &statement.values;
        match statement.keyword {
            _ if statement.broken && statement.block.is_empty() => Vec::new(),
            Some(Keyword::From) => match values[..] {
                [id] => vec![self.reference(ReferenceBy::From, id.span, None)],
                [id, _, point] => vec![self.reference(ReferenceBy::From, id.span, Some(point.span))],
                _ => Vec::new(),
            },
            Some(keyword @ (Keyword::Answer | Keyword::Repeats)) => {
                let by = if keyword == Keyword::Answer { ReferenceBy::Answer } else { ReferenceBy::Repeats };
                let id = values.first().filter(|id| !id.quoted);
                id.map(|id| self.reference(by, id.span, None)).into_iter().collect()
            }
            Some(Keyword::Take) => values.iter().flat_map(|value| self.taken(*value)).collect(),
            _ => self.in_prose(statement),
        }
    }

    /// The two ends of `ID..ID`, or one id alone.
    fn taken(self, value: Value) -> Vec<Reference<'a>> {
        let mut start = value.span.start as usize;
        let end = |part: &str| {
            let span = Span::new(start, start + part.trim_end_matches(',').len());
            start += part.len() + "..".len();
            self.reference(ReferenceBy::Take, span, None)
        };
        self.section.at(value.span).split("..").map(end).collect()
    }

    fn in_prose(self, statement: &Statement) -> Vec<Reference<'a>> {
        let mut references = Vec::new();
        for prose in self.section.block(statement).iter().filter_map(|line| self.prose_of(line)) {
            for brace in braces(&self.section.text, prose) {
                match brace.reads {
                    BraceReads::IdAt(name, point) => {
                        references.push(self.reference(ReferenceBy::Brace, name, Some(point)));
                    }
                    BraceReads::Words if is_id_word(self.section.at(brace.inner)) => {
                        references.push(self.reference(ReferenceBy::Brace, brace.inner, None));
                    }
                    _ => {}
                }
            }
        }
        references
    }

    /// The part of a line that is prose, if any.
    fn prose_of(self, line: &Line) -> Option<Span> {
        if line.kind == LineKind::Prose {
            return Some(line.span);
        }
        match self.section.step(line)? {
            StepLine::Say(prose) => Some(*prose),
            StepLine::Ask(question, _) => Some(*question),
            StepLine::Show(show) => show.caption,
            _ => None,
        }
    }
}

/// Whether a statement can name a puzzle or a lesson: most cannot.
fn may_refer(statement: &Statement) -> bool {
    use Keyword::{Answer, From, Repeats, Take};
    statement.keyword.is_some_and(|keyword| {
        matches!(keyword, Answer | From | Repeats | Take)
            || matches!(keyword.shape().block, Block::Prose | Block::Steps)
    })
}

/// Whether words in braces are to be looked up as an id.
fn is_id_word(words: &str) -> bool {
    is_id(words) && named(words).is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_takes_what_is_numbered_between() {
        let book = Book::read("best.gset", "take  lk-02..lk-11, one-look\ntake \"\n");
        let takes: Vec<Taken> = book.takes().collect();
        assert_eq!(
            takes.iter().map(|it| (it.first, it.last)).collect::<Vec<_>>(),
            [("lk-02", "lk-11"), ("one-look", "one-look"),]
        );
        for (id, taken) in [
            ("lk-02", true),
            ("lk-7", true),
            ("lk-11", true),
            ("lk-12", false),
            ("lm-07", false),
            ("lk-", false),
            ("one-look", true),
            ("one-look-1", false),
        ] {
            assert_eq!(takes.iter().any(|it| it.names(id)), taken, "{id}");
        }
    }
}
