//! The methods of the protocol: each takes what it needs of the state, and hands it to the file that knows the answer.

use super::abilities::Abilities;
use super::commands::{self, Outcome};
use super::convert::Encoding;
use super::errand::{Errand, Errands};
use super::fault::{at_work, working_off};
use super::features::promises;
use super::later::Later;
use super::page::Pages;
use super::reasons;
use super::settings::Settings;
use super::state::{Snapshot, State};
use super::uris::file_of;
use super::watching::Watching;
use super::worker::Shared;
use super::workspace_symbols::Search;
use super::{
    actions, completion, completion_details, deeds, definition, formatting, highlight, hover, lens, presence,
    rename, selection, symbol_range,
};
use crate::study::while_wanted;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::Duration;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::ls_types::{
    CodeAction, CodeActionParams, CodeActionResponse, CodeLens, CompletionItem, CompletionParams,
    CompletionResponse, ConfigurationItem, CreateFilesParams, DeleteFilesParams,
    DidChangeConfigurationParams, DidChangeTextDocumentParams, DidChangeWatchedFilesParams,
    DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams,
    DidSaveTextDocumentParams, DocumentFormattingParams, DocumentHighlight, DocumentHighlightParams,
    DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, ExecuteCommandParams,
    GotoDefinitionParams, GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult,
    InitializedParams, InlayHint, LSPAny, LinkedEditingRangeParams, LinkedEditingRanges, Location,
    MessageType, PrepareRenameResponse, ReferenceParams, RenameFilesParams, RenameParams, SelectionRange,
    SelectionRangeParams, ServerCapabilities, ServerInfo, TextDocumentPositionParams, TextEdit, Uri,
    WorkspaceEdit, WorkspaceFolder, WorkspaceSymbol, WorkspaceSymbolParams, WorkspaceSymbolResponse,
};
use tower_lsp::{Client, LanguageServer};

/// The server.
pub struct Server {
    shared: Arc<Shared>,
    client: Client,
    /// Runs what takes longer.
    later: Later,
    errands: Errands,
    /// Which files the client is asked to watch.
    watching: Watching,
    /// What was printed to be looked at.
    pages: Arc<Pages>,
    /// The client's process, until it is watched.
    process: Mutex<Option<u32>>,
    /// To be called when the client's process is gone; taken when that is watched.
    gone: Mutex<Option<Gone>>,
}

/// What is done when the client's process is gone.
type Gone = Box<dyn FnOnce() + Send>;

impl Server {
    /// A server that no client has spoken to yet.
    pub fn new(shared: Arc<Shared>, client: Client, later: Later, errands: Errands, gone: Gone) -> Server {
        let watching = Watching::new(client.clone());
        let (pages, gone) = (Arc::default(), Mutex::new(Some(gone)));
        let process = Mutex::default();
        Server { shared, client, later, errands, watching, pages, process, gone }
    }

    /// Changes what is known, and lets the worker see what there is to do.
    fn change(&self, typed: bool, change: impl FnOnce(&mut State)) {
        self.shared.change(typed, change);
    }

    /// What `work` makes of a text as it is now. If it is another by the time that this is done, the answer is not given:
    /// it would be about a text that is no more.
    async fn ask<T: Send + 'static>(
        &self,
        uri: &Uri,
        work: impl FnOnce(&Snapshot) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        self.ask_for(uri, Errand::quiet(), work).await
    }

    /// The same, for somebody who may be told how far it is.
    async fn ask_for<T: Send + 'static>(
        &self,
        uri: &Uri,
        errand: Errand,
        work: impl FnOnce(&Snapshot) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        let Some(snapshot) = self.shared.state().snapshot(uri) else { return Ok(None) };
        let snapshot = Snapshot { errand, ..snapshot };
        let version = snapshot.version;
        let waiter = snapshot.errand.waiter();
        let answer = self.work(move || {
            let is_wanted = || !snapshot.errand.is_called_off();
            let done = is_wanted().then(|| while_wanted(snapshot.errand.sign(), || work(&snapshot)));
            done.filter(|_| is_wanted())
        });
        let answer = answer.await?.ok_or_else(Error::request_cancelled)?;
        drop(waiter);
        let now = self.shared.state().document(uri).map(|document| document.version);
        if now == Some(version) { Ok(Some(answer)) } else { Err(Error::content_modified()) }
    }

    /// What comes of something that takes longer.
    async fn work<T: Send + 'static>(&self, work: impl FnOnce() -> T + Send + 'static) -> Result<T> {
        let later = self.later.handle().map_err(|_| Error::internal_error())?;
        let method = at_work();
        let done = later.spawn_blocking(move || working_off(method, work)).await;
        done.map_err(|_| Error::internal_error())
    }

    /// Has something done that no message waits for.
    fn spawn(&self, work: impl Future<Output = ()> + Send + 'static) {
        if let Ok(later) = self.later.handle() {
            later.spawn(work);
        }
    }

    /// Watches the client's process, if it has said which that is. This takes a thread, and no answer is to wait for one.
    fn watch_client(&self) {
        let process = self.process.lock().unwrap_or_else(PoisonError::into_inner).take();
        let gone = self.gone.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let (Some(process), Some(gone)) = (process, gone) {
            presence::watch(process, gone);
        }
    }

    /// Asks the client to tell of files that change, if it can.
    fn watch_files(&self) {
        let state = self.shared.state();
        if state.settings.can.watch_files
            && let Some(asking) = self.watching.ask(&state)
        {
            self.spawn(asking);
        }
    }

    /// Asks the client what it wants, if it can be asked.
    fn ask_for_settings(&self) {
        if self.shared.state().settings.can.tell_settings {
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
}

/// A client that says that it asks for findings, and has not so long after its first text, is told of them.
const TIME_TO_ASK: Duration = Duration::from_secs(1);

/// Where a client keeps what is said to this server.
const SECTION: &str = "gridsetter";

/// Names of the protocol, as operations on files have them.
fn uris<'a>(names: impl Iterator<Item = &'a str>) -> Vec<Uri> {
    names.filter_map(|name| name.parse().ok()).collect()
}

/// Takes up what a client wants, and shows everything so where that changes anything; gives what it wanted before, and what it
/// wants now.
fn heed(shared: &Arc<Shared>, said: &LSPAny) -> (Settings, Settings) {
    let mut wants = <(Settings, Settings)>::default();
    shared.change(false, |state| {
        let before = state.settings.clone();
        state.settings.take(said);
        if state.settings.spoil() != before.spoil() {
            state.publish_all();
        }
        wants = (before, state.settings.clone());
    });
    wants
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
    folders.iter().filter_map(|folder| file_of(&folder.uri))
}

impl LanguageServer for Server {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        *self.process.lock().unwrap_or_else(PoisonError::into_inner) = params.process_id;
        let can = Abilities::of(&params.capabilities);
        let offered = params.capabilities.general.and_then(|general| general.position_encodings);
        let encoding = Encoding::agreed(&offered.unwrap_or_default());
        let mut state = self.shared.state();
        state.encoding = encoding;
        #[allow(deprecated, reason = "clients that know no folders still have a root")]
        let root = params.root_uri.as_ref().and_then(file_of);
        match &params.workspace_folders {
            Some(folders) => folders_of(folders).for_each(|folder| state.folders.add(folder)),
            None => root.into_iter().for_each(|folder| state.folders.add(folder)),
        }
        if let Some(said) = &params.initialization_options {
            state.settings.take(said);
        }
        state.settings.can = can;
        state.pulls.on = can.ask_for_findings;
        if can.show_progress {
            self.errands.are_shown();
        }
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
        self.watch_client();
        self.change(false, |_| ());
        self.watch_files();
        self.ask_for_settings();
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        self.change(false, |state| state.open(params.text_document));
        self.watch_files();
        if self.shared.state().pulls.awaits() {
            let shared = Arc::clone(&self.shared);
            // There are clients that say that they ask for findings, and never do.
            thread::spawn(move || {
                thread::sleep(TIME_TO_ASK);
                shared.change(false, State::push_to_who_does_not_ask);
            });
        }
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        self.change(true, |state| state.change(params));
    }

    async fn did_save(&self, params: DidSaveTextDocumentParams) {
        self.change(false, |state| {
            state.read_settings();
            state.happened([&params.text_document.uri]);
        });
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.change(false, |state| state.close(&params.text_document.uri));
        self.watch_files();
    }

    async fn did_change_watched_files(&self, params: DidChangeWatchedFilesParams) {
        self.change(false, |state| state.happened(params.changes.iter().map(|change| &change.uri)));
    }

    async fn did_create_files(&self, params: CreateFilesParams) {
        let created = params.files.iter().map(|file| file.uri.as_str());
        self.change(false, |state| state.happened(uris(created).iter()));
    }

    async fn did_rename_files(&self, params: RenameFilesParams) {
        let names = params.files.iter().flat_map(|file| [file.old_uri.as_str(), file.new_uri.as_str()]);
        self.change(false, |state| state.happened(uris(names).iter()));
    }

    async fn did_delete_files(&self, params: DeleteFilesParams) {
        let deleted = params.files.iter().map(|file| file.uri.as_str());
        self.change(false, |state| state.happened(uris(deleted).iter()));
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        self.change(false, |state| {
            folders_of(&params.event.removed).for_each(|folder| state.folders.remove(&folder));
            folders_of(&params.event.added).for_each(|folder| state.folders.add(folder));
            state.read_settings();
            state.changed();
        });
        self.watch_files();
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
        let (progress, parts) = (params.work_done_progress_params, params.partial_result_params);
        let errand = self.errands.asked(
            "Looking for references",
            progress.work_done_token,
            parts.partial_result_token,
        );
        let work = move |snapshot: &Snapshot| definition::references(snapshot, position, borne_too);
        Ok(self.ask_for(&text_document.uri, errand, work).await?.flatten())
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
        let progress = params.work_done_progress_params.work_done_token;
        let errand = self.errands.asked("Looking for what names it", progress, None);
        let work = move |snapshot: &Snapshot| rename::answer(snapshot, position, &params.new_name);
        let answer = self.ask_for(&text_document.uri, errand, work).await?;
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

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        let work = move |snapshot: &Snapshot| selection::answer(snapshot, &params.positions);
        self.ask(&params.text_document.uri, work).await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<WorkspaceSymbolResponse>> {
        let (files, encoding, later) = {
            let state = self.shared.state();
            (state.all_files(), state.encoding, state.settings.can.resolve_symbols)
        };
        let (progress, parts) = (params.work_done_progress_params, params.partial_result_params);
        let errand =
            self.errands.asked("Looking for symbols", progress.work_done_token, parts.partial_result_token);
        let _waiter = errand.waiter();
        let search = Search::new(&params.query, encoding, later);
        let found = self.work(move || search.answer(&files, &errand)).await?;
        Ok(Some(WorkspaceSymbolResponse::Nested(found.ok_or_else(Error::request_cancelled)?)))
    }

    async fn symbol_resolve(&self, symbol: WorkspaceSymbol) -> Result<WorkspaceSymbol> {
        let (files, encoding) = {
            let state = self.shared.state();
            (state.all_files(), state.encoding)
        };
        self.work(move || symbol_range::resolve(&files, symbol, encoding)).await
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

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        let uri = params.text_document_position_params.text_document.uri.clone();
        Ok(self.ask(&uri, move |snapshot| hover::answer(snapshot, &params)).await?.flatten())
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        let uri = params.text_document_position.text_document.uri.clone();
        self.ask(&uri, move |snapshot| completion::answer(snapshot, &params)).await
    }

    async fn completion_resolve(&self, item: CompletionItem) -> Result<CompletionItem> {
        let state = self.shared.state();
        let ladder = |uri: &Uri| state.document(uri).map(|document| Arc::clone(&document.book.ladder));
        let markdown = state.settings.can.show_markdown;
        Ok(completion_details::resolve(item, markdown, |uri| ladder(uri).unwrap_or_default()))
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        let wanted = params.clone();
        let deeds = move |snapshot: &Snapshot| (snapshot.version, deeds::actions(snapshot, &wanted));
        let uri = &params.text_document.uri;
        let Some((version, deeds)) = self.ask(uri, deeds).await? else { return Ok(None) };
        let state = self.shared.state();
        let same = state.document(uri).is_some_and(|document| document.version == version);
        if same { Ok(actions::answer(&state, &params, deeds)) } else { Err(Error::content_modified()) }
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
