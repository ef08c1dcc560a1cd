//! Nothing is promised that is not there, and nothing is there that is not promised: every method of the protocol, by what
//! the server says of itself.

use super::client::Client;
use super::protocol::{PROTOCOL, SAMPLE_URI as URI};
use gridsetter::server::FEATURES;
use serde_json::{Value, json};
use std::collections::BTreeSet;

const TEXT: &str = "size 4\n\npuzzle a-1 \"One\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

/// What needs no promise: the beginning, the end, and what a client may send to any server.
const UNASKED: &[&str] = &[
    "initialize",
    "initialized",
    "shutdown",
    "exit",
    "$/cancelRequest",
    "$/progress",
    "$/setTrace",
    "window/workDoneProgress/cancel",
    "workspace/didChangeConfiguration",
];

/// What a server asks to be told of, after it was greeted.
const REGISTERED: &[&str] = &["workspace/didChangeWatchedFiles"];

/// Where a server promises each other method (specification of 3.17, "Server Capability" of each method).
const PROMISES: &[(&str, &[&str])] = &[
    ("/textDocumentSync/openClose", &["textDocument/didOpen", "textDocument/didClose"]),
    ("/textDocumentSync/change", &["textDocument/didChange"]),
    ("/textDocumentSync/willSave", &["textDocument/willSave"]),
    ("/textDocumentSync/willSaveWaitUntil", &["textDocument/willSaveWaitUntil"]),
    ("/textDocumentSync/save", &["textDocument/didSave"]),
    (
        "/notebookDocumentSync",
        &[
            "notebookDocument/didOpen",
            "notebookDocument/didChange",
            "notebookDocument/didSave",
            "notebookDocument/didClose",
        ],
    ),
    ("/completionProvider", &["textDocument/completion"]),
    ("/completionProvider/resolveProvider", &["completionItem/resolve"]),
    ("/hoverProvider", &["textDocument/hover"]),
    ("/signatureHelpProvider", &["textDocument/signatureHelp"]),
    ("/declarationProvider", &["textDocument/declaration"]),
    ("/definitionProvider", &["textDocument/definition"]),
    ("/typeDefinitionProvider", &["textDocument/typeDefinition"]),
    ("/implementationProvider", &["textDocument/implementation"]),
    ("/referencesProvider", &["textDocument/references"]),
    ("/documentHighlightProvider", &["textDocument/documentHighlight"]),
    ("/documentSymbolProvider", &["textDocument/documentSymbol"]),
    ("/codeActionProvider", &["textDocument/codeAction"]),
    ("/codeActionProvider/resolveProvider", &["codeAction/resolve"]),
    ("/codeLensProvider", &["textDocument/codeLens"]),
    ("/codeLensProvider/resolveProvider", &["codeLens/resolve"]),
    ("/documentLinkProvider", &["textDocument/documentLink"]),
    ("/documentLinkProvider/resolveProvider", &["documentLink/resolve"]),
    ("/colorProvider", &["textDocument/documentColor", "textDocument/colorPresentation"]),
    ("/workspaceSymbolProvider", &["workspace/symbol"]),
    ("/workspaceSymbolProvider/resolveProvider", &["workspaceSymbol/resolve"]),
    ("/documentFormattingProvider", &["textDocument/formatting"]),
    ("/documentRangeFormattingProvider", &["textDocument/rangeFormatting"]),
    ("/documentOnTypeFormattingProvider", &["textDocument/onTypeFormatting"]),
    ("/renameProvider", &["textDocument/rename"]),
    ("/renameProvider/prepareProvider", &["textDocument/prepareRename"]),
    ("/foldingRangeProvider", &["textDocument/foldingRange"]),
    ("/selectionRangeProvider", &["textDocument/selectionRange"]),
    ("/executeCommandProvider", &["workspace/executeCommand"]),
    (
        "/callHierarchyProvider",
        &["textDocument/prepareCallHierarchy", "callHierarchy/incomingCalls", "callHierarchy/outgoingCalls"],
    ),
    ("/linkedEditingRangeProvider", &["textDocument/linkedEditingRange"]),
    ("/semanticTokensProvider/full", &["textDocument/semanticTokens/full"]),
    ("/semanticTokensProvider/full/delta", &["textDocument/semanticTokens/full/delta"]),
    ("/semanticTokensProvider/range", &["textDocument/semanticTokens/range"]),
    ("/monikerProvider", &["textDocument/moniker"]),
    (
        "/typeHierarchyProvider",
        &["textDocument/prepareTypeHierarchy", "typeHierarchy/supertypes", "typeHierarchy/subtypes"],
    ),
    ("/inlineValueProvider", &["textDocument/inlineValue"]),
    ("/inlayHintProvider", &["textDocument/inlayHint"]),
    ("/inlayHintProvider/resolveProvider", &["inlayHint/resolve"]),
    ("/diagnosticProvider", &["textDocument/diagnostic"]),
    ("/diagnosticProvider/workspaceDiagnostics", &["workspace/diagnostic"]),
    ("/workspace/workspaceFolders/changeNotifications", &["workspace/didChangeWorkspaceFolders"]),
    ("/workspace/fileOperations/didCreate", &["workspace/didCreateFiles"]),
    ("/workspace/fileOperations/willCreate", &["workspace/willCreateFiles"]),
    ("/workspace/fileOperations/didRename", &["workspace/didRenameFiles"]),
    ("/workspace/fileOperations/willRename", &["workspace/willRenameFiles"]),
    ("/workspace/fileOperations/didDelete", &["workspace/didDeleteFiles"]),
    ("/workspace/fileOperations/willDelete", &["workspace/willDeleteFiles"]),
];

const METHOD_NOT_FOUND: i64 = -32601;
const INVALID_PARAMS: i64 = -32602;

/// A client that can do all that a server may ask of one, and what the server promises to it.
fn greeted() -> (Client, Value) {
    let mut client = Client::new();
    let greeting = json!({
        "processId": null, "rootUri": null,
        "capabilities": {"workspace": {"didChangeWatchedFiles": {"dynamicRegistration": true}}},
    });
    let promised = client.ask("initialize", greeting).unwrap()["capabilities"].clone();
    client.tell("initialized", json!({}));
    (client, promised)
}

fn is_promised(promised: &Value, at: &str) -> bool {
    promised.pointer(at).is_some_and(|it| *it != Value::Null && *it != json!(false) && *it != json!(0))
}

#[test]
fn the_table_knows_every_method_and_every_promise() {
    let placed = PROMISES.iter().flat_map(|(_, methods)| *methods);
    let placed: BTreeSet<&str> = placed.chain(UNASKED).chain(REGISTERED).copied().collect();
    let all: BTreeSet<&str> = [true, false].into_iter().flat_map(|asks| PROTOCOL.of_client(asks)).collect();
    assert_eq!(placed, all);
    let said: BTreeSet<&str> = PROMISES.iter().map(|(at, _)| at.split('/').nth(1).unwrap()).collect();
    let promises = PROTOCOL.properties("ServerCapabilities");
    let others = ["positionEncoding", "experimental"];
    assert_eq!(said, promises.filter(|it| !others.contains(it)).collect());
}

/// The features of the server's own table are what it promises to a client, no more and no less.
#[test]
fn the_features_are_what_is_promised() {
    let (mut client, promised) = greeted();
    let here = PROMISES.iter().filter(|(at, _)| is_promised(&promised, at)).flat_map(|(_, methods)| *methods);
    let asked = client.wait(|message| message["method"] == "client/registerCapability");
    let registered = asked["params"]["registrations"].as_array().unwrap().iter();
    let registered: Vec<&str> = registered.map(|it| it["method"].as_str().unwrap()).collect();
    let here: BTreeSet<&str> = here.copied().chain(registered).collect();
    let features = FEATURES.iter().flat_map(|feature| feature.methods).copied();
    assert_eq!(features.filter(|it| !UNASKED.contains(it)).collect::<BTreeSet<&str>>(), here);
    client.reply(&asked["id"], &Value::Null);
    assert_eq!(promised["textDocumentSync"]["change"], 2);
    assert_eq!(promised["positionEncoding"], "utf-16");
}

#[test]
fn each_promised_request_is_answered_and_no_other() {
    let (mut client, promised) = greeted();
    client.open(URI, TEXT);
    for (at, methods) in PROMISES {
        for method in methods.iter().filter(|method| PROTOCOL.of_client(true).any(|name| name == **method)) {
            let answer = client.ask(method, PROTOCOL.sample_of(method));
            let is_there = answer != Err(METHOD_NOT_FOUND);
            assert_eq!(is_there, is_promised(&promised, at), "{method}: {answer:?}");
            assert_ne!(answer, Err(INVALID_PARAMS), "{method}");
        }
    }
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn each_notification_is_heeded_or_passed_over() {
    let (mut client, _) = greeted();
    for method in PROTOCOL.of_client(false).filter(|method| *method != "exit") {
        client.tell(method, PROTOCOL.sample_of(method));
    }
    client.open(URI, &TEXT.replace("size", "sise"));
    client.findings(0, |found| found.iter().any(|it| it["code"] == "unknown-statement"));
    assert_eq!(client.leave(), Some(0));
}
