//! The methods of the protocol: each takes what it needs of the state, and hands it to the file that knows the answer.

use super::abilities::Abilities;
use super::commands::{self, Outcome};
use super::convert::Encoding;
use super::features::promises;
use super::later::Later;
use super::page::Pages;
use super::reasons;
use super::settings::Settings;
use super::state::{Snapshot, State, read_folders};
use super::worker::Shared;
use super::{
    actions, completion, completion_details, deeds, definition, document, folding, formatting, highlight,
    hover, inlay, lens, links, presence, rename, selection, symbol_range, symbols, tokens, workspace_symbols,
};
use crate::settings;
use serde_json::json;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, Once, PoisonError};
use std::thread;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::ls_types::{
    CodeAction, CodeActionParams, CodeActionResponse, CodeLens, CodeLensParams, CompletionItem,
    CompletionParams, CompletionResponse, ConfigurationItem, DidChangeConfigurationParams,
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams,
    DidCloseTextDocumentParams, DidOpenTextDocumentParams, DidSaveTextDocumentParams,
    DocumentFormattingParams, DocumentHighlight, DocumentHighlightParams, DocumentLink, DocumentLinkParams,
    DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, DocumentSymbolParams,
    DocumentSymbolResponse, ExecuteCommandParams, FoldingRange, FoldingRangeParams, GotoDefinitionParams,
    GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult, InitializedParams,
    InlayHint, InlayHintParams, LSPAny, LinkedEditingRangeParams, LinkedEditingRanges, Location, MessageType,
    PrepareRenameResponse, ReferenceParams, Registration, RenameParams, SelectionRange, SelectionRangeParams,
    SemanticTokens, SemanticTokensDelta, SemanticTokensDeltaParams, SemanticTokensFullDeltaResult,
    SemanticTokensParams, SemanticTokensRangeParams, SemanticTokensRangeResult, SemanticTokensResult,
    ServerCapabilities, ServerInfo, TextDocumentPositionParams, TextEdit, Uri, WorkspaceEdit,
    WorkspaceFolder, WorkspaceSymbol, WorkspaceSymbolParams, WorkspaceSymbolResponse,
};
use tower_lsp::{Client, LanguageServer};

/// The server.
pub struct Server {
    shared: Arc<Shared>,
    client: Client,
    /// Runs what takes longer.
    later: Later,
    worker: Once,
    /// The tokens that were last told of each open text: of the next ones only the change is told.
    tokens: Mutex<BTreeMap<Uri, SemanticTokens>>,
    /// What was printed to be looked at.
    pages: Arc<Pages>,
    /// To be called when the client's process is gone; taken when that is watched.
    gone: Mutex<Option<Gone>>,
}

/// What is done when the client's process is gone.
type Gone = Box<dyn FnOnce() + Send>;

impl Server {
    /// A server that no client has spoken to yet.
    pub fn new(shared: Arc<Shared>, client: Client, later: Later, gone: Gone) -> Server {
        let (worker, tokens, pages) = (Once::new(), Mutex::default(), Arc::default());
        Server { shared, client, later, worker, tokens, pages, gone: Mutex::new(Some(gone)) }
    }

    /// Changes what is known, and lets the worker see what there is to do.
    fn change(&self, typed: bool, change: impl FnOnce(&mut State)) {
        change(&mut self.shared.state());
        self.worker.call_once(|| {
            let shared = Arc::clone(&self.shared);
            thread::spawn(move || shared.work());
        });
        self.shared.wake(typed);
    }

    /// What `work` makes of a text as it is now. If it is another by the time that this is done, the answer is not given:
    /// it would be about a text that is no more.
    async fn ask<T: Send + 'static>(
        &self,
        uri: &Uri,
        work: impl FnOnce(&Snapshot) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        let Some(snapshot) = self.shared.state().snapshot(uri) else { return Ok(None) };
        let version = snapshot.version;
        let later = self.later.handle().map_err(|_| Error::internal_error())?;
        let answer = later.spawn_blocking(move || work(&snapshot)).await;
        let answer = answer.map_err(|_| Error::internal_error())?;
        let now = self.shared.state().document(uri).map(|document| document.version);
        if now == Some(version) { Ok(Some(answer)) } else { Err(Error::content_modified()) }
    }

    /// The tokens that were told of a text last, and those that it has now, which are told next.
    async fn tokens(&self, uri: &Uri) -> Result<Option<(Option<SemanticTokens>, SemanticTokens)>> {
        let Some(data) = self.ask(uri, |snapshot| tokens::answer(snapshot, &(0..u32::MAX))).await? else {
            return Ok(None);
        };
        let mut told = self.tokens.lock().unwrap_or_else(PoisonError::into_inner);
        let old = told.remove(uri);
        let last = old.as_ref().and_then(|old| old.result_id.as_deref()?.parse::<u64>().ok());
        let result_id = Some((last.unwrap_or(0) + 1).to_string());
        let new = SemanticTokens { result_id, data };
        told.insert(uri.clone(), new.clone());
        Ok(Some((old, new)))
    }

    /// Has something done that no message waits for.
    fn spawn(&self, work: impl Future<Output = ()> + Send + 'static) {
        if let Ok(later) = self.later.handle() {
            later.spawn(work);
        }
    }

    /// Asks the client to tell of files that change, if it can.
    fn watch_files(&self) {
        if self.shared.state().settings.watches_files {
            let client = self.client.clone();
            let watch = Registration {
                id: "files".to_owned(),
                method: "workspace/didChangeWatchedFiles".to_owned(),
                register_options: Some(json!({"watchers": [
                    {"globPattern": "**/*.gset"}, {"globPattern": format!("**/{}", settings::FILE_NAME)},
                ]})),
            };
            // A client that refuses tells of files that are saved, and of no others.
            self.spawn(async move {
                let _ = client.register_capability(vec![watch]).await;
            });
        }
    }

    /// Asks the client what it wants, if it can be asked.
    fn ask_for_settings(&self) {
        if self.shared.state().settings.can_be_asked {
            let (client, shared) = (self.client.clone(), Arc::clone(&self.shared));
            let ours = ConfigurationItem { scope_uri: None, section: Some(SECTION.to_owned()) };
            self.spawn(async move {
                for said in client.configuration(vec![ours]).await.unwrap_or_default() {
                    let wants = heed(&shared, &said);
                    ask_again(&client, wants).await;
                }
            });
        }
    }

    /// Has something done that takes no text as it is now.
    async fn work<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> Result<T> {
        let later = self.later.handle().map_err(|_| Error::internal_error())?;
        later.spawn_blocking(work).await.map_err(|_| Error::internal_error())
    }

    /// Says or shows what came of a command. Nobody waits for the client to show it.
    async fn tell(&self, outcome: Outcome) {
        let can_show = self.shared.state().settings.can.show_documents;
        match outcome {
            Outcome::Show { uri, selection, otherwise } if can_show => {
                let client = self.client.clone();
                self.spawn(async move {
                    let shown = client.show_document(commands::shown(uri, selection)).await;
                    if !shown.unwrap_or(false) {
                        client.show_message(MessageType::INFO, otherwise).await;
                    }
                });
            }
            Outcome::Say(words) | Outcome::Show { otherwise: words, .. } => {
                self.client.show_message(MessageType::INFO, words).await;
            }
        }
    }

    /// Reads the files of the folders, and takes them up when that is done.
    fn read_folders(&self) {
        let folders = self.shared.state().folders.clone();
        let shared = Arc::clone(&self.shared);
        let Ok(later) = self.later.handle() else { return };
        later.spawn_blocking(move || {
            let files = read_folders(&folders);
            let mut state = shared.state();
            if state.folders == folders {
                state.take_files(files);
            }
            drop(state);
            shared.wake(false);
        });
    }
}

/// Where a client keeps what is said to this server.
const SECTION: &str = "gridsetter";

/// Takes up what a client wants, and shows everything so; gives what it wanted before, and what it wants now.
fn heed(shared: &Shared, said: &LSPAny) -> (Settings, Settings) {
    let mut state = shared.state();
    let before = state.settings.clone();
    state.settings.take(said);
    state.publish_all();
    (before, state.settings.clone())
}

/// Has a client ask again for what it shows by itself and is to show otherwise.
async fn ask_again(client: &Client, (before, now): (Settings, Settings)) {
    if now.can.refresh_lenses && before.lenses != now.lenses {
        let _refused = client.code_lens_refresh().await;
    }
    if now.can.refresh_hints && (before.rows, before.reasons) != (now.rows, now.reasons) {
        let _refused = client.inlay_hint_refresh().await;
    }
    if now.can.refresh_tokens && before.mistakes != now.mistakes {
        let _refused = client.semantic_tokens_refresh().await;
    }
}

fn folders_of(folders: &[WorkspaceFolder]) -> impl Iterator<Item = PathBuf> {
    folders.iter().filter_map(|folder| document::file_of(&folder.uri))
}

impl LanguageServer for Server {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let gone = self.gone.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let (Some(process), Some(gone)) = (params.process_id, gone) {
            presence::watch(process, gone);
        }
        let (client, can) = (params.capabilities.clone(), Abilities::of(&params.capabilities));
        let offered = client.general.and_then(|general| general.position_encodings).unwrap_or_default();
        let encoding = Encoding::agreed(&offered);
        let mut state = self.shared.state();
        state.encoding = encoding;
        #[allow(deprecated, reason = "clients that know no folders still have a root")]
        let root = params.root_uri.as_ref().and_then(document::file_of);
        state.folders = match &params.workspace_folders {
            Some(folders) => folders_of(folders).collect(),
            None => root.into_iter().collect(),
        };
        if let Some(said) = &params.initialization_options {
            state.settings.take(said);
        }
        state.settings.can = can;
        if let Some(workspace) = client.workspace {
            let edits = workspace.workspace_edit.and_then(|edits| edits.document_changes);
            let watches = workspace.did_change_watched_files.and_then(|watch| watch.dynamic_registration);
            state.settings.versioned_edits = edits.unwrap_or(false);
            state.settings.watches_files = watches.unwrap_or(false);
            state.settings.can_be_asked = workspace.configuration.unwrap_or(false);
        }
        let resolve = client.text_document.and_then(|text| text.code_action?.resolve_support);
        state.settings.resolves_edits =
            resolve.is_some_and(|resolve| resolve.properties.iter().any(|property| property == "edit"));
        Ok(InitializeResult {
            capabilities: ServerCapabilities { position_encoding: Some(encoding.kind()), ..promises() },
            server_info: Some(ServerInfo {
                name: "gridsetter".to_owned(),
                version: Some(env!("CARGO_PKG_VERSION").to_owned()),
            }),
            ..InitializeResult::default()
        })
    }

    async fn initialized(&self, _: InitializedParams) {
        self.read_folders();
        self.watch_files();
        self.ask_for_settings();
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        self.change(false, |state| state.open(params.text_document));
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        self.change(true, |state| state.change(params));
    }

    async fn did_save(&self, params: DidSaveTextDocumentParams) {
        if let Some(path) = document::file_of(&params.text_document.uri) {
            self.change(false, |state| {
                state.read_settings();
                state.reload(&path);
            });
        }
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.tokens.lock().unwrap_or_else(PoisonError::into_inner).remove(&params.text_document.uri);
        self.change(false, |state| state.close(&params.text_document.uri));
    }

    async fn did_change_watched_files(&self, params: DidChangeWatchedFilesParams) {
        let files = params.changes.iter().filter_map(|change| document::file_of(&change.uri));
        let is_settings = |file: &PathBuf| file.file_name().is_some_and(|name| name == settings::FILE_NAME);
        let (settings, files): (Vec<PathBuf>, Vec<PathBuf>) = files.partition(is_settings);
        self.change(false, |state| {
            if !settings.is_empty() {
                state.read_settings();
            }
            for file in &files {
                state.reload(file);
            }
        });
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        self.change(false, |state| {
            let removed: Vec<PathBuf> = folders_of(&params.event.removed).collect();
            state.folders.retain(|folder| !removed.contains(folder));
            state.folders.extend(folders_of(&params.event.added));
            state.read_settings();
        });
        self.read_folders();
    }

    async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
        let (client, wants) = (self.client.clone(), heed(&self.shared, &params.settings));
        self.spawn(async move { ask_again(&client, wants).await });
        self.ask_for_settings();
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.ask(&params.text_document.uri, formatting::answer).await
    }

    async fn range_formatting(&self, params: DocumentRangeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.ask(&params.text_document.uri, move |snapshot| formatting::within(snapshot, params.range)).await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position;
        self.ask(&text_document.uri, move |snapshot| formatting::line_before(snapshot, position)).await
    }

    async fn goto_definition(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position_params;
        let answer = self.ask(&text_document.uri, move |snapshot| definition::answer(snapshot, position));
        Ok(answer.await?.flatten())
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position;
        let borne_too = params.context.include_declaration;
        let work = move |snapshot: &Snapshot| definition::references(snapshot, position, borne_too);
        Ok(self.ask(&text_document.uri, work).await?.flatten())
    }

    async fn prepare_rename(
        &self,
        params: TextDocumentPositionParams,
    ) -> Result<Option<PrepareRenameResponse>> {
        let (uri, at) = (params.text_document.uri, params.position);
        Ok(self.ask(&uri, move |snapshot| rename::prepare(snapshot, at)).await?.flatten())
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position;
        let work = move |snapshot: &Snapshot| rename::answer(snapshot, position, &params.new_name);
        let answer = self.ask(&text_document.uri, work).await?;
        let renamed = answer.transpose().map_err(Error::invalid_params)?.flatten();
        let Some(rename::Renamed { edit, told }) = renamed else { return Ok(None) };
        if let Some(told) = told {
            self.tell(Outcome::Say(told)).await;
        }
        Ok(Some(edit))
    }

    async fn linked_editing_range(
        &self,
        params: LinkedEditingRangeParams,
    ) -> Result<Option<LinkedEditingRanges>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position_params;
        let answer = self.ask(&text_document.uri, move |snapshot| highlight::linked(snapshot, position));
        Ok(answer.await?.flatten())
    }

    async fn document_highlight(
        &self,
        params: DocumentHighlightParams,
    ) -> Result<Option<Vec<DocumentHighlight>>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position_params;
        let answer = self.ask(&text_document.uri, move |snapshot| highlight::answer(snapshot, position));
        Ok(answer.await?.flatten())
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        self.ask(&params.text_document.uri, links::answer).await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        self.ask(&params.text_document.uri, folding::answer).await
    }

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        let work = move |snapshot: &Snapshot| selection::answer(snapshot, &params.positions);
        self.ask(&params.text_document.uri, work).await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<WorkspaceSymbolResponse>> {
        let (files, encoding, later) = {
            let state = self.shared.state();
            (state.all_files(), state.encoding, state.settings.can.resolve_symbols)
        };
        let found =
            self.work(move || workspace_symbols::answer(&files, &params.query, encoding, later)).await?;
        Ok(Some(WorkspaceSymbolResponse::Nested(found)))
    }

    async fn symbol_resolve(&self, symbol: WorkspaceSymbol) -> Result<WorkspaceSymbol> {
        let (files, encoding) = {
            let state = self.shared.state();
            (state.all_files(), state.encoding)
        };
        self.work(move || symbol_range::resolve(&files, symbol, encoding)).await
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        let range = params.range;
        let work = move |snapshot: &Snapshot| {
            [inlay::answer(snapshot, range), reasons::answer(snapshot, range)].concat()
        };
        self.ask(&params.text_document.uri, work).await
    }

    async fn inlay_hint_resolve(&self, hint: InlayHint) -> Result<InlayHint> {
        let pointed =
            hint.data.clone().and_then(|data| serde_json::from_value::<reasons::Pointed>(data).ok());
        let Some(pointed) = pointed else { return Ok(hint) };
        let resolve = move |snapshot: &Snapshot| {
            (snapshot.version == pointed.version).then(|| reasons::resolve(snapshot, hint))
        };
        self.ask(&pointed.uri, resolve).await?.flatten().ok_or_else(Error::content_modified)
    }

    async fn semantic_tokens_full(
        &self,
        params: SemanticTokensParams,
    ) -> Result<Option<SemanticTokensResult>> {
        let uri = params.text_document.uri;
        let told = self.tokens(&uri).await?;
        Ok(told.map(|(_, new)| new.into()))
    }

    async fn semantic_tokens_full_delta(
        &self,
        params: SemanticTokensDeltaParams,
    ) -> Result<Option<SemanticTokensFullDeltaResult>> {
        let Some((old, new)) = self.tokens(&params.text_document.uri).await? else { return Ok(None) };
        Ok(Some(match old.filter(|old| old.result_id.as_ref() == Some(&params.previous_result_id)) {
            Some(old) => {
                let edits = tokens::changes(&old.data, &new.data);
                SemanticTokensDelta { result_id: new.result_id, edits }.into()
            }
            None => new.into(),
        }))
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        let lines = params.range.start.line..params.range.end.line.saturating_add(1);
        let data =
            self.ask(&params.text_document.uri, move |snapshot| tokens::answer(snapshot, &lines)).await?;
        Ok(data.map(|data| SemanticTokens { result_id: None, data }.into()))
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        let uri = params.text_document_position_params.text_document.uri.clone();
        Ok(self.ask(&uri, move |snapshot| hover::answer(snapshot, &params)).await?.flatten())
    }

    async fn document_symbol(&self, params: DocumentSymbolParams) -> Result<Option<DocumentSymbolResponse>> {
        let answer = self.ask(&params.text_document.uri, symbols::answer).await?;
        Ok(answer.map(DocumentSymbolResponse::Nested))
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        let uri = params.text_document_position.text_document.uri.clone();
        self.ask(&uri, move |snapshot| completion::answer(snapshot, &params)).await
    }

    async fn completion_resolve(&self, item: CompletionItem) -> Result<CompletionItem> {
        let state = self.shared.state();
        let ladder = |uri: &Uri| state.document(uri).map(|document| Arc::clone(&document.book.ladder));
        Ok(completion_details::resolve(item, |uri| ladder(uri).unwrap_or_default()))
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        let wanted = params.clone();
        let deeds = move |snapshot: &Snapshot| deeds::actions(snapshot, &wanted);
        let Some(deeds) = self.ask(&params.text_document.uri, deeds).await? else { return Ok(None) };
        Ok(actions::answer(&self.shared.state(), &params, deeds))
    }

    async fn code_action_resolve(&self, mut action: CodeAction) -> Result<CodeAction> {
        let chosen =
            action.data.clone().and_then(|data| serde_json::from_value::<actions::Chosen>(data).ok());
        let Some(chosen) = chosen else { return Ok(action) };
        let uri = chosen.uri.clone();
        action.edit = Some(if chosen.deed.is_fix() {
            actions::fix(&self.shared.state(), &chosen)?
        } else {
            let work = move |snapshot: &Snapshot| {
                let same = snapshot.version == chosen.version;
                let edits = same.then(|| deeds::edits(snapshot, &chosen).map_err(actions::failed));
                edits.ok_or_else(Error::content_modified)?.and_then(|edits| actions::whole(snapshot, edits))
            };
            self.ask(&uri, work).await?.ok_or_else(Error::content_modified)??
        });
        Ok(action)
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        self.ask(&params.text_document.uri, lens::answer).await
    }

    async fn code_lens_resolve(&self, lens: CodeLens) -> Result<CodeLens> {
        let seen = lens.data.clone().and_then(|data| serde_json::from_value::<lens::Seen>(data).ok());
        let Some(seen) = seen else { return Ok(lens) };
        let uri = seen.uri.clone();
        let resolve = move |snapshot: &Snapshot| {
            (snapshot.version == seen.version).then(|| lens::resolve(snapshot, &seen, lens))
        };
        self.ask(&uri, resolve).await?.flatten().ok_or_else(Error::content_modified)
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<LSPAny>> {
        let asked = commands::Asked::of(params)?;
        let outcome = match asked {
            commands::Asked::OfText(uri, asked) => {
                let pages = Arc::clone(&self.pages);
                self.ask(&uri, move |snapshot| asked.look(snapshot, &pages)).await?
            }
            commands::Asked::Mistakes(uri) => commands::mistakes(self.shared.state().document(&uri)),
            commands::Asked::Place(place) => Some(commands::place(place)),
        };
        if let Some(outcome) = outcome {
            self.tell(outcome).await;
        }
        Ok(None)
    }
}
