//! Code actions: what is offered at a place, and what is worked out when one of them is chosen.

use super::fixes;
use super::state::{Snapshot, State};
use crate::edit::{Marking, Names};
use crate::sameness::Turn;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp::ls_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, DocumentChanges, OneOf,
    OptionalVersionedTextDocumentIdentifier, Position, Range, TextDocumentEdit, TextEdit, Uri, WorkspaceEdit,
};

/// The kind of the action that makes all fixes which are certain.
pub const FIX_ALL: &str = "source.fixAll.gridsetter";

/// What an action does, told to the client and back: what it changes is worked out when it is chosen.
#[derive(Clone, Serialize, Deserialize)]
pub struct Chosen {
    /// The text.
    pub uri: Uri,
    /// Its version.
    pub version: i32,
    /// The place.
    pub at: Position,
    /// What is done.
    pub deed: Deed,
}

/// What can be done.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum Deed {
    /// The fix of this title, of the finding of this name that stands in this range.
    Fix { finding: String, range: Range, title: String },
    /// All fixes that are certain.
    FixAll,
    /// The steps that are missing in the walkthrough whose lines these are, from the first to before the end.
    FillGaps { first: u32, end: u32 },
    /// Something with the marks of a sheet.
    Mark(Marking),
    /// The next step, taken.
    TakeStep,
    /// What stands on a sheet, as the next steps of the walkthrough.
    WriteSteps,
    /// All steps to the end.
    FinishWalk,
    /// The solution below the givens.
    WriteSolution,
    /// Fewer givens.
    MakeMinimal,
    /// A turn or a reflection.
    Turn(Turn),
    /// Other names for digits.
    Name(Names),
}

impl Deed {
    /// Whether what was found in a text tells what it changes.
    pub fn is_fix(&self) -> bool {
        matches!(self, Deed::Fix { .. } | Deed::FixAll | Deed::FillGaps { .. })
    }
}

/// The actions for a range of a text: the fixes of what was found there, and beside them what else can be done, which is
/// known by now.
pub fn answer(
    state: &State,
    params: &CodeActionParams,
    deeds: Vec<CodeAction>,
) -> Option<Vec<CodeActionOrCommand>> {
    let snapshot = state.snapshot(&params.text_document.uri)?;
    let document = state.document(&params.text_document.uri)?;
    let mut actions = fixes::actions(&snapshot, document, params.range);
    actions.extend(deeds);
    if is_wanted(params, Some(&FIX_ALL.into())) {
        actions.extend(fixes::all(&snapshot, document));
    }
    // What turns out to change nothing is offered only where that shows when it is chosen, or the reason is told.
    let does = |action: &CodeAction| {
        action.edit.is_some()
            || action.data.is_some()
            || action.command.is_some()
            || action.disabled.is_some()
    };
    actions.retain(|action| is_wanted(params, action.kind.as_ref()) && does(action));
    let mut all: Vec<CodeActionOrCommand> = actions.into_iter().map(Into::into).collect();
    if is_wanted(params, None) {
        all.extend(fixes::mistakes(&snapshot, params).map(CodeActionOrCommand::Command));
    }
    Some(all)
}

/// Whether actions of a kind, or of none, are asked for. The one that makes all certain fixes comes only by its name.
pub fn is_wanted(params: &CodeActionParams, kind: Option<&CodeActionKind>) -> bool {
    match &params.context.only {
        None => kind.is_none_or(|kind| kind.as_str() != FIX_ALL),
        Some(only) => kind.is_some_and(|kind| only.iter().any(|wanted| is_within(kind, wanted))),
    }
}

/// Works out what a chosen fix changes.
///
/// # Errors
/// If the text is another by now, or what the fix was to mend is no more.
pub fn fix(state: &State, chosen: &Chosen) -> Result<WorkspaceEdit> {
    let snapshot = state.snapshot(&chosen.uri).filter(|it| it.version == chosen.version);
    let now = snapshot.zip(state.document(&chosen.uri));
    let (snapshot, document) = now.ok_or_else(Error::content_modified)?;
    whole(&snapshot, fixes::edits(document, &chosen.deed).unwrap_or_default())
}

/// An action whose edit is worked out when it is chosen, if the client can wait so long; else these.
pub fn action(
    snapshot: &Snapshot,
    title: &str,
    kind: CodeActionKind,
    chosen: &Chosen,
    edits: impl FnOnce() -> Vec<(Uri, TextEdit)>,
) -> CodeAction {
    let later = snapshot.settings.can.resolve_edits;
    let now = || Some(edits()).filter(|edits| !edits.is_empty()).map(|edits| edit(snapshot, edits));
    CodeAction {
        title: title.to_owned(),
        kind: Some(kind),
        edit: if later { None } else { now() },
        data: if later { serde_json::to_value(chosen).ok() } else { None },
        ..CodeAction::default()
    }
}

/// Edits that were looked for, as the client takes them.
///
/// # Errors
/// If there are none: what they were to change is no more.
pub fn whole(snapshot: &Snapshot, edits: Vec<(Uri, TextEdit)>) -> Result<WorkspaceEdit> {
    if edits.is_empty() { Err(Error::content_modified()) } else { Ok(edit(snapshot, edits)) }
}

/// The answer to a request that was understood and cannot be met.
pub fn failed(why: String) -> Error {
    const REQUEST_FAILED: i64 = -32803;
    Error { code: ErrorCode::from(REQUEST_FAILED), message: why.into(), data: None }
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
    if !snapshot.settings.can.take_versions {
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
