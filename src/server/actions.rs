//! Code actions: the fixes of findings, and what a person may ask for beside them.

use super::convert::{Lines, Shown, down};
use super::document::Document;
use super::next::{self, Asked, Much};
use super::place::{Block, Place};
use super::state::{Snapshot, State};
use super::transfer;
use crate::edit::{Change, Marking, mark, write_solution};
use crate::notation::Keyword;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp::ls_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, Command, DocumentChanges, OneOf,
    OptionalVersionedTextDocumentIdentifier, Position, Range, TextDocumentEdit, TextEdit, Uri, WorkspaceEdit,
};

/// The kind of the action that makes all fixes which are certain.
pub const FIX_ALL: &str = "source.fixAll.gridsetter";

/// The command that tells what only the solution reveals of a solver's sheet.
pub const SHOW_MISTAKES: &str = "gridsetter.showMistakes";

/// What an action does, told to the client and back: what it changes is worked out when it is chosen.
#[derive(Clone, Serialize, Deserialize)]
pub struct Chosen {
    uri: Uri,
    version: i32,
    at: Position,
    deed: Deed,
}

/// What can be done.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
enum Deed {
    /// The fix of this title, of the finding of this name that stands in this range.
    Fix {
        finding: String,
        range: Range,
        title: String,
    },
    Mark(Marking),
    TakeStep,
    WriteSteps,
    WriteSolution,
    FixAll,
}

/// The actions for a range of a text. Whether what is on a sheet there `leads_on` the walkthrough takes longer to tell: it is
/// known by now, with the title of the action that writes it.
pub fn answer(
    state: &State,
    params: &CodeActionParams,
    leads_on: Option<&str>,
) -> Option<Vec<CodeActionOrCommand>> {
    let uri = &params.text_document.uri;
    let snapshot = state.snapshot(uri)?;
    let document = state.document(uri)?;
    let action = |title: &str, kind, deed| {
        let chosen = Chosen { uri: uri.clone(), version: snapshot.version, at: params.range.start, deed };
        action(&snapshot, document, title, kind, &chosen)
    };
    let mut actions = Vec::new();
    for (deed, title, is_preferred) in fixes(&snapshot, document, params.range) {
        let fix = action(title, CodeActionKind::QUICKFIX, deed);
        actions.push(CodeAction { is_preferred: Some(is_preferred), ..fix });
    }
    for (title, kind, deed) in deeds(&snapshot, params.range.start) {
        actions.push(action(title, kind, deed));
    }
    if let Some(title) = leads_on {
        actions.push(action(title, CodeActionKind::REFACTOR_REWRITE, Deed::WriteSteps));
    }
    actions.extend(tellings(&snapshot, params.range.start));
    if !certain_fixes(document).is_empty() {
        actions.push(action("make all fixes that are certain", FIX_ALL.into(), Deed::FixAll));
    }
    let wanted = |kind: Option<&CodeActionKind>| match &params.context.only {
        None => kind.is_none_or(|kind| kind.as_str() != FIX_ALL),
        Some(only) => kind.is_some_and(|kind| only.iter().any(|wanted| is_within(kind, wanted))),
    };
    // What turns out to change nothing is offered only where that shows when it is chosen.
    let does =
        |action: &CodeAction| action.edit.is_some() || action.data.is_some() || action.command.is_some();
    actions.retain(|action| wanted(action.kind.as_ref()) && does(action));
    let mut all: Vec<CodeActionOrCommand> = actions.into_iter().map(Into::into).collect();
    if wanted(None) {
        all.extend(mistakes(&snapshot, params).map(CodeActionOrCommand::Command));
    }
    Some(all)
}

/// Works out what a chosen action changes. One that is not ours stays as it is.
///
/// # Errors
/// If the text is another by now, or what the action was to mend is no more.
pub fn resolve(state: &State, mut action: CodeAction) -> Result<CodeAction> {
    let chosen = action.data.clone().and_then(|data| serde_json::from_value::<Chosen>(data).ok());
    if let Some(chosen) = chosen {
        let snapshot = state.snapshot(&chosen.uri).filter(|it| it.version == chosen.version);
        let now = snapshot.zip(state.document(&chosen.uri));
        let (snapshot, document) = now.ok_or_else(Error::content_modified)?;
        let edits = edits(&snapshot, document, &chosen)?;
        if edits.is_empty() {
            return Err(Error::content_modified());
        }
        action.edit = Some(edit(&snapshot, edits));
    }
    Ok(action)
}

/// What is wrong in the solver's sheets of a text, in words: only the solution reveals it.
pub fn mistakes_in_words(document: &Document) -> String {
    let shown = document.shown(true);
    let said = shown.iter().filter(|(shown, _)| shown.report.spoils).map(|(shown, lines)| {
        format!("line {}: {}", shown.range.start.line + lines + 1, shown.report.message)
    });
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
        for (at, fix) in shown.report.fixes.iter().enumerate() {
            let (finding, title) = (shown.report.finding.name.to_owned(), fix.title.clone());
            fixes.push((Deed::Fix { finding, range: here, title }, &*fix.title, at == 0 && fix.safe));
        }
    }
    fixes
}

/// What can be done at a place.
fn deeds(snapshot: &Snapshot, at: Position) -> Vec<(&'static str, CodeActionKind, Deed)> {
    let place = Place::of(snapshot, at);
    let Some(puzzle) = place.puzzle() else { return Vec::new() };
    let rewrite = CodeActionKind::REFACTOR_REWRITE;
    let mut deeds = Vec::new();
    if next::is_offered(&place) {
        deeds.push(("take the next step", next::KIND.into(), Deed::TakeStep));
    }
    let markings = match place.block() {
        Some(Block::Sheet(_)) => &[Marking::Fill, Marking::Tidy, Marking::Clear][..],
        Some(Block::Board(_)) if puzzle.sheets.is_empty() => &[Marking::Fill],
        _ => &[],
    };
    for &marking in markings {
        let sheet = sheet_at(&place);
        if !mark(place.section, puzzle, sheet, marking).is_empty() {
            let title = match (marking, sheet) {
                (Marking::Fill, Some(_)) => "fill the marks of empty cells",
                (Marking::Fill, None) => "begin a sheet, with marks",
                (Marking::Tidy, _) => "tidy the marks",
                (Marking::Clear, _) => "clear all marks",
            };
            deeds.push((title, rewrite.clone(), Deed::Mark(marking)));
        }
    }
    let (number, keyword) = place.statement().map_or((0, None), |(number, it)| (number, it.keyword));
    let on_grid = matches!(keyword, Some(Keyword::Givens | Keyword::Solution | Keyword::Puzzle));
    if on_grid && puzzle.judged() && puzzle.sheets.iter().all(|sheet| sheet.statement != number) {
        deeds.push(("write the solution", rewrite, Deed::WriteSolution));
    }
    deeds
}

fn sheet_at<'a>(place: &Place<'a>) -> Option<&'a crate::book::Sheet> {
    match place.block() {
        Some(Block::Sheet(sheet)) => Some(sheet),
        _ => None,
    }
}

/// An action whose edit is worked out when it is chosen, if the client can wait so long.
fn action(
    snapshot: &Snapshot,
    document: &Document,
    title: &str,
    kind: CodeActionKind,
    chosen: &Chosen,
) -> CodeAction {
    let later = snapshot.settings.resolves_edits;
    let now = || {
        let edits = edits(snapshot, document, chosen).ok().filter(|edits| !edits.is_empty());
        edits.map(|edits| edit(snapshot, edits))
    };
    CodeAction {
        title: title.to_owned(),
        kind: Some(kind),
        edit: if later { None } else { now() },
        data: if later { serde_json::to_value(chosen).ok() } else { None },
        ..CodeAction::default()
    }
}

/// What an action changes.
///
/// # Errors
/// If what it is about is not there, or there is no next step.
fn edits(snapshot: &Snapshot, document: &Document, chosen: &Chosen) -> Result<Vec<(Uri, TextEdit)>> {
    let place = Place::of(snapshot, chosen.at);
    let puzzle = || place.puzzle().ok_or_else(Error::content_modified);
    let changes: Vec<Change> = match &chosen.deed {
        Deed::Fix { finding, range, title } => {
            let shown = document.shown(true);
            let mut found = shown.into_iter().filter(|(shown, lines)| {
                shown.report.finding.name == finding && down(shown.range, *lines) == *range
            });
            let edits = found.find_map(|(shown, lines)| {
                let at = shown.report.fixes.iter().position(|fix| fix.title == *title)?;
                Some(edits_of(document, shown, lines, at))
            });
            return edits.ok_or_else(Error::content_modified);
        }
        Deed::FixAll => return Ok(certain_fixes(document)),
        Deed::Mark(marking) => mark(place.section, puzzle()?, sheet_at(&place), *marking),
        Deed::TakeStep => next::take(snapshot, &place).map_err(failed)?,
        Deed::WriteSteps => transfer::change(snapshot, &place).into_iter().collect(),
        Deed::WriteSolution => write_solution(place.section, puzzle()?),
    };
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    let edit = |change: Change| TextEdit { range: lines.range(place.at, change.span), new_text: change.text };
    Ok(changes.into_iter().map(|change| (snapshot.uri.clone(), edit(change))).collect())
}

/// The answer to a request that was understood and cannot be met.
fn failed(why: String) -> Error {
    const REQUEST_FAILED: i64 = -32803;
    Error { code: ErrorCode::from(REQUEST_FAILED), message: why.into(), data: None }
}

/// What a fix of a finding changes.
fn edits_of(document: &Document, shown: &Shown, lines: u32, fix: usize) -> Vec<(Uri, TextEdit)> {
    let edits = shown.fixes[fix].iter().map(|(place, text)| {
        let (uri, range) = place.found(&document.uri, lines);
        (uri, TextEdit { range, new_text: text.clone() })
    });
    edits.collect()
}

/// The certain fixes of a text, each whole or not at all, and none over another.
fn certain_fixes(document: &Document) -> Vec<(Uri, TextEdit)> {
    let mut taken: Vec<(Uri, TextEdit)> = Vec::new();
    for (shown, lines) in document.shown(true) {
        let Some(at) = shown.report.fixes.iter().position(|fix| fix.safe) else { continue };
        let edits = edits_of(document, shown, lines, at);
        let free = |(uri, edit): &(Uri, TextEdit)| {
            let apart =
                |other: &TextEdit| other.range.end < edit.range.start || edit.range.end < other.range.start;
            *uri == document.uri && taken.iter().all(|(_, other)| apart(other))
        };
        if edits.iter().all(free) {
            taken.extend(edits);
        }
    }
    taken
}

/// The ways to be told of the next step, which change nothing.
fn tellings(snapshot: &Snapshot, at: Position) -> Vec<CodeAction> {
    if !next::is_offered(&Place::of(snapshot, at)) {
        return Vec::new();
    }
    let telling = |(title, kind, depth): (&str, &str, Much)| {
        let asked = Asked { uri: snapshot.uri.clone(), at, depth };
        let command = Command {
            title: title.to_owned(),
            command: next::TELL.to_owned(),
            arguments: serde_json::to_value(asked).ok().map(|asked| vec![asked]),
        };
        CodeAction {
            title: title.to_owned(),
            kind: Some(format!("{}.{kind}", next::KIND).into()),
            command: Some(command),
            ..CodeAction::default()
        }
    };
    let depths = [
        ("tell where to look for the next step", "where", Much::Where),
        ("tell what the next step is", "what", Much::What),
    ];
    depths.into_iter().map(telling).collect()
}

/// The way to ask for mistakes, on a solver's sheet, where they are not shown anyway.
fn mistakes(snapshot: &Snapshot, params: &CodeActionParams) -> Option<Command> {
    let place = Place::of(snapshot, params.range.start);
    let on_sheet = place.statement().is_some_and(|(_, statement)| statement.keyword == Some(Keyword::Work));
    let uri = serde_json::to_value(&snapshot.uri).ok()?;
    (on_sheet && !snapshot.settings.spoil()).then(|| Command {
        title: "tell what is wrong in the work".to_owned(),
        command: SHOW_MISTAKES.to_owned(),
        arguments: Some(vec![uri]),
    })
}

/// Whether a kind is `wanted`, or one of its kinds.
fn is_within(kind: &CodeActionKind, wanted: &CodeActionKind) -> bool {
    let rest = kind.as_str().strip_prefix(wanted.as_str());
    wanted.as_str().is_empty() || rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

/// Edits as the client takes them: with the version that they are for, if it can be told.
pub fn edit(snapshot: &Snapshot, edits: Vec<(Uri, TextEdit)>) -> WorkspaceEdit {
    let mut by_file: Vec<(Uri, Vec<TextEdit>)> = Vec::new();
    for (uri, edit) in edits {
        match by_file.iter_mut().find(|(known, _)| *known == uri) {
            Some((_, edits)) => edits.push(edit),
            None => by_file.push((uri, vec![edit])),
        }
    }
    if !snapshot.settings.versioned_edits {
        return WorkspaceEdit {
            changes: Some(by_file.into_iter().collect::<HashMap<_, _>>()),
            ..WorkspaceEdit::default()
        };
    }
    let of_file = |(uri, edits): (Uri, Vec<TextEdit>)| TextDocumentEdit {
        text_document: OptionalVersionedTextDocumentIdentifier {
            version: (uri == snapshot.uri).then_some(snapshot.version),
            uri,
        },
        edits: edits.into_iter().map(OneOf::Left).collect(),
    };
    let changes = DocumentChanges::Edits(by_file.into_iter().map(of_file).collect());
    WorkspaceEdit { document_changes: Some(changes), ..WorkspaceEdit::default() }
}
