//! Ids: who bears one, and which are free.

use super::wording::{Comparing, nearest};
use crate::book::{Book, Name, Puzzle, SectionId, Spot, Workspace};
use crate::ladder;
use crate::notation::Keyword;
use std::collections::BTreeMap;

/// The ids of a workspace.
pub(super) struct Ids<'a> {
    /// By id, and those of one id in order.
    bearers: Vec<Bearer<'a>>,
    nameless: bool,
    comparing: Comparing,
}

/// A puzzle or lesson that has an id.
#[derive(Clone, Copy)]
pub(super) struct Bearer<'a> {
    pub section: SectionId,
    pub name: &'a Name,
    pub puzzle: &'a Puzzle,
}

impl<'a> Bearer<'a> {
    fn id(&self) -> &'a str {
        &self.name.text
    }

    /// Where its id stands.
    pub fn spot(&self) -> Spot {
        Spot { section: self.section, span: self.name.span }
    }
}

impl<'a> Ids<'a> {
    pub fn of(workspace: &'a Workspace) -> Ids<'a> {
        let mut ids = Ids { bearers: Vec::new(), nameless: false, comparing: Comparing::new() };
        for (section, _, puzzle) in workspace.puzzles() {
            match &puzzle.id {
                Some(name) => ids.bearers.push(Bearer { section, name, puzzle }),
                None => ids.nameless = true,
            }
        }
        ids.bearers.sort_by_key(Bearer::id);
        ids
    }

    /// Those that bear `id`, in order: one, if all is well.
    pub fn bearers(&self, id: &str) -> &[Bearer<'a>] {
        let from = &self.bearers[self.bearers.partition_point(|bearer| bearer.id() < id)..];
        &from[..from.partition_point(|bearer| bearer.id() == id)]
    }

    /// All that bear the same id as an earlier one, each with that one.
    pub fn repeated(&self) -> impl Iterator<Item = (Bearer<'a>, Bearer<'a>)> {
        let same = self.bearers.chunk_by(|one, other| one.id() == other.id());
        same.flat_map(|bearers| bearers.iter().skip(1).map(|again| (*again, bearers[0])))
    }

    /// Whether an id that nobody bears may be that of a puzzle whose own line is lost.
    pub fn may_be_lost(&self) -> bool {
        self.nameless
    }

    /// The ids that are nearly `id`, and the pattern that is if it may be one, as long as that does not come to much.
    pub fn near(&mut self, id: &str, may_be_pattern: bool) -> Vec<&'a str> {
        if !self.comparing.may_compare(id, self.bearers.len() + ladder::NAMES.len()) {
            return Vec::new();
        }
        let mut each: Vec<&str> = self.bearers.iter().map(Bearer::id).collect();
        each.dedup();
        let mut near = nearest(id, each.into_iter());
        near.extend(if may_be_pattern { ladder::nearest(id) } else { None });
        near
    }

    /// The next id of this shape that nobody bears; from now on it is taken.
    pub fn next(&self, shape: &Shape, taken: &mut BTreeMap<String, u64>) -> Option<String> {
        let first = self.bearers.partition_point(|bearer| bearer.id() < shape.prefix);
        let ids = || self.bearers[first..].iter().map(Bearer::id);
        let same = || ids().map_while(|id| Some((id, id.strip_prefix(shape.prefix)?)));
        let numbers =
            || same().filter(|(id, _)| shape.fits(id)).filter_map(|(_, digits)| digits.parse().ok());
        let last = taken.entry(shape.prefix.to_owned()).or_insert_with(|| numbers().max().unwrap_or(0));
        *last = last.checked_add(1)?;
        Some(format!("{}{last:0width$}", shape.prefix, width = shape.digits))
    }
}

/// The shape of ids that count: what stands before the digits at the end, and how many digits there are at least.
#[derive(Clone, Copy)]
pub(super) struct Shape<'a> {
    prefix: &'a str,
    digits: usize,
}

impl<'a> Shape<'a> {
    /// The shape of `id`; `None` if it does not end in digits.
    pub fn of(id: &'a str) -> Option<Shape<'a>> {
        let prefix = id.trim_end_matches(|c: char| c.is_ascii_digit());
        let digits = id.len() - prefix.len();
        (digits > 0).then_some(Shape { prefix, digits })
    }

    /// Whether `id` has it. Where the digits do not suffice, there may be more of them.
    pub fn fits(&self, id: &str) -> bool {
        id.strip_prefix(self.prefix).is_some_and(|number| {
            let longer = number.len() > self.digits && !number.starts_with('0');
            number.bytes().all(|b| b.is_ascii_digit()) && (number.len() == self.digits || longer)
        })
    }
}

/// The first id by which a book's `ids` statement shows the shape of its ids.
pub(super) fn first_id(book: &Book) -> Option<String> {
    let section = book.tree.sections.first()?;
    let statement = section.statements.iter().find(|it| it.keyword == Some(Keyword::Ids) && !it.broken)?;
    match statement.values[..] {
        [value] => Some(section.value(value)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_of_a_shape_may_outgrow_its_digits() {
        let shape = Shape::of("lk-01").unwrap();
        for (id, fits) in
            [("lk-07", true), ("lk-100", true), ("lk-7", false), ("lk-007", false), ("lm-07", false)]
        {
            assert_eq!(shape.fits(id), fits, "{id}");
        }
        assert!(Shape::of("two-looks").is_none());
    }
}
