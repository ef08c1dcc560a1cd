//! What authors accept: the `allow` statements, and the `allow` lines of walks.

use super::check::{MOST_IN_FILE, report};
use super::finding::item_at;
use super::wording::{either, nearest, shown};
use super::{Draft, FINDINGS, Finding, Report, Severity, allow_unused};
use crate::book::{Book, Entry, Puzzle, SectionId, Spot};
use crate::notation::{
    CellRange, Item, ItemKind, Keyword, Line, LineKind, Section, Span, Statement, StepLine, is_blank,
    read_cells,
};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// While one of these is found, the puzzle is not looked at in full, so no `allow` is idle for sure.
const NOT_LOOKED_AT: &[&str] = &["undecided", "constraint-unchecked", "repeats-undecided"];

/// An item of a workspace: its section, and which of the section's items it is.
type Owner = (SectionId, usize);

/// One `allow`.
pub(super) struct Allow {
    /// The name of the finding, as written.
    pub name: Span,
    /// The whole line, from `allow` to the last quote.
    pub line: Span,
    /// Only what lies here is accepted.
    only: Only,
}

/// Where an [`Allow`] accepts.
enum Only {
    Everywhere,
    /// At these cells of a grid or sheet.
    Cells(Vec<CellRange>),
    /// In this line of the walk.
    Line(Span),
}

/// Every `allow` of a section that reads well, each with the item that it stands in; and what is wrong with the others.
pub(super) fn allows(section: &Section) -> (Vec<(usize, Allow)>, Vec<Draft>) {
    let (mut allows, mut drafts) = (Vec::new(), Vec::new());
    for (number, item) in section.items.iter().enumerate() {
        for statement in section.statements_of(item) {
            match statement.keyword {
                Some(Keyword::Allow) if !statement.broken => match of_statement(section, statement) {
                    Ok(allow) => allows.push((number, allow)),
                    Err(draft) => drafts.push(draft),
                },
                Some(Keyword::Steps) => {
                    let lines = of_walk(section, section.block(statement));
                    allows.extend(lines.into_iter().map(|allow| (number, allow)));
                }
                _ => {}
            }
        }
    }
    allows.retain(|(_, allow)| match unknown(section, allow.name) {
        Some(draft) => {
            drafts.push(draft);
            false
        }
        None => true,
    });
    (allows, drafts)
}

/// `allow NAME [at CELLS] "why"`
fn of_statement(section: &Section, statement: &Statement) -> Result<Allow, Draft> {
    let unreadable = |span: Span, why: &str| {
        let message = format!("`allow` cannot be followed by `{}`: {why}", shown(section.at(span)));
        Err(Draft::new(span, message, "write it like `allow not-minimal \"the picture is wanted\"`"))
    };
    let values = &statement.values;
    let [name, between @ .., why] = &**values else {
        return unreadable(statement.word, "a finding's name and the reason why belong after it");
    };
    if name.quoted {
        return unreadable(name.span, "a finding's name stands before the reason");
    }
    if !why.quoted {
        return unreadable(why.span, "the reason why stands last, in quotes");
    }
    let only = match between {
        [] => Only::Everywhere,
        [at, cells @ ..] if section.at(at.span) == "at" && !cells.is_empty() => {
            let place = cells.iter().fold(cells[0].span, |all, cell| all.to(cell.span));
            match read_cells(&section.text, place) {
                Some(cells) => Only::Cells(cells),
                None => return unreadable(place, "cells stand after `at`, such as `r4c1 r6c1`"),
            }
        }
        [first, ..] => {
            return unreadable(first.span, "`at` and cells can stand between the name and the reason");
        }
    };
    Ok(Allow { name: name.span, line: statement.word.to(why.span), only })
}

/// The `allow` lines of a walk, each for the next line that does something.
fn of_walk(section: &Section, block: &[Line]) -> Vec<Allow> {
    let (mut allows, mut next) = (Vec::new(), Span::default());
    for line in block.iter().rev() {
        match section.step(line) {
            Some(&StepLine::Allow(name, why)) => {
                let written = section.at(line.span).trim_start_matches(is_blank);
                let start = line.span.end as usize - written.len();
                let line = Span::new(start, why.end as usize);
                allows.push(Allow { name, line, only: Only::Line(next) });
            }
            Some(StepLine::Say(_)) => {}
            None if line.kind != LineKind::Kept => {}
            _ => next = line.span,
        }
    }
    allows.reverse();
    allows
}

/// What there is to say if no finding is called so.
fn unknown(section: &Section, span: Span) -> Option<Draft> {
    let name = section.at(span);
    if Finding::named(name).is_some() {
        return None;
    }
    let near = nearest(name, FINDINGS.iter().map(|finding| finding.name));
    let message = format!("no finding is called `{}`, so this accepts nothing", shown(name));
    let help = match near[..] {
        [] => "write the name of the finding as it is reported".to_owned(),
        _ => format!("write {}, if that is meant", either(&near)),
    };
    let draft = Draft::new(span, message, help);
    let propose = |draft: Draft, near: &&str| {
        draft.propose(format!("write `{near}`"), vec![(span, (*near).to_owned())])
    };
    Some(near.iter().fold(draft, propose))
}

/// What is accepted in some sections, by the item that it stands in and the finding that it names.
pub(super) struct Allowed<'a> {
    books: &'a [Book],
    allows: BTreeMap<(Owner, &'a str), Named<'a>>,
    parts: BTreeSet<Owner>,
}

/// Each `allow` of an item that names the same finding. Those that accept the same are taken together: there may be as
/// many of them as a file has lines, and as many findings.
#[derive(Default)]
struct Named<'a> {
    everywhere: Alike<'a>,
    /// By the line of the walk; no two lines have a byte in common.
    lines: BTreeMap<Span, Alike<'a>>,
    cells: Vec<(&'a [CellRange], Alike<'a>)>,
}

/// Each `allow` that accepts the same, and whether that was anything yet.
#[derive(Default)]
struct Alike<'a> {
    allows: Vec<&'a Allow>,
    used: bool,
}

impl<'a> Allowed<'a> {
    /// Nothing, in a workspace of these books.
    pub fn new(books: &'a [Book]) -> Allowed<'a> {
        Allowed { books, allows: BTreeMap::new(), parts: BTreeSet::new() }
    }

    /// What is accepted in a section, too.
    pub fn add(&mut self, id: SectionId, allows: &'a [(usize, Allow)]) {
        let section = section_of(self.books, id);
        for (item, allow) in allows {
            self.allows.entry(((id, *item), section.at(allow.name))).or_default().add(allow);
        }
        let parts = section.items.iter().enumerate().filter(|(_, item)| item.kind == ItemKind::Part);
        self.parts.extend(parts.map(|(item, _)| (id, item)));
    }

    /// Whether nothing is accepted.
    pub fn is_empty(&self) -> bool {
        self.allows.is_empty()
    }

    /// The reports that are not accepted, and one for each `allow` that accepts none.
    pub fn judge(mut self, reports: Vec<Report>) -> Vec<Report> {
        let uncertain = |report: &&Report| {
            report.finding.severity == Severity::Error || NOT_LOOKED_AT.contains(&report.finding.name)
        };
        let uncertain: BTreeSet<Owner> =
            reports.iter().filter(uncertain).map(|report| owner(self.books, report.spot)).collect();
        let mut left: Vec<Report> = reports.into_iter().filter(|report| !self.accepts(report)).collect();
        for idle in self.idle(&uncertain) {
            if !self.accepts(&idle) {
                left.push(idle);
            }
        }
        left
    }

    /// Whether an `allow` accepts the report; all that do have been of use.
    pub fn accepts(&mut self, report: &Report) -> bool {
        let here = owner(self.books, report.spot);
        let file = (SectionId { book: here.0.book, section: 0 }, 0);
        let part = self.parts.range(file..=here).next_back().copied();
        let preface = (item(self.books, file).kind == ItemKind::Preface).then_some(file);
        let owners: BTreeSet<Owner> = [Some(here), part, preface].into_iter().flatten().collect();
        let mut accepted = false;
        for owner in owners {
            let named = self.allows.get_mut(&(owner, report.finding.name));
            accepted |= named.is_some_and(|named| named.accepts(self.books, owner.0, here, report.spot));
        }
        accepted
    }

    /// A report for each `allow` that accepts nothing, where all that it could accept was looked for; no more than
    /// [`MOST_IN_FILE`].
    fn idle(&self, uncertain: &BTreeSet<Owner>) -> Vec<Report> {
        let mut idle = Vec::new();
        for (&(owner, name), named) in &self.allows {
            let itself = name == allow_unused::FINDING.name;
            if !itself && uncertain.range(self.scope(owner)).next().is_none() {
                idle.extend(named.unused().map(|allow| (owner.0, allow)));
            }
        }
        idle.sort_by_key(|(id, allow)| (*id, allow.line));
        idle.truncate(MOST_IN_FILE);
        let said = idle.into_iter().map(|(id, allow)| {
            let draft = allow_unused::draft(section_of(self.books, id), allow);
            report(self.books, id, &allow_unused::FINDING, draft, false)
        });
        said.collect()
    }

    /// The items that an `allow` of this one is about.
    fn scope(&self, owner: Owner) -> Range<Owner> {
        let (id, number) = owner;
        let end_of_file = (SectionId { book: id.book + 1, section: 0 }, 0);
        let next = (id, number + 1);
        match item(self.books, owner).kind {
            ItemKind::Preface => owner..end_of_file,
            ItemKind::Part => {
                owner..self.parts.range(next..end_of_file).next().copied().unwrap_or(end_of_file)
            }
            ItemKind::Puzzle | ItemKind::Lesson | ItemKind::Answer => owner..next,
        }
    }
}

fn section_of(books: &[Book], id: SectionId) -> &Section {
    &books[id.book].tree.sections[id.section]
}

fn owner(books: &[Book], spot: Spot) -> Owner {
    (spot.section, item_at(section_of(books, spot.section), spot.span.start))
}

fn item(books: &[Book], owner: Owner) -> &Item {
    &section_of(books, owner.0).items[owner.1]
}

impl<'a> Named<'a> {
    fn add(&mut self, allow: &'a Allow) {
        let alike = match &allow.only {
            Only::Everywhere => &mut self.everywhere,
            Only::Line(line) => self.lines.entry(*line).or_default(),
            Only::Cells(cells) => {
                let alike = Alike { allows: vec![allow], used: false };
                return self.cells.push((cells, alike));
            }
        };
        alike.allows.push(allow);
    }

    /// Whether one of them accepts what lies at `spot`, in the item `here`; all that do have been of use. `home` is the
    /// section that they stand in.
    fn accepts(&mut self, books: &[Book], home: SectionId, here: Owner, spot: Spot) -> bool {
        let everywhere = Some(&mut self.everywhere).filter(|alike| !alike.allows.is_empty());
        let before_its_end = ..Span { start: spot.span.end, end: 0 };
        let lines = self.lines.range_mut(before_its_end).rev();
        let lines = lines.take_while(|(line, _)| home == spot.section && touch(**line, spot.span));
        let cells = self.cells.iter_mut().filter(|(cells, _)| at_cells(books, home, cells, here, spot));
        let lines_and_cells = lines.map(|(_, alike)| alike).chain(cells.map(|(_, alike)| alike));
        let mut accepted = false;
        for alike in everywhere.into_iter().chain(lines_and_cells) {
            alike.used = true;
            accepted = true;
        }
        accepted
    }

    /// Those that have accepted nothing.
    fn unused(&self) -> impl Iterator<Item = &'a Allow> {
        let lines_and_cells = self.lines.values().chain(self.cells.iter().map(|(_, alike)| alike));
        let all = std::iter::once(&self.everywhere).chain(lines_and_cells);
        all.filter(|alike| !alike.used).flat_map(|alike| alike.allows.iter().copied())
    }
}

/// Whether `spot`, in the item `here`, is at one of the cells that are named in the section `home`.
fn at_cells(books: &[Book], home: SectionId, cells: &[CellRange], here: Owner, spot: Spot) -> bool {
    let Some(Entry::Puzzle(puzzle)) = books[here.0.book].meanings[here.0.section].entries.get(here.1) else {
        return false;
    };
    let (said, section) = (section_of(books, home), section_of(books, here.0));
    lies_at(said, cells, section, puzzle, spot.span)
}

/// Whether a place in one of the puzzle's grids or sheets is that of one of the cells.
fn lies_at(said: &Section, cells: &[CellRange], section: &Section, puzzle: &Puzzle, span: Span) -> bool {
    let Some(layout) = &puzzle.layout else { return false };
    let side = layout.size().side();
    let boards = || [&puzzle.givens, &puzzle.position, &puzzle.solution].into_iter().flatten();
    cells.iter().flat_map(|range| range.cells(&said.text, side).unwrap_or_default()).any(|cell| {
        boards().map(|board| board.place(section, cell)).any(|place| touch(place, span))
            || puzzle.sheets.iter().map(|sheet| sheet.place(section, cell)).any(|place| touch(place, span))
    })
}

/// Whether two places have a byte in common.
pub(super) fn touch(a: Span, b: Span) -> bool {
    a.start < b.end && b.start < a.end
}

#[cfg(test)]
mod tests {
    use crate::book::{Book, Workspace};

    /// Several that accept the same have been of use together, and one that comes before the others by itself.
    #[test]
    fn what_accepts_the_same_is_of_use_together() {
        let text = "puzzle a-1\ngivens\n  1 . 3 4\n  3 4 1 2\n  2 1 4 3\n  4 3 2 .\nsize 4\nsteps\n  \
            allow step-stale \"news\"\n  r1c2 = 2\n  \
            allow step-stale \"once\"\n  > Again.\n  allow step-stale \"twice\"\n  r1c2 = 2\n  r4c4 = 1\n  \
            allow step-stale \"behind all\"\n";
        let workspace = Workspace::new(vec![Book::read("", text)]);
        let reports = crate::lint::check(&workspace);
        let said: Vec<_> = reports.iter().map(|it| (it.finding.name, it.spot.span.of(text))).collect();
        let idle = ["news", "behind all"].map(|why| ("allow-unused", format!("allow step-stale \"{why}\"")));
        assert_eq!(said, idle.each_ref().map(|(name, line)| (*name, &**line)));
    }
}
