//! Checking: every finding of the table, in order of place.
//!
//! A section is looked at by itself ([`Said`]), and the files of a workspace together. What is said of a section by itself
//! depends on its text and on the defaults that hold there, and may be kept as long as these stay.

use super::allowed::Allowed;
use super::finding::{item_at, touch};
use super::said::{Way, of_faults, of_walk, ways};
use super::{Check, Draft, Effort, Elsewhere, Finding, Fix, Report, Said, Scene, WalkScene, borrowing};
use crate::book::{Book, Entry, Meaning, SectionId, Spot, Workspace};
use crate::notation::{Section, Span};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// The most findings of one file: with more nobody mends them one by one, and each takes room.
pub const MOST_IN_FILE: usize = 100_000;

/// So many sections are looked at before what is too much of them is dropped.
const AT_ONCE: usize = 2048;

/// From so many sections on, they are looked at on all processors; fewer are not worth the wait for one.
pub(super) const MANY: usize = 64;

/// Everything that there is to say of `workspace`, in order of file and place, less what its authors accept by `allow`; no
/// more than [`MOST_IN_FILE`] of what the sections of a file show by themselves, nor of any one finding that takes several.
pub fn check(workspace: &Workspace) -> Vec<Report> {
    check_seen(workspace, &mut |_| {})
}

/// The same; `seen` is told each time how many sections were looked at so far.
pub fn check_seen(workspace: &Workspace, seen: &mut dyn FnMut(usize)) -> Vec<Report> {
    let sections: Vec<_> = workspace.sections().collect();
    let look = |&(id, section, meaning): &(SectionId, &Section, &Meaning)| {
        let said = Said::of(section, meaning, &workspace.books[id.book].ladder, Effort::Full);
        // By its form a puzzle is compared with the others later: here it is worked out while the puzzle is at hand.
        for puzzle in meaning.puzzles() {
            _ = puzzle.form();
        }
        said
    };
    let mut room = vec![MOST_IN_FILE; workspace.books.len()];
    let mut said: Vec<Said> = Vec::with_capacity(sections.len());
    for some in sections.chunks(AT_ONCE) {
        let first = said.len();
        if some.len() < MANY {
            said.extend(some.iter().map(look));
        } else {
            said.par_extend(some.par_iter().map(look));
        }
        for (said, (id, ..)) in said[first..].iter_mut().zip(some) {
            said.drafts.truncate(room[id.book]);
            room[id.book] -= said.drafts.len();
        }
        seen(said.len());
    }
    check_with(workspace, &said.iter().collect::<Vec<_>>())
}

/// The same, where it is known already what there is to say of each section by itself: `said`, in the order of
/// [`Workspace::sections`].
pub fn check_with(workspace: &Workspace, said: &[&Said]) -> Vec<Report> {
    check_beyond(workspace, said, &|_| true)
}

/// The same, where what sections show by themselves is wanted of some of the books only: of the others it may be left out.
pub fn check_beyond(workspace: &Workspace, said: &[&Said], wants_all: &dyn Fn(usize) -> bool) -> Vec<Report> {
    let books = &workspace.books;
    let mut reports = Vec::new();
    let mut allowed = Allowed::new(books);
    for (book, it) in books.iter().enumerate() {
        for &section in it.parts() {
            allowed.add_parts(SectionId { book, section });
        }
    }
    for ((id, ..), said) in workspace.sections().zip(said) {
        allowed.add(id, &said.allows);
    }
    // Which `allow` is idle, all findings tell.
    let needs_all = !allowed.is_empty();
    for ((id, ..), said) in workspace.sections().zip(said) {
        if !said.is_empty() && (needs_all || wants_all(id.book)) {
            reports.extend(said.drafts.iter().map(|it| report(books, id, it.0, it.1.clone(), true)));
        }
    }
    let mut seen = BTreeSet::new();
    reports.retain(|report| {
        !report.finding.once_a_file() || seen.insert((report.spot.section.book, report.message.clone()))
    });
    let all: Vec<Way> = ways().collect();
    let mut beyond: Vec<(usize, SectionId, Draft)> = Vec::new();
    borrowing::each_walk(workspace, &mut |id, walk| {
        beyond.extend(of_walk(walk, all.iter().copied()).into_iter().map(|(at, draft)| (at, id, draft)));
    });
    let mut together = together(workspace).into_iter();
    for (at, (_, way)) in all.iter().enumerate() {
        match way {
            Check::Workspace(_) => {
                let found = together.next().into_iter().flatten();
                beyond.extend(found.map(|(id, draft)| (at, id, draft)));
            }
            Check::Meaning(word) => {
                for (id, fault) in workspace.answer_faults() {
                    let scene = Scene { section: workspace.section(*id), meaning: workspace.meaning(*id) };
                    beyond.extend(word(&scene, fault).map(|draft| (at, *id, draft)));
                }
            }
            _ => {}
        }
    }
    beyond.sort_by_key(|(at, ..)| *at);
    reports.extend(beyond.into_iter().map(|(at, id, draft)| report(books, id, all[at].0, draft, false)));
    let mut reports = allowed.judge(reports);
    reports.sort_by_key(|report| report.spot);
    reports
}

/// What the sections of a workspace show together, by each of the ways that look at all of it, in order.
fn together(workspace: &Workspace) -> Vec<Vec<(SectionId, Draft)>> {
    let looks = ways().filter_map(|(_, way)| match way {
        Check::Workspace(look) => Some(look),
        _ => None,
    });
    let some = |look: &fn(&Workspace) -> Vec<(SectionId, Draft)>| {
        let mut drafts = look(workspace);
        drafts.truncate(MOST_IN_FILE);
        drafts
    };
    if workspace.sections().nth(MANY).is_none() {
        looks.map(some).collect()
    } else {
        looks.collect::<Vec<_>>().into_par_iter().map(some).collect()
    }
}

/// What there is to say of one section of `book` by itself, less what its authors accept. `heads` are the sections before
/// it in which something may be accepted for it: the first of the book, and that of its part. The book counts as the first
/// of its workspace.
pub fn check_alone(book: &Book, section: usize, said: &Said, heads: &[(usize, &Said)]) -> Vec<Report> {
    let books = std::slice::from_ref(book);
    let id = |section| SectionId { book: 0, section };
    let mut allowed = Allowed::new(books);
    for (at, said) in heads.iter().copied().filter(|(at, _)| *at != section).chain([(section, said)]) {
        allowed.add(id(at), &said.allows);
        allowed.add_parts(id(at));
    }
    let reports =
        said.drafts.iter().map(|(finding, draft)| report(books, id(section), finding, draft.clone(), true));
    let mut reports: Vec<Report> = reports.filter(|report| !allowed.accepts(report)).collect();
    reports.sort_by_key(|report| report.spot);
    reports
}

/// What there is to say of a walkthrough that stands in a section of `book`, less what its authors accept.
pub fn check_walk(book: &Book, section: usize, scene: &WalkScene) -> Vec<Report> {
    let whole = Scene { section: &book.tree.sections[section], meaning: &book.meanings[section] };
    let block = whole.section.block(&whole.section.statements[scene.walk.statement]);
    let block = block.first().zip(block.last()).map(|(first, last)| first.span.to(last.span));
    let inside = |span: Span| block.is_some_and(|block| touch(block, span));
    let mut drafts = Vec::new();
    for (finding, way) in ways() {
        let said: Vec<Draft> = match way {
            Check::Walk(look) => look(scene),
            _ => of_faults(way, &whole),
        };
        drafts.extend(said.into_iter().filter(|it| inside(it.span)).map(|draft| (finding, draft)));
    }
    accepted(book, section, drafts)
}

/// What of a section of `book` could not be read, less what its authors accept. See [`Finding::is_unread`].
pub fn unread(book: &Book, section: usize) -> Vec<Report> {
    let scene = Scene { section: &book.tree.sections[section], meaning: &book.meanings[section] };
    if scene.section.faults.is_empty() && scene.meaning.faults.is_empty() {
        return Vec::new();
    }
    let lost = |way: &Check| match way {
        Check::Syntax(word) => {
            let faults = scene.section.faults.iter().filter(|fault| !fault.kind.is_read());
            faults.filter_map(|fault| word(&scene, fault)).collect()
        }
        _ => of_faults(way, &scene),
    };
    let unread = ways().filter(|(finding, _)| finding.is_unread());
    let drafts = unread.flat_map(|(finding, way)| lost(way).into_iter().map(move |draft| (finding, draft)));
    accepted(book, section, drafts.collect())
}

/// Reports of what was found in a section of `book`, less what its authors accept.
fn accepted(book: &Book, section: usize, drafts: Vec<(&'static Finding, Draft)>) -> Vec<Report> {
    let accepting = |drafts, at: usize| Said::these(drafts, &book.tree.sections[at]);
    let heads = [Some(0), book.part_of(section)].into_iter().flatten();
    let heads: Vec<(usize, Said)> = heads.map(|at| (at, accepting(Vec::new(), at))).collect();
    let heads: Vec<(usize, &Said)> = heads.iter().map(|(at, said)| (*at, said)).collect();
    check_alone(book, section, &accepting(drafts, section), &heads)
}

/// `draft` with its places in the workspace.
pub(super) fn report(
    books: &[Book],
    id: SectionId,
    finding: &'static Finding,
    draft: Draft,
    alone: bool,
) -> Report {
    let spot = |span: Span| Spot { section: id, span };
    let there = |place: Elsewhere| match place {
        Elsewhere::Here(span) => spot(span),
        Elsewhere::There(spot) => spot,
    };
    let fix = |fix: Fix<Elsewhere>| Fix {
        title: fix.title,
        safe: fix.safe,
        edits: fix.edits.into_iter().map(|(place, text)| (there(place), text)).collect(),
    };
    Report {
        finding,
        severity: finding.severity,
        puzzle: name_at(books, spot(draft.span)),
        spot: spot(draft.span),
        message: draft.message,
        help: draft.help,
        related: draft.related.into_iter().map(|(place, what)| (there(place), what)).collect(),
        fixes: draft.fixes.into_iter().map(fix).collect(),
        alone,
        spoils: draft.spoils,
    }
}

/// The id of the puzzle, lesson or answer that `spot` stands in, where that has one.
fn name_at(books: &[Book], spot: Spot) -> Option<String> {
    let SectionId { book, section } = spot.section;
    let entries = &books[book].meanings[section].entries;
    let id = match entries.get(item_at(&books[book].tree.sections[section], spot.span.start))? {
        Entry::Puzzle(puzzle) => puzzle.id.as_ref(),
        Entry::Answer(answer) => answer.id.as_ref(),
        Entry::Preface | Entry::Part => None,
    };
    id.map(|id| id.text.clone())
}
