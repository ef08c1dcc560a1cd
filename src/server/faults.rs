//! A server in which every handler is at fault: what a client is promised holds still, one reply to each request, and what
//! comes next is worked off.

use super::call::Observer;
use super::features::FEATURES;
use super::later::Later;
use super::log::Log;
use super::outbox::Outbox;
use super::output::written::Written;
use super::trace::Trace;
use super::transport::{Ending, Session, run};
use serde_json::{Value, json};
use tower_lsp::jsonrpc::Result;
use tower_lsp::ls_types as ls;
use tower_lsp::{LanguageServer, LspService};

/// A server whose handlers fail, at once or later.
struct Faulty {
    later: bool,
}

impl Faulty {
    async fn fail<T>(&self) -> T {
        if self.later {
            tokio::task::yield_now().await;
        }
        panic!("a fault that was put here")
    }
}

/// Handlers that fail: of requests, which have a result, and of notifications.
macro_rules! faulty {
    (requests { $($request:ident($asked:ty) -> $result:ty;)* } notifications { $($heeded:ident($told:ty);)* }) => {
        impl LanguageServer for Faulty {
            async fn initialize(&self, _: ls::InitializeParams) -> Result<ls::InitializeResult> {
                Ok(ls::InitializeResult::default())
            }
            async fn shutdown(&self) -> Result<()> {
                Ok(())
            }
            $(async fn $request(&self, _: $asked) -> Result<$result> { self.fail().await })*
            $(async fn $heeded(&self, _: $told) { self.fail().await })*
        }
    };
}

faulty! {
    requests {
    hover(ls::HoverParams) -> Option<ls::Hover>;
    code_action(ls::CodeActionParams) -> Option<ls::CodeActionResponse>;
    code_action_resolve(ls::CodeAction) -> ls::CodeAction;
    execute_command(ls::ExecuteCommandParams) -> Option<ls::LSPAny>;
    formatting(ls::DocumentFormattingParams) -> Option<Vec<ls::TextEdit>>;
    range_formatting(ls::DocumentRangeFormattingParams) -> Option<Vec<ls::TextEdit>>;
    on_type_formatting(ls::DocumentOnTypeFormattingParams) -> Option<Vec<ls::TextEdit>>;
    goto_definition(ls::GotoDefinitionParams) -> Option<ls::GotoDefinitionResponse>;
    references(ls::ReferenceParams) -> Option<Vec<ls::Location>>;
    rename(ls::RenameParams) -> Option<ls::WorkspaceEdit>;
    prepare_rename(ls::TextDocumentPositionParams) -> Option<ls::PrepareRenameResponse>;
    linked_editing_range(ls::LinkedEditingRangeParams) -> Option<ls::LinkedEditingRanges>;
    document_highlight(ls::DocumentHighlightParams) -> Option<Vec<ls::DocumentHighlight>>;
    document_link(ls::DocumentLinkParams) -> Option<Vec<ls::DocumentLink>>;
    folding_range(ls::FoldingRangeParams) -> Option<Vec<ls::FoldingRange>>;
    selection_range(ls::SelectionRangeParams) -> Option<Vec<ls::SelectionRange>>;
    symbol(ls::WorkspaceSymbolParams) -> Option<ls::WorkspaceSymbolResponse>;
    symbol_resolve(ls::WorkspaceSymbol) -> ls::WorkspaceSymbol;
    inlay_hint_resolve(ls::InlayHint) -> ls::InlayHint;
    inlay_hint(ls::InlayHintParams) -> Option<Vec<ls::InlayHint>>;
    semantic_tokens_full(ls::SemanticTokensParams) -> Option<ls::SemanticTokensResult>;
    semantic_tokens_full_delta(ls::SemanticTokensDeltaParams) -> Option<ls::SemanticTokensFullDeltaResult>;
    semantic_tokens_range(ls::SemanticTokensRangeParams) -> Option<ls::SemanticTokensRangeResult>;
    document_symbol(ls::DocumentSymbolParams) -> Option<ls::DocumentSymbolResponse>;
    code_lens(ls::CodeLensParams) -> Option<Vec<ls::CodeLens>>;
    code_lens_resolve(ls::CodeLens) -> ls::CodeLens;
    completion(ls::CompletionParams) -> Option<ls::CompletionResponse>;
    completion_resolve(ls::CompletionItem) -> ls::CompletionItem;
    }
    notifications {
    did_open(ls::DidOpenTextDocumentParams);
    did_change(ls::DidChangeTextDocumentParams);
    did_save(ls::DidSaveTextDocumentParams);
    did_close(ls::DidCloseTextDocumentParams);
    did_change_configuration(ls::DidChangeConfigurationParams);
    did_change_watched_files(ls::DidChangeWatchedFilesParams);
    did_change_workspace_folders(ls::DidChangeWorkspaceFoldersParams);
    did_create_files(ls::CreateFilesParams);
    did_rename_files(ls::RenameFilesParams);
    did_delete_files(ls::DeleteFilesParams);
    }
}

/// Methods of which each message goes past the handlers.
const ASIDE: &[&str] = &["textDocument/diagnostic", "workspace/diagnostic"];

/// Parameters that any method of the table takes; of what it does not know it takes no notice.
fn params(method: &str) -> Value {
    let place = json!({"line": 0, "character": 0});
    let mut params = json!({
        "textDocument": {"uri": "untitled:a", "version": 0, "languageId": "", "text": ""}, "contentChanges": [],
        "position": place, "positions": [place], "range": {"start": place, "end": place},
        "context": {"diagnostics": [], "includeDeclaration": true, "triggerKind": 1},
        "options": {"tabSize": 2, "insertSpaces": true}, "ch": "\n", "newName": "a", "query": "",
        "title": "", "previousResultId": "1", "settings": null, "changes": [],
        "label": "", "name": "", "location": {"uri": "untitled:a"}, "files": [], "event": {"added": [], "removed": []},
    });
    // Elsewhere a command is more than its name.
    if method == "workspace/executeCommand" {
        params["command"] = json!("");
    }
    // And a kind is a word.
    if method == "workspaceSymbol/resolve" {
        params["kind"] = json!(1);
    }
    params
}

#[test]
fn a_fault_in_any_handler_costs_one_answer() {
    let told = ["/did", "$/", "window/"];
    let is_request = |method: &str| !told.iter().any(|part| method.contains(part));
    let all = FEATURES.iter().flat_map(|feature| feature.methods).copied();
    let methods: Vec<&str> = all.filter(|method| !ASIDE.contains(method)).collect();
    for later in [false, true] {
        let message = |(id, method): (usize, &&str)| {
            let mut message = json!({"jsonrpc": "2.0", "method": method, "params": params(method)});
            if is_request(method) {
                message["id"] = json!(id + 1);
            }
            message
        };
        let greeting =
            json!({"jsonrpc": "2.0", "id": 0, "method": "initialize", "params": {"capabilities": {}}});
        let farewell = json!({"jsonrpc": "2.0", "id": methods.len() + 1, "method": "shutdown"});
        let all = std::iter::once(greeting).chain(methods.iter().enumerate().map(message)).chain([farewell]);
        let framed = |message: Value| {
            let body = message.to_string();
            format!("Content-Length: {}\r\n\r\n{body}", body.len())
        };
        let input: String = all.map(framed).collect();

        let (written, threads) = (Written::default(), Later::default());
        let outbox = Outbox::new(written.clone(), || {});
        let service = LspService::new(|_| Faulty { later });
        let observer = Observer { log: Log::none(), trace: Trace::new(outbox.clone()) };
        let session = Session { outbox: &outbox, aside: None, later: &threads, observer };
        let ending = run(input.as_bytes(), service, &session).unwrap();
        threads.wait();
        threads.end();
        outbox.close();
        assert_eq!(ending, Ending::Orderly);
        let told = written.messages();
        for (id, method) in methods.iter().enumerate().filter(|(_, method)| is_request(method)) {
            let answers: Vec<&Value> = told.iter().filter(|message| message["id"] == json!(id + 1)).collect();
            assert_eq!(answers.len(), 1, "{method}");
            let internal = json!(-32603); // JSON-RPC 2.0, section 5.1
            assert_eq!(answers[0]["error"]["code"], internal, "{method}: {answers:?}");
        }
        let replies = told.iter().filter(|message| !message["id"].is_null()).count();
        assert_eq!(replies, methods.iter().filter(|it| is_request(it)).count() + 2);
    }
}
