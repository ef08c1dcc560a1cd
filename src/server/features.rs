//! What the server promises: one table, from which come the promises to the client and the list in the guide. A test
//! calls each method that stands here.

use super::{actions, commands, next, tokens};
use tower_lsp::ls_types::{
    CodeActionKind, CodeActionOptions, CodeActionProviderCapability, CodeLensOptions, CompletionOptions,
    DiagnosticOptions, DiagnosticServerCapabilities, DocumentLinkOptions, DocumentOnTypeFormattingOptions,
    ExecuteCommandOptions, FileOperationFilter, FileOperationPattern, FileOperationPatternKind,
    FileOperationRegistrationOptions, FoldingRangeProviderCapability, HoverProviderCapability,
    InlayHintOptions, InlayHintServerCapabilities, LinkedEditingRangeServerCapabilities, OneOf,
    ReferenceOptions, RenameOptions, SaveOptions, SelectionRangeProviderCapability,
    SemanticTokensFullOptions, SemanticTokensOptions, ServerCapabilities, TextDocumentSyncCapability,
    TextDocumentSyncKind, TextDocumentSyncOptions, TextDocumentSyncSaveOptions, WorkDoneProgressOptions,
    WorkspaceFileOperationsServerCapabilities, WorkspaceFoldersServerCapabilities,
    WorkspaceServerCapabilities, WorkspaceSymbolOptions,
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
        methods: &["textDocument/diagnostic", "workspace/diagnostic"],
        gives: "the same for an editor that asks for them: of a text or of all files of the folders, and nothing again that it has",
        promise: |it| {
            it.diagnostic_provider = Some(DiagnosticServerCapabilities::Options(DiagnosticOptions {
                identifier: Some("gridsetter".to_owned()),
                inter_file_dependencies: true,
                workspace_diagnostics: true,
                work_done_progress_options: PROGRESS,
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
        gives: "fixes; take the next step, or be told of it; finish a walkthrough, write its missing steps, or what stands on \
                a sheet as its next steps; fill, tidy and clear marks; write the solution; take out what givens can go; turn \
                and mirror a puzzle, and name its digits in order, with all that is told of it; all certain fixes of a file; \
                each is worked out when it is chosen, if the editor can wait so long",
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
        gives: "what is wrong in a solver's sheet, what the next step is, a puzzle, a walkthrough or a file as printed pages, \
                and the place where a puzzle stands again, when asked for",
        promise: |it| {
            it.execute_command_provider = Some(ExecuteCommandOptions {
                commands: commands::ALL.map(str::to_owned).to_vec(),
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
        methods: &["textDocument/rangeFormatting"],
        gives: "the same for the lines that are chosen",
        promise: |it| it.document_range_formatting_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/onTypeFormatting"],
        gives: "the same for a line, when it is ended",
        promise: |it| {
            it.document_on_type_formatting_provider = Some(DocumentOnTypeFormattingOptions {
                first_trigger_character: "\n".to_owned(),
                more_trigger_character: None,
            });
        },
    },
    Feature {
        methods: &["textDocument/definition"],
        gives: "the puzzle or lesson that an id names, or the point of its walk, in whichever file it is",
        promise: |it| it.definition_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/references"],
        gives: "every place in the files that names a puzzle or a lesson",
        promise: |it| {
            it.references_provider =
                Some(OneOf::Right(ReferenceOptions { work_done_progress_options: PROGRESS }));
        },
    },
    Feature {
        methods: &["textDocument/rename", "textDocument/prepareRename"],
        gives: "another id for a puzzle or a lesson, in all files that name it; in a grid: two digits that trade names, in all \
                that is told of the puzzle",
        promise: |it| {
            it.rename_provider = Some(OneOf::Right(RenameOptions {
                prepare_provider: Some(true),
                work_done_progress_options: PROGRESS,
            }));
        },
    },
    Feature {
        methods: &["textDocument/linkedEditingRange"],
        gives: "an id and what names it in a file, changed as one while it is typed",
        promise: |it| {
            it.linked_editing_range_provider = Some(LinkedEditingRangeServerCapabilities::Simple(true));
        },
    },
    Feature {
        methods: &["textDocument/documentHighlight"],
        gives: "the same digit in a grid or sheet, the same id in a text",
        promise: |it| it.document_highlight_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/documentLink"],
        gives: "a link from each id that is named to what bears it",
        promise: |it| {
            it.document_link_provider = Some(DocumentLinkOptions {
                resolve_provider: None,
                work_done_progress_options: WorkDoneProgressOptions::default(),
            });
        },
    },
    Feature {
        methods: &["textDocument/foldingRange"],
        gives: "parts, puzzles, lessons and blocks, and comments of several lines, to be folded",
        promise: |it| it.folding_range_provider = Some(FoldingRangeProviderCapability::Simple(true)),
    },
    Feature {
        methods: &["textDocument/selectionRange"],
        gives: "a selection that grows from the word to its line, block, puzzle, part and file",
        promise: |it| it.selection_range_provider = Some(SelectionRangeProviderCapability::Simple(true)),
    },
    Feature {
        methods: &["workspace/symbol", "workspaceSymbol/resolve"],
        gives: "puzzles, lessons and parts of all files, by words of their ids and titles",
        promise: |it| {
            it.workspace_symbol_provider = Some(OneOf::Right(WorkspaceSymbolOptions {
                resolve_provider: Some(true),
                work_done_progress_options: PROGRESS,
            }));
        },
    },
    Feature {
        methods: &["textDocument/inlayHint", "inlayHint/resolve"],
        gives: "at the end of each row that is begun: the digits that it misses; where wanted, the reason of each step that \
                names none",
        promise: |it| {
            it.inlay_hint_provider =
                Some(OneOf::Right(InlayHintServerCapabilities::Options(InlayHintOptions {
                    resolve_provider: Some(true),
                    ..InlayHintOptions::default()
                })));
        },
    },
    Feature {
        methods: &[
            "textDocument/semanticTokens/full",
            "textDocument/semanticTokens/full/delta",
            "textDocument/semanticTokens/range",
        ],
        gives: "what each word and sign is: statement, given, entry, mark, id, pattern; wrong digits where mistakes are shown",
        promise: |it| {
            it.semantic_tokens_provider = Some(
                SemanticTokensOptions {
                    legend: tokens::legend(),
                    range: Some(true),
                    full: Some(SemanticTokensFullOptions::Delta { delta: Some(true) }),
                    work_done_progress_options: WorkDoneProgressOptions::default(),
                }
                .into(),
            );
        },
    },
    Feature {
        methods: &["textDocument/documentSymbol"],
        gives: "parts, puzzles and lessons, and their blocks",
        promise: |it| it.document_symbol_provider = Some(OneOf::Left(true)),
    },
    Feature {
        methods: &["textDocument/codeLens", "codeLens/resolve"],
        gives: "above each puzzle: how many clues it has, its level, and where it stands again in another dress; above each \
                walkthrough: how many steps it has, its level, whether it was checked, and the way to read it as a page",
        promise: |it| it.code_lens_provider = Some(CodeLensOptions { resolve_provider: Some(true) }),
    },
    Feature {
        methods: &["textDocument/completion", "completionItem/resolve"],
        gives: "statements, with the places of their values, and the names that can stand at a place: patterns, findings, ids, symmetries; in a walkthrough: \
                the steps that follow, the cells and digits that are open, the reasons that fit",
        promise: |it| {
            it.completion_provider = Some(CompletionOptions {
                trigger_characters: Some(vec!["{".to_owned(), " ".to_owned()]),
                resolve_provider: Some(true),
                ..CompletionOptions::default()
            });
        },
    },
    Feature {
        methods: &[
            "workspace/didChangeConfiguration",
            "workspace/didChangeWatchedFiles",
            "workspace/didChangeWorkspaceFolders",
            "workspace/didCreateFiles",
            "workspace/didRenameFiles",
            "workspace/didDeleteFiles",
        ],
        gives: "ids are looked up in all files of a folder; each file has the settings of its `gridsetter.toml`; files \
                and settings that change, come and go are heeded at once",
        promise: |it| {
            it.workspace = Some(WorkspaceServerCapabilities {
                workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                    supported: Some(true),
                    change_notifications: Some(OneOf::Left(true)),
                }),
                file_operations: Some(WorkspaceFileOperationsServerCapabilities {
                    did_create: Some(files_and_folders()),
                    did_rename: Some(files_and_folders()),
                    did_delete: Some(files_and_folders()),
                    ..WorkspaceFileOperationsServerCapabilities::default()
                }),
            });
        },
    },
    Feature {
        methods: &["$/cancelRequest", "$/setTrace", "window/workDoneProgress/cancel"],
        gives: "what takes long says how far it is, gives its answer in parts where that is wanted, and is called off at \
                once; what the server does is traced for an editor that wants to know",
        // Nothing is promised of it in words of the protocol.
        promise: |_| {},
    },
];

/// How far a long answer is, is told to who gives a token for that.
const PROGRESS: WorkDoneProgressOptions = WorkDoneProgressOptions { work_done_progress: Some(true) };

/// Our files, and folders that may have some.
fn files_and_folders() -> FileOperationRegistrationOptions {
    let of_kind = |glob: &str, kind| FileOperationFilter {
        scheme: Some("file".to_owned()),
        pattern: FileOperationPattern { glob: glob.to_owned(), matches: Some(kind), options: None },
    };
    let filters = vec![
        of_kind("**/*.gset", FileOperationPatternKind::File),
        of_kind("**", FileOperationPatternKind::Folder),
    ];
    FileOperationRegistrationOptions { filters }
}

/// What is promised to a client, but for how columns are counted.
pub fn promises() -> ServerCapabilities {
    let mut promises = ServerCapabilities::default();
    for feature in FEATURES {
        (feature.promise)(&mut promises);
    }
    promises
}
