//! References to puzzles by id, wherever they stand.

use super::{Entry, SectionId, Spot, Workspace, is_id};
use crate::ladder::named;
use crate::notation::{BraceReads, Keyword, LineKind, Section, Span, Statement, StepLine, braces};

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
}

impl Workspace {
    /// Every reference to a puzzle or a lesson, in order of place. Each is to be looked up with [`Workspace::find`].
    pub fn references(&self) -> impl Iterator<Item = Reference<'_>> {
        self.sections().flat_map(|(id, section, meaning)| {
            let answers = meaning.entries.iter().any(|entry| matches!(entry, Entry::Answer(_)));
            let may_refer = answers || section.text.contains('{') || section.text.contains("from");
            section
                .statements
                .iter()
                .filter(move |_| may_refer)
                .flat_map(move |it| of_statement(id, section, it))
        })
    }
}

fn of_statement<'a>(id: SectionId, section: &'a Section, statement: &Statement) -> Vec<Reference<'a>> {
    let reference = |by: ReferenceBy, name: Span, point: Option<Span>| Reference {
        by,
        id: section.at(name),
        spot: Spot { section: id, span: name },
        point: point.map(|span| (section.at(span), Spot { section: id, span })),
    };
    let named_by_value = |by: ReferenceBy| {
        let values = &statement.values;
        let id = values.first().filter(|value| !value.quoted && !statement.broken)?;
        Some(reference(by, id.span, values.get(2).map(|point| point.span)))
    };
    let mut references: Vec<Reference<'a>> = match statement.keyword {
        Some(Keyword::From) => named_by_value(ReferenceBy::From).into_iter().collect(),
        Some(Keyword::Answer) => named_by_value(ReferenceBy::Answer)
            .map(|it| Reference { point: None, ..it })
            .into_iter()
            .collect(),
        _ => Vec::new(),
    };
    for prose in section.block(statement).iter().filter_map(|line| prose_of(line.span, &line.kind)) {
        if !section.at(prose).contains('{') {
            continue;
        }
        for brace in braces(&section.text, prose).0 {
            match brace.reads {
                BraceReads::IdAt(name, point) => {
                    references.push(reference(ReferenceBy::Brace, name, Some(point)));
                }
                BraceReads::Words if is_id_word(section.at(brace.inner)) => {
                    references.push(reference(ReferenceBy::Brace, brace.inner, None));
                }
                _ => {}
            }
        }
    }
    references
}

/// Whether words in braces are to be looked up as an id.
fn is_id_word(words: &str) -> bool {
    is_id(words) && named(words).is_none()
}

/// The part of a line that is prose, if any.
pub(super) fn prose_of(line: Span, kind: &LineKind) -> Option<Span> {
    match kind {
        LineKind::Prose => Some(line),
        LineKind::Step(step) => match &**step {
            StepLine::Say(prose) => Some(*prose),
            StepLine::Ask(question, _) => Some(*question),
            StepLine::Show(show) => show.caption,
            _ => None,
        },
        _ => None,
    }
}
