//! The meaning of one section.

use super::values::{line_of, take};
use super::{Answer, Constraints, Entry, Facts, Fault, FaultKind, Layouts, Name, Puzzle};
use crate::notation::{Item, ItemKind, Keyword, Section, Span, Statement};
use std::sync::Arc;

/// What a section means.
#[derive(Clone, Default, Debug)]
pub struct Meaning {
    /// What each item of the section means, in the same order.
    pub entries: Vec<Entry>,
    /// What has no meaning as it stands, in order of place.
    pub faults: Vec<Fault>,
    /// What holds by default from here on, where the section (a preface or a part) says something.
    pub defaults: Option<Arc<Defaults>>,
}

/// What holds by default at some place in a file.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Defaults {
    /// What the preface says: it holds everywhere.
    file: Arc<Facts>,
    /// The same, and what the part says that the place lies in: it holds until the next part.
    here: Arc<Facts>,
}

impl Meaning {
    /// The puzzles and lessons, in order.
    pub fn puzzles(&self) -> impl Iterator<Item = &Puzzle> {
        self.entries.iter().filter_map(|entry| match entry {
            Entry::Puzzle(puzzle) => Some(&**puzzle),
            _ => None,
        })
    }

    /// Understands a section, where `defaults` hold. Puzzles of one geometry share a layout out of `layouts`.
    pub fn of(section: &Section, defaults: &Defaults, layouts: &Layouts) -> Meaning {
        let mut reader = Reader { section, layouts, faults: Vec::new() };
        let mut meaning = Meaning { entries: Vec::with_capacity(section.items.len()), ..Meaning::default() };
        for item in &section.items {
            let holds = meaning.defaults.as_deref().unwrap_or(defaults);
            let entry = match item.kind {
                ItemKind::Preface => {
                    let facts = Arc::new(reader.defaults(item, &holds.file));
                    meaning.defaults = Some(Arc::new(Defaults { file: Arc::clone(&facts), here: facts }));
                    Entry::Preface
                }
                ItemKind::Part => {
                    let file = Arc::clone(&holds.file);
                    let here = Arc::new(reader.defaults(item, &file));
                    meaning.defaults = Some(Arc::new(Defaults { file, here }));
                    Entry::Part
                }
                ItemKind::Puzzle | ItemKind::Lesson => {
                    Entry::Puzzle(Box::new(reader.puzzle(item, &holds.here)))
                }
                ItemKind::Answer => Entry::Answer(Box::new(reader.answer(item))),
            };
            meaning.entries.push(entry);
        }
        meaning.faults = reader.faults;
        meaning.faults.sort_by_key(|fault| fault.span);
        meaning
    }
}

/// Understands one section.
pub(super) struct Reader<'a> {
    pub section: &'a Section,
    pub layouts: &'a Layouts,
    pub faults: Vec<Fault>,
}

impl Reader<'_> {
    pub(super) fn fault(&mut self, span: Span, kind: FaultKind) {
        self.faults.push(Fault { span, kind });
    }

    /// Takes up the facts of an item that need no size to be read.
    pub(super) fn facts(&mut self, statements: &[Statement], defaults: &Facts) -> Facts {
        let mut facts = defaults.clone();
        for statement in statements {
            self.faults.extend(take(self.section, statement, &mut facts));
        }
        facts
    }

    /// What holds after a preface or a part.
    fn defaults(&mut self, item: &Item, before: &Facts) -> Facts {
        let statements = self.section.statements_of(item);
        let mut facts = self.facts(statements, before);
        let needs_size = |it: &Statement| match it.keyword {
            Some(Keyword::Regions | Keyword::House | Keyword::Symbols) => true,
            Some(Keyword::Boxes) => facts.size.is_some(),
            Some(keyword) => keyword.is_constraint(),
            None => false,
        };
        if statements.iter().any(needs_size) {
            let layout = self.layout(statements, &mut facts);
            self.take_symbols(statements, layout.as_deref(), &mut facts);
            let unused = self.unused_constraints(statements, layout.as_deref());
            facts.constraints = facts.constraints.max(said(statements, &unused));
        }
        self.check_lines(statements, None);
        facts.into_defaults()
    }

    fn answer(&mut self, item: &Item) -> Answer {
        let statements = self.section.statements_of(item);
        let head = &statements[0];
        self.check_lines(statements, None);
        Answer { head: line_of(head), id: self.id(head), statement: item.statements.start as usize }
    }

    /// The id on the line of a head.
    pub(super) fn id(&self, head: &Statement) -> Option<Name> {
        let value = head.values.first().filter(|value| !value.quoted)?;
        Some(Name { text: self.section.value(*value), span: value.span })
    }
}

/// What there is to say of the constraints of an item, those of which that can be understood are `unused`.
pub(super) fn said(statements: &[Statement], unused: &[Span]) -> Constraints {
    match (unused, statements.iter().any(is_constraint)) {
        ([_, ..], _) => Constraints::Unused,
        ([], true) => Constraints::Unreadable,
        ([], false) => Constraints::None,
    }
}

/// Whether a statement is a further constraint.
pub(super) fn is_constraint(statement: &Statement) -> bool {
    statement.keyword.is_some_and(Keyword::is_constraint)
}
