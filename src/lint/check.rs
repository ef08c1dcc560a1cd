//! Checking a workspace: every finding of the table, in order of place.

use super::allow::Allowed;
use super::finding::item_at;
use super::{Check, Draft, Elsewhere, FINDINGS, Finding, Fix, PuzzleScene, Report, Scene};
use crate::book::{Entry, Meaning, SectionId, Spot, Workspace};
use crate::notation::{Section, Span};

/// Everything that there is to say of `workspace`, in order of file and place, less what its authors accept by `allow`.
pub fn check(workspace: &Workspace) -> Vec<Report> {
    let mut reports = Vec::new();
    for (id, section, meaning) in workspace.sections() {
        let said = of_section(section, meaning).into_iter();
        reports.extend(said.map(|(finding, draft)| report(workspace, id, finding, draft)));
    }
    for (finding, way) in ways() {
        if let Check::Workspace(look) = way {
            reports
                .extend(look(workspace).into_iter().map(|(id, draft)| report(workspace, id, finding, draft)));
        }
    }
    let mut reports = Allowed::of(workspace).judge(reports);
    reports.sort_by_key(|report| report.spot);
    reports
}

/// Each finding with each of the ways in which it is found.
fn ways() -> impl Iterator<Item = (&'static Finding, &'static Check)> {
    FINDINGS.iter().flat_map(|finding| finding.check.ways().iter().map(|way| (*finding, way)))
}

/// What there is to say of a section by itself.
fn of_section(section: &Section, meaning: &Meaning) -> Vec<(&'static Finding, Draft)> {
    let scene = Scene { section, meaning };
    let puzzles = meaning.entries.iter().filter_map(|entry| match entry {
        Entry::Puzzle(puzzle) => Some(PuzzleScene::new(section, puzzle)),
        _ => None,
    });
    let puzzles: Vec<PuzzleScene> = puzzles.collect();
    let mut said = Vec::new();
    for (finding, way) in ways() {
        let drafts: Vec<Draft> = match way {
            Check::Syntax(word) => section.faults.iter().filter_map(|fault| word(&scene, fault)).collect(),
            Check::Meaning(word) => meaning.faults.iter().filter_map(|fault| word(&scene, fault)).collect(),
            Check::Section(look) => look(&scene),
            Check::Puzzle(look) => puzzles.iter().flat_map(look).collect(),
            Check::Workspace(_) | Check::Afterwards | Check::Each(_) => continue,
        };
        said.extend(drafts.into_iter().map(|draft| (finding, draft)));
    }
    said
}

/// `draft` with its places in the workspace.
pub(super) fn report(
    workspace: &Workspace,
    id: SectionId,
    finding: &'static Finding,
    draft: Draft,
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
        puzzle: name_at(workspace, spot(draft.span)),
        spot: spot(draft.span),
        message: draft.message,
        help: draft.help,
        related: draft.related.into_iter().map(|(place, what)| (there(place), what)).collect(),
        fixes: draft.fixes.into_iter().map(fix).collect(),
    }
}

/// The id of the puzzle, lesson or answer that `spot` stands in, where that has one.
fn name_at(workspace: &Workspace, spot: Spot) -> Option<String> {
    let meaning = &workspace.books[spot.section.book].meanings[spot.section.section];
    let id = match meaning.entries.get(item_at(workspace.section(spot.section), spot.span.start))? {
        Entry::Puzzle(puzzle) => puzzle.id.as_ref(),
        Entry::Answer(answer) => answer.id.as_ref(),
        Entry::Preface | Entry::Part => None,
    };
    id.map(|id| id.text.clone())
}
