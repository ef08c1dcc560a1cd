//! What the server promises: one table, from which come the promises to the client and the list in the guide. A test
//! calls each method that stands here.

use super::{actions, next};
use tower_lsp::ls_types::{
    CodeActionKind, CodeActionOptions, CodeActionProviderCapability, CodeLensOptions, CompletionOptions,
    ExecuteCommandOptions, HoverProviderCapability, OneOf, SaveOptions, ServerCapabilities,
    TextDocumentSyncCapability, TextDocumentSyncKind, TextDocumentSyncOptions, TextDocumentSyncSaveOptions,
    WorkspaceFoldersServerCapabilities, WorkspaceServerCapabilities,
};

/// A feature.
pub struct Feature {
    /// The methods of the protocol that it answers or heeds.
    pub methods: &'static [&'static str],
    /// What it gives, in a few words.
    pub gives: &'static str,
    promise: fn(&mut ServerCapabilities),
}

/// Every feature.
pub const FEATURES: &[Feature] = &[
    Feature {
        methods: &[
            "textDocument/didOpen",
            "textDocument/didChange",
            "textDocument/didSave",
            "textDocument/didClose",
        ],
        gives: "findings as you type, with related places and a link to the page of each",
        promise: |it| {
            it.text_document_sync = Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
                open_close: Some(true),
                change: Some(TextDocumentSyncKind::INCREMENTAL),
                save: Some(TextDocumentSyncSaveOptions::SaveOptions(SaveOptions { include_text: None })),
                ..TextDocumentSyncOptions::default()
            }));
        },
    },
    Feature {
        methods: &["textDocument/hover"],
        gives: "on a cell: what can stand there, and why each other digit is out; on a statement: what it means; on the \
                name of a pattern, a way of seeing or a finding: its page; on a step: why it follows, what is remembered there, and \
                the grid",
        promise: |it| it.hover_provider = Some(HoverProviderCapability::Simple(true)),
    },
    Feature {
        methods: &["textDocument/codeAction", "codeAction/resolve"],
        gives: "fixes; take the next step, or be told of it; write what stands on a sheet as the next steps of the walkthrough; fill, tidy and clear marks; write the solution; all certain fixes of a file; each is worked out \
                when it is chosen, if the editor can wait so long",
        promise: |it| {
            it.code_action_provider = Some(CodeActionProviderCapability::Options(CodeActionOptions {
                code_action_kinds: Some(vec![
                    CodeActionKind::QUICKFIX,
                    CodeActionKind::REFACTOR_REWRITE,
                    next::KIND.into(),
                    CodeActionKind::SOURCE,
                    actions::FIX_ALL.into(),
                ]),
                resolve_provider: Some(true),
                ..CodeActionOptions::default()
            }));
        },
    },
    Feature {
        methods: &["workspace/executeCommand"],
        gives: "what is wrong in a solver's sheet, and what the next step is, when asked for",
        promise: |it| {
            it.execute_command_provider = Some(ExecuteCommandOptions {
                commands: vec![actions::SHOW_MISTAKES.to_owned(), next::TELL.to_owned()],
                ..ExecuteCommandOptions::default()
            });
        },
    },
    Feature {
        methods: &["textDocument/formatting"],
        gives: "the one form of the notation, changing only the lines that differ",
        promise: |it| it.document_formatting_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/documentSymbol"],
        gives: "parts, puzzles and lessons, and their blocks",
        promise: |it| it.document_symbol_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/codeLens", "codeLens/resolve"],
        gives: "above each walkthrough: how many steps it has, its level, and whether it was checked",
        promise: |it| it.code_lens_provider = Some(CodeLensOptions { resolve_provider: Some(true) }),
    },
    Feature {
        methods: &["textDocument/completion"],
        gives: "statements, and the names that can stand at a place: patterns, findings, ids, symmetries; in a walkthrough: \
                the steps that follow, the cells and digits that are open, the reasons that fit",
        promise: |it| {
            it.completion_provider = Some(CompletionOptions {
                trigger_characters: Some(vec!["{".to_owned(), " ".to_owned()]),
                ..CompletionOptions::default()
            });
        },
    },
    Feature {
        methods: &[
            "workspace/didChangeConfiguration",
            "workspace/didChangeWatchedFiles",
            "workspace/didChangeWorkspaceFolders",
        ],
        gives: "ids are looked up in all files of a folder; each file has the settings of its `gridsetter.toml`; files \
                and settings that change are heeded at once",
        promise: |it| {
            it.workspace = Some(WorkspaceServerCapabilities {
                workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                    supported: Some(true),
                    change_notifications: Some(OneOf::Left(true)),
                }),
                ..WorkspaceServerCapabilities::default()
            });
        },
    },
];

/// What is promised to a client, but for how columns are counted.
pub fn promises() -> ServerCapabilities {
    let mut promises = ServerCapabilities::default();
    for feature in FEATURES {
        (feature.promise)(&mut promises);
    }
    promises
}
