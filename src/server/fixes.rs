//! The fixes of what was found, one by one or many at once; and what only the solution reveals, for who asks.

use super::actions::{Chosen, Deed, FIX_ALL, action};
use super::convert::down;
use super::document::Document;
use super::place::Place;
use super::shown::Shown;
use super::state::Snapshot;
use crate::notation::Keyword;
use std::collections::BTreeMap;
use std::ops::Range as Lined;
use tower_lsp::ls_types::{
    CodeAction, CodeActionKind, CodeActionParams, Command, Location, Position, Range, TextEdit, Uri,
};

/// The command that tells what only the solution reveals of a solver's sheet.
pub const SHOW_MISTAKES: &str = "gridsetter.showMistakes";

/// The finding that a step of a walkthrough follows only after others.
const EARLY: &str = "step-early";

/// The fixes of what was found in a range.
pub fn actions(snapshot: &Snapshot, document: &Document, range: Range) -> Vec<CodeAction> {
    let offer = |title: &str, kind, deed: Deed| {
        let chosen = Chosen { uri: snapshot.uri.clone(), version: snapshot.version, at: range.start, deed };
        action(snapshot, title, kind, &chosen, || edits(document, &chosen.deed).unwrap_or_default())
    };
    let mut actions = Vec::new();
    for (deed, title, is_preferred) in fixes(snapshot, document, range) {
        let fix = offer(title, CodeActionKind::QUICKFIX, deed);
        actions.push(CodeAction { is_preferred: Some(is_preferred), ..fix });
    }
    if let Some(deed) = gaps(snapshot, document, range.start) {
        let title = "write all missing steps of the walkthrough";
        actions.push(offer(title, CodeActionKind::REFACTOR_REWRITE, deed));
    }
    actions
}

/// The action that makes all certain fixes of a text, where there are any.
pub fn all(snapshot: &Snapshot, document: &Document) -> Option<CodeAction> {
    let edits = certain(document);
    let at = Position::default();
    let chosen = Chosen { uri: snapshot.uri.clone(), version: snapshot.version, at, deed: Deed::FixAll };
    let title = "make all fixes that are certain";
    (!edits.is_empty()).then(|| action(snapshot, title, FIX_ALL.into(), &chosen, || edits))
}

/// What a fix changes; `None` if it is none, or what it was to mend is no more.
pub fn edits(document: &Document, deed: &Deed) -> Option<Vec<(Uri, TextEdit)>> {
    match deed {
        Deed::Fix { finding, range, title } => {
            let shown = document.shown(true);
            let mut found = shown.into_iter().filter(|(shown, lines)| {
                shown.finding.name == finding && down(shown.range, *lines) == *range
            });
            found.find_map(|(shown, lines)| {
                let at = shown.fixes.iter().position(|fix| *fix.title == *title)?;
                Some(edits_of(document, shown, lines, at))
            })
        }
        Deed::FixAll => Some(certain(document)),
        Deed::FillGaps { first, end } => {
            let here = |shown: &Shown, lines| is_gap_within(&(*first..*end), shown, lines);
            Some(together(document, |shown, lines| here(shown, lines).then_some(0)))
        }
        _ => None,
    }
}

/// What is wrong in the solver's sheets of a text, in words: only the solution reveals it.
pub fn mistakes_in_words(document: &Document) -> String {
    let shown = document.shown(true);
    let said = shown
        .iter()
        .filter(|(shown, _)| shown.spoils)
        .map(|(shown, lines)| format!("line {}: {}", shown.range.start.line + lines + 1, shown.what()));
    let said: Vec<String> = said.collect();
    if said.is_empty() { "Nothing in the work contradicts the solution.".to_owned() } else { said.join("\n") }
}

/// The fixes of what was found there, each with its title and whether it is the one to take.
fn fixes<'a>(snapshot: &Snapshot, document: &'a Document, range: Range) -> Vec<(Deed, &'a str, bool)> {
    let mut fixes = Vec::new();
    for (shown, lines) in document.shown(snapshot.settings.spoil()) {
        let here = down(shown.range, lines);
        // A bare cursor asks for its line: nobody aims at the word that is marked.
        let apart = if range.start == range.end {
            here.end.line < range.start.line || range.end.line < here.start.line
        } else {
            here.end < range.start || range.end < here.start
        };
        if apart {
            continue;
        }
        for (at, fix) in shown.fixes.iter().enumerate() {
            let (finding, title) = (shown.finding.name.to_owned(), fix.title.to_string());
            fixes.push((Deed::Fix { finding, range: here, title }, &*fix.title, at == 0 && fix.safe));
        }
    }
    fixes
}

/// What a fix of a finding changes.
fn edits_of(document: &Document, shown: &Shown, lines: u32, fix: usize) -> Vec<(Uri, TextEdit)> {
    let edits = shown.fixes[fix].edits.iter().map(|(place, text)| {
        let Location { uri, range } = place.found(&document.uri, lines);
        (uri, TextEdit { range, new_text: text.to_string() })
    });
    edits.collect()
}

/// The certain fixes of a text.
fn certain(document: &Document) -> Vec<(Uri, TextEdit)> {
    together(document, |shown, _| shown.fixes.iter().position(|fix| fix.safe))
}

/// The fixes that are chosen of what is shown, each whole or not at all, and none over another.
fn together(document: &Document, choose: impl Fn(&Shown, u32) -> Option<usize>) -> Vec<(Uri, TextEdit)> {
    let mut taken: Vec<(Uri, TextEdit)> = Vec::new();
    // Where each of these ends, by where it starts.
    let mut ends: BTreeMap<Position, Position> = BTreeMap::new();
    for (shown, lines) in document.shown(true) {
        let Some(at) = choose(shown, lines) else { continue };
        let edits = edits_of(document, shown, lines, at);
        let free = |(uri, edit): &(Uri, TextEdit)| {
            let last = ends.range(..=edit.range.end).next_back();
            *uri == document.uri && last.is_none_or(|(_, end)| *end < edit.range.start)
        };
        if edits.iter().all(free) {
            for Range { start, end } in edits.iter().map(|(_, edit)| edit.range) {
                let last = ends.entry(start).or_insert(end);
                *last = end.max(*last);
            }
            taken.extend(edits);
        }
    }
    taken
}

/// What writes all steps that are missing in the walkthrough at a place, where several are found to be.
fn gaps(snapshot: &Snapshot, document: &Document, at: Position) -> Option<Deed> {
    let place = Place::of(snapshot, at);
    let (_, steps) = place.statement().filter(|(_, it)| it.keyword == Some(Keyword::Steps))?;
    let before = snapshot.range(place.at, steps.word).start.line - steps.line;
    let (first, end) = (before + steps.line, before + steps.block.end);
    let shown = document.shown(snapshot.settings.spoil());
    let found = shown.iter().any(|(shown, lines)| is_gap_within(&(first..end), shown, *lines));
    found.then_some(Deed::FillGaps { first, end })
}

/// Whether something found in these lines of the text is that steps are missing, and which is known.
fn is_gap_within(lines: &Lined<u32>, shown: &Shown, before: u32) -> bool {
    let is_gap = shown.finding.name == EARLY && !shown.fixes.is_empty();
    is_gap && lines.contains(&down(shown.range, before).start.line)
}

/// The way to ask for mistakes, on a solver's sheet, where they are not shown anyway.
pub fn mistakes(snapshot: &Snapshot, params: &CodeActionParams) -> Option<Command> {
    let place = Place::of(snapshot, params.range.start);
    let on_sheet = place.statement().is_some_and(|(_, statement)| statement.keyword == Some(Keyword::Work));
    let uri = serde_json::to_value(&snapshot.uri).ok()?;
    (on_sheet && !snapshot.settings.spoil()).then(|| Command {
        title: "tell what is wrong in the work".to_owned(),
        command: SHOW_MISTAKES.to_owned(),
        arguments: Some(vec![uri]),
    })
}
