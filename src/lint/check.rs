//! Checking: every finding of the table, in order of place.
//!
//! A section is looked at by itself ([`Said`]), and the files of a workspace together. What is said of a section by itself
//! depends on its text and on the defaults that hold there, and may be kept as long as these stay.

use super::allow::{Allow, Allowed, allows, touch};
use super::finding::item_at;
use super::{Check, Draft, Elsewhere, FINDINGS, Finding, Fix, PuzzleScene, Report, Scene, WalkScene};
use crate::book::{Book, Entry, Meaning, Puzzle, SectionId, Spot, Walkthrough, Workspace};
use crate::ladder::Ladder;
use crate::notation::{ItemKind, Section, Span};
use crate::replay::{self, Replay};
use crate::study::Start;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

/// The most findings of one file: with more nobody mends them one by one, and each takes room.
pub const MOST_IN_FILE: usize = 100_000;

/// So many sections are looked at before what is too much of them is dropped.
const AT_ONCE: usize = 2048;

/// From so many sections on, they are looked at on all processors; fewer are not worth the wait for one.
pub(super) const MANY: usize = 64;

/// How much may be searched for an answer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Effort {
    /// Only what takes no longer than a keystroke: whether puzzles up to 9x9 have one solution or none, where that turns out
    /// at once, and what follows from it without another search. Changes that take one to propose come later.
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

    /// The same, shared. That nothing is said is said of nearly every section, and takes no room.
    pub fn shared(mut self) -> Arc<Said> {
        static NOTHING: LazyLock<Arc<Said>> = LazyLock::new(|| Arc::new(Said::nothing()));
        if self.finished && self.drafts.is_empty() && self.allows.is_empty() {
            return Arc::clone(&NOTHING);
        }
        self.drafts.shrink_to_fit();
        Arc::new(self)
    }

    /// Looks at a section; levels and patterns are meant by this ladder.
    pub fn of(section: &Section, meaning: &Meaning, ladder: &Ladder, effort: Effort) -> Said {
        let scene = Scene { section, meaning };
        let scenes: Vec<PuzzleScene> =
            meaning.puzzles().map(|puzzle| PuzzleScene::new(section, puzzle, ladder, effort)).collect();
        let walks: Vec<WalkScene> = scenes.iter().flat_map(PuzzleScene::walks).collect();
        let mut drafts = Vec::new();
        let sound = section.faults.is_empty() && meaning.faults.is_empty();
        for &(finding, way) in if sound { &*LOOKING } else { &*ALONE } {
            let mut say = |said: Vec<Draft>| {
                if !said.is_empty() {
                    drafts.reserve_exact(said.len());
                    drafts.extend(said.into_iter().map(|draft| (finding, draft)));
                }
            };
            match way {
                Check::Syntax(_) | Check::Meaning(_) => say(of_faults(way, &scene)),
                Check::Section(look) => say(look(&scene)),
                Check::Puzzle(look) => scenes.iter().for_each(|scene| say(look(scene))),
                Check::Walk(look) => walks.iter().for_each(|walk| say(look(walk))),
                Check::Workspace(_) | Check::Afterwards | Check::Each(_) => {}
            }
        }
        let finished = !scenes.iter().any(PuzzleScene::is_unfinished);
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
        kinds.any(ItemKind::is_opening)
    }
}

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
    let borrowing = Borrowing::all(workspace);
    let mut beyond = |id, finding, draft| reports.push(report(books, id, finding, draft, false));
    let mut together = together(workspace).into_iter();
    for (finding, way) in ways() {
        match way {
            Check::Workspace(_) => {
                for (id, draft) in together.next().into_iter().flatten() {
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
    let inside = |span: Span| block.iter().any(|line| touch(line.span, span));
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
    let accepting = |drafts, at: usize| {
        let section = &book.tree.sections[at];
        Said { drafts, allows: allows(section).0, finished: true }
    };
    let heads = [Some(0), book.part_of(section)].into_iter().flatten();
    let heads: Vec<(usize, Said)> = heads.map(|at| (at, accepting(Vec::new(), at))).collect();
    let heads: Vec<(usize, &Said)> = heads.iter().map(|(at, said)| (*at, said)).collect();
    check_alone(book, section, &accepting(drafts, section), &heads)
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

/// What is said of the faults that reading found; nothing, if that is found in another way.
fn of_faults(way: &Check, scene: &Scene) -> Vec<Draft> {
    match way {
        Check::Syntax(word) => scene.section.faults.iter().filter_map(|it| word(scene, it)).collect(),
        Check::Meaning(word) => scene.meaning.faults.iter().filter_map(|it| word(scene, it)).collect(),
        _ => Vec::new(),
    }
}

/// A finding with one of the ways in which it is found.
type Way = (&'static Finding, &'static Check);

/// Each finding with each of the ways in which it is found.
fn ways() -> impl Iterator<Item = Way> {
    FINDINGS.iter().flat_map(|finding| finding.check.ways().iter().map(|way| (*finding, way)))
}

/// The ways that look at a section by itself, in order: gathered once, since there are many sections.
static ALONE: LazyLock<Vec<Way>> = LazyLock::new(|| {
    let others = |way: &Check| matches!(way, Check::Workspace(_) | Check::Afterwards | Check::Each(_));
    ways().filter(|(_, way)| !others(way)).collect()
});

/// Those of them that find something where reading has found nothing.
static LOOKING: LazyLock<Vec<Way>> = LazyLock::new(|| {
    let words = |way: &Check| matches!(way, Check::Syntax(_) | Check::Meaning(_));
    ALONE.iter().filter(|(_, way)| !words(way)).copied().collect()
});

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

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    /// What is said at once stays said: more effort adds findings, and changes to propose, and takes nothing back.
    #[test]
    fn what_is_said_at_once_is_said_with_full_effort() {
        let said = |said: &Said| {
            let all = said.drafts.iter().map(|(finding, draft)| {
                (
                    finding.name,
                    draft.span,
                    draft.message.clone(),
                    draft.fixes.iter().map(|it| it.title.clone()).collect::<Vec<_>>(),
                )
            });
            all.collect::<Vec<_>>()
        };
        let (mut finished, mut left_out, mut proposed_later) = (0, 0, 0);
        // Samples are broken in every way that there is a finding for; a digit more breaks what is sound in them.
        let folders = ["demo/volume", "demo/mistakes", "tests/samples"];
        let files = folders.into_iter().flat_map(|folder| fs::read_dir(folder).unwrap());
        let files = files.map(|file| file.unwrap().path());
        let files = files.filter(|file| file.extension().is_some_and(|it| it == "gset"));
        let texts = files.map(|file| fs::read_to_string(file).unwrap());
        for text in
            texts.flat_map(|text| [text.replacen(" . ", " 1 ", 1), text.replace("  1 ", "  2 "), text])
        {
            let book = Book::read("", &text);
            for (section, meaning) in book.tree.sections.iter().zip(&book.meanings) {
                let quick = Said::of(section, meaning, &book.ladder, Effort::Quick);
                let full = Said::of(section, meaning, &book.ladder, Effort::Full);
                let (few, all) = (said(&quick), said(&full));
                if quick.is_finished() {
                    assert_eq!(few, all);
                    finished += 1;
                    continue;
                }
                left_out += 1;
                for (name, span, message, fixes) in few {
                    let same = all.iter().find(|it| (it.0, it.1, &it.2) == (name, span, &message));
                    let (.., fixes_with_time) =
                        same.unwrap_or_else(|| panic!("{name}: {message} in {}", section.text));
                    assert!(fixes.iter().all(|title| fixes_with_time.contains(title)), "{name}: {fixes:?}");
                    proposed_later += usize::from(fixes.len() < fixes_with_time.len());
                }
            }
        }
        assert!(
            finished > 100 && left_out > 20 && proposed_later > 0,
            "{finished} {left_out} {proposed_later}"
        );
    }
}
