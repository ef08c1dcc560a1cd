//! Which findings what authors accept takes away, and what of it accepts none.

use super::allow::{Allow, Only};
use super::check::{MOST_IN_FILE, report};
use super::finding::{item_at, line_at, touch};
use super::{Report, Severity, allow_unused};
use crate::board::CellSet;
use crate::book::{Book, Entry, SectionId, Spot};
use crate::notation::{CellRange, Item, ItemKind, Section, Span};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// While one of these is found, the puzzle is not looked at in full, so no `allow` is idle for sure.
const NOT_LOOKED_AT: &[&str] = &["undecided", "constraint-unchecked", "repeats-undecided"];

/// An item of a workspace: its section, and which of the section's items it is.
type Owner = (SectionId, usize);

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
    cells: AtCells<'a>,
}

/// Each `allow` that accepts at some cells.
#[derive(Default)]
struct AtCells<'a> {
    allows: Vec<(&'a [CellRange], &'a Allow)>,
    /// By the side of the board: which cells are meant depends on it.
    boards: BTreeMap<u8, Accepted>,
}

/// The cells of a board at which something is accepted, and those of them at which something was found.
struct Accepted {
    all: CellSet,
    used: CellSet,
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
        let books = self.books;
        for (item, allow) in allows {
            let name = section_of(books, id).at(allow.name);
            self.allows.entry(((id, *item), name)).or_default().add(allow);
        }
    }

    /// Takes up where parts begin in a section: what a part accepts is for all up to the next.
    pub fn add_parts(&mut self, id: SectionId) {
        let items = section_of(self.books, id).items.iter().enumerate();
        let parts = items.filter(|(_, item)| item.kind == ItemKind::Part);
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
                let unused = named.unused(section_of(self.books, owner.0));
                idle.extend(unused.into_iter().map(|allow| (owner.0, allow)));
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
            Only::Cells(cells) => return self.cells.allows.push((cells, allow)),
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
        let mut accepted = false;
        for alike in everywhere.into_iter().chain(lines.map(|(_, alike)| alike)) {
            alike.used = true;
            accepted = true;
        }
        accepted | self.cells.accept(books, home, here, spot.span)
    }

    /// Those that have accepted nothing; they stand in the section `home`.
    fn unused(&self, home: &Section) -> Vec<&'a Allow> {
        let all = std::iter::once(&self.everywhere).chain(self.lines.values());
        let unused = all.filter(|alike| !alike.used).flat_map(|alike| alike.allows.iter().copied());
        unused.chain(self.cells.unused(home)).collect()
    }
}

impl<'a> AtCells<'a> {
    /// Whether one of them accepts what lies at `span`, in the item `here`; all that do have been of use.
    fn accept(&mut self, books: &[Book], home: SectionId, here: Owner, span: Span) -> bool {
        if self.allows.is_empty() {
            return false;
        }
        let Some((side, cells)) = cells_at(books, here, span) else { return false };
        let home = section_of(books, home);
        let all = || self.allows.iter().fold(CellSet::EMPTY, |all, (cells, _)| all | on(home, cells, side));
        let board = self.boards.entry(side).or_insert_with(|| Accepted { all: all(), used: CellSet::EMPTY });
        let accepted = board.all & cells;
        board.used |= accepted;
        !accepted.is_empty()
    }

    /// Those that have accepted nothing; they stand in the section `home`.
    fn unused(&self, home: &Section) -> impl Iterator<Item = &'a Allow> {
        let used =
            |cells| self.boards.iter().any(|(&side, it)| !(on(home, cells, side) & it.used).is_empty());
        self.allows.iter().filter(move |(cells, _)| !used(cells)).map(|(_, allow)| *allow)
    }
}

/// The cells that are written so in a section, on a board of this side.
fn on(section: &Section, cells: &[CellRange], side: u8) -> CellSet {
    cells.iter().flat_map(|range| range.cells(&section.text, side).unwrap_or_default()).collect()
}

/// The side of the board of the puzzle that an item is, and the cells that stand at `span` in one of its grids or sheets.
fn cells_at(books: &[Book], (id, item): Owner, span: Span) -> Option<(u8, CellSet)> {
    let Entry::Puzzle(puzzle) = books[id.book].meanings[id.section].entries.get(item)? else { return None };
    let section = section_of(books, id);
    let lines = line_at(section, span.start)..line_at(section, span.end) + 1;
    let block = |statement: usize| &section.statements[statement].block;
    let meets = |statement: usize| block(statement).start < lines.end && lines.start < block(statement).end;
    let boards = [&puzzle.givens, &puzzle.position, &puzzle.solution].into_iter().flatten();
    let of_boards = boards.filter(|board| meets(board.statement)).flat_map(|board| board.places(section));
    // Sheets there may be many of, in the order in which they stand.
    let first = puzzle.sheets.partition_point(|sheet| block(sheet.statement).end <= lines.start);
    let sheets = puzzle.sheets[first..].iter().take_while(|sheet| meets(sheet.statement));
    let places = of_boards.chain(sheets.flat_map(|sheet| sheet.places(section)));
    let cells = places.filter(|(_, place)| touch(*place, span)).map(|(cell, _)| cell).collect();
    Some((puzzle.layout.as_ref()?.size().side(), cells))
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
