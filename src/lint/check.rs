//! Checking: every finding of the table, in order of place.
//!
//! A section is looked at by itself ([`Said`]), and the files of a workspace together. What is said of a section by itself
//! depends on its text and on the defaults that hold there, and may be kept as long as these stay.

use super::allow::{Allow, Allowed, allows};
use super::finding::item_at;
use super::{Check, Draft, Elsewhere, FINDINGS, Finding, Fix, PuzzleScene, Report, Scene, WalkScene};
use crate::book::{Book, Entry, Meaning, Puzzle, SectionId, Spot, Walkthrough, Workspace};
use crate::ladder::Ladder;
use crate::notation::{ItemKind, Section, Span};
use crate::replay::{self, Replay};
use crate::study::Start;
use std::collections::BTreeSet;

/// How much may be searched for an answer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Effort {
    /// Only what takes no longer than a keystroke: puzzles up to 9x9 that turn out at once to have one solution or none.
    Quick,
    /// Whatever it takes, within the budgets.
    Full,
}

/// What there is to say of a section by itself.
pub struct Said {
    drafts: Vec<(&'static Finding, Draft)>,
    /// What its authors accept, each with the item that says so.
    allows: Vec<(usize, Allow)>,
    finished: bool,
}

impl Said {
    /// Nothing, and there never will be.
    pub fn nothing() -> Said {
        Said { drafts: Vec::new(), allows: Vec::new(), finished: true }
    }

    /// Looks at a section; levels and patterns are meant by this ladder.
    pub fn of(section: &Section, meaning: &Meaning, ladder: &Ladder, effort: Effort) -> Said {
        let scene = Scene { section, meaning };
        let puzzles = meaning.entries.iter().filter_map(|entry| match entry {
            Entry::Puzzle(puzzle) => Some(&**puzzle),
            _ => None,
        });
        let (scenes, finished) = scenes(section, puzzles, ladder, effort);
        let mut drafts = Vec::new();
        for (finding, way) in ways() {
            let said: Vec<Draft> = match way {
                Check::Syntax(word) => section.faults.iter().filter_map(|it| word(&scene, it)).collect(),
                Check::Meaning(word) => meaning.faults.iter().filter_map(|it| word(&scene, it)).collect(),
                Check::Section(look) => look(&scene),
                Check::Puzzle(look) => scenes.iter().flat_map(look).collect(),
                Check::Walk(look) => {
                    let walks =
                        scenes.iter().filter(|scene| scene.puzzle.telling).flat_map(PuzzleScene::walks);
                    walks.flat_map(|walk| look(&walk)).collect()
                }
                Check::Workspace(_) | Check::Afterwards | Check::Each(_) => continue,
            };
            drafts.extend(said.into_iter().map(|draft| (finding, draft)));
        }
        Said { drafts, allows: allows(section).0, finished }
    }

    /// Whether nothing more can be found, with more effort, in this section alone.
    pub fn is_finished(&self) -> bool {
        self.finished
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.drafts.is_empty()
    }

    /// Whether something is accepted here for sections that follow. `section` is the one that was looked at.
    pub fn accepts_for_others(&self, section: &Section) -> bool {
        let mut kinds = self.allows.iter().map(|(item, _)| section.items[*item].kind);
        kinds.any(|kind| matches!(kind, ItemKind::Preface | ItemKind::Part))
    }
}

/// Each of the puzzles as it is looked at, less those that would take too much effort; and whether none is left out.
fn scenes<'a>(
    section: &'a Section,
    puzzles: impl Iterator<Item = &'a Puzzle>,
    ladder: &'a Ladder,
    effort: Effort,
) -> (Vec<PuzzleScene<'a>>, bool) {
    let (mut scenes, mut all) = (Vec::new(), true);
    for puzzle in puzzles {
        // What is claimed to be minimal is searched once for each given, and a level or a walkthrough takes a walk.
        let claims = puzzle.facts.minimal.is_some() || puzzle.facts.graded() || puzzle.telling;
        let quick = || !claims && puzzle.verdict_at_once().is_some();
        if effort == Effort::Quick && !quick() {
            all = false;
            continue;
        }
        scenes.push(PuzzleScene::new(section, puzzle, ladder));
    }
    (scenes, all)
}

/// Everything that there is to say of `workspace`, in order of file and place, less what its authors accept by `allow`.
pub fn check(workspace: &Workspace) -> Vec<Report> {
    let said = workspace.sections().map(|(id, section, meaning)| {
        Said::of(section, meaning, &workspace.books[id.book].ladder, Effort::Full)
    });
    let said: Vec<Said> = said.collect();
    check_with(workspace, &said.iter().collect::<Vec<_>>())
}

/// The same, where it is known already what there is to say of each section by itself: `said`, in the order of
/// [`Workspace::sections`].
pub fn check_with(workspace: &Workspace, said: &[&Said]) -> Vec<Report> {
    let books = &workspace.books;
    let mut reports = Vec::new();
    let mut allowed = Allowed::new(books);
    for ((id, section, _), said) in workspace.sections().zip(said) {
        reports.extend(said.drafts.iter().map(|it| report(books, id, it.0, it.1.clone(), true)));
        allowed.add(id, section, &said.allows);
    }
    let mut seen = BTreeSet::new();
    reports.retain(|report| {
        !report.finding.once_a_file() || seen.insert((report.spot.section.book, report.message.clone()))
    });
    let borrowing = Borrowing::all(workspace);
    let mut beyond = |id, finding, draft| reports.push(report(books, id, finding, draft, false));
    for (finding, way) in ways() {
        match way {
            Check::Workspace(look) => {
                for (id, draft) in look(workspace) {
                    beyond(id, finding, draft);
                }
            }
            Check::Walk(look) => {
                for (id, borrowing) in &borrowing {
                    for draft in borrowing.scenes().flat_map(|scene| look(&scene)) {
                        beyond(*id, finding, draft);
                    }
                }
            }
            Check::Meaning(word) => {
                for (id, fault) in workspace.answer_faults() {
                    let scene = Scene { section: workspace.section(*id), meaning: workspace.meaning(*id) };
                    if let Some(draft) = word(&scene, fault) {
                        beyond(*id, finding, draft);
                    }
                }
            }
            _ => {}
        }
    }
    let mut reports = allowed.judge(reports);
    reports.sort_by_key(|report| report.spot);
    reports
}

/// What there is to say of one section of `book` by itself, less what its authors accept. `heads` are the sections before
/// it in which something may be accepted for it: the first of the book, and that of its part. The book counts as the first
/// of its workspace.
pub fn check_alone(book: &Book, section: usize, said: &Said, heads: &[(usize, &Said)]) -> Vec<Report> {
    let books = std::slice::from_ref(book);
    let id = |section| SectionId { book: 0, section };
    let mut allowed = Allowed::new(books);
    for (at, said) in heads.iter().copied().filter(|(at, _)| *at != section).chain([(section, said)]) {
        allowed.add(id(at), &book.tree.sections[at], &said.allows);
    }
    let reports =
        said.drafts.iter().map(|(finding, draft)| report(books, id(section), finding, draft.clone(), true));
    let mut reports: Vec<Report> = reports.filter(|report| !allowed.accepts(report)).collect();
    reports.sort_by_key(|report| report.spot);
    reports
}

/// A lesson that starts from another puzzle, with its walkthroughs.
struct Borrowing<'a> {
    section: &'a Section,
    puzzle: &'a Puzzle,
    start: Start,
    walks: Vec<(Walkthrough, Replay)>,
}

impl<'a> Borrowing<'a> {
    fn all(workspace: &'a Workspace) -> Vec<(SectionId, Borrowing<'a>)> {
        let lessons = workspace.puzzles().filter(|(_, _, puzzle)| puzzle.lesson && !puzzle.unsure);
        let borrowing = |(id, _, puzzle): (SectionId, usize, &'a Puzzle)| {
            let section = workspace.section(id);
            let (start, state) = replay::borrowed(workspace, section, puzzle)?;
            let ladder = &workspace.books[id.book].ladder;
            let walks = replay::walks(section, puzzle, ladder, &start, &state);
            Some((id, Borrowing { section, puzzle, start, walks }))
        };
        lessons.filter_map(borrowing).collect()
    }

    fn scenes(&self) -> impl Iterator<Item = WalkScene<'_>> {
        self.walks.iter().map(|(walk, replay)| WalkScene {
            section: self.section,
            puzzle: self.puzzle,
            layout: &self.start.layout,
            walk,
            replay,
        })
    }
}

/// Each finding with each of the ways in which it is found.
fn ways() -> impl Iterator<Item = (&'static Finding, &'static Check)> {
    FINDINGS.iter().flat_map(|finding| finding.check.ways().iter().map(|way| (*finding, way)))
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
