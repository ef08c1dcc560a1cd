//! What does not go through the service: questions that may wait for long or have large answers, and what a client says of
//! something that is under way.

use super::call::Call;
use super::errand::Errands;
use super::later::Later;
use super::reply::Reply;
use super::whole::Whole;
use super::worker::Shared;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::sync::Arc;
use tower_lsp::jsonrpc::{Error, Id, Request, Response};
use tower_lsp::ls_types::{
    CancelParams, DidCloseTextDocumentParams, WorkDoneProgressCancelParams, WorkspaceDiagnosticParams,
};

/// Takes what is its own of the messages that come.
pub struct Aside {
    shared: Arc<Shared>,
    errands: Errands,
    whole: Whole,
}

impl Aside {
    /// With the state of the service.
    pub fn new(shared: Arc<Shared>, errands: Errands, later: Later) -> Aside {
        let whole = Whole::new(Arc::clone(&shared), later);
        Aside { shared, errands, whole }
    }

    /// Takes a message, if nobody else is to have it, and the reply if that comes from here; otherwise gives the call back.
    pub fn take(&self, request: &Request, reply: &mut Option<Reply>, call: Call) -> Option<Call> {
        match request.method() {
            "textDocument/diagnostic" => {
                let (params, reply) = asked(&self.shared, request, reply)?;
                self.shared.change(false, |state| state.pull(params, reply));
                if self.shared.state().pulls.is_waited_for() {
                    self.shared.hurry();
                }
            }
            "workspace/diagnostic" => {
                let (params, reply): (WorkspaceDiagnosticParams, _) = asked(&self.shared, request, reply)?;
                let progress = params.work_done_progress_params.work_done_token.clone();
                let parts = params.partial_result_params.partial_result_token.clone();
                let errand = self.errands.asked("Looking at all puzzles", progress, parts);
                self.shared.change(false, |state| state.pull_all(params, errand, reply));
            }
            "window/workDoneProgress/cancel" => {
                if let Some(WorkDoneProgressCancelParams { token }) = read(request) {
                    self.errands.call_off(&token);
                    self.shared.change(false, |_| ());
                }
            }
            "$/setTrace" => {}
            "$/cancelRequest" => {
                if let Some(CancelParams { id }) = read(request) {
                    let id = Id::from(id);
                    self.shared.state().pulls.cancel(&id);
                    self.whole.cancel(&id);
                }
                // What is under way in the service is called off there.
                return Some(call);
            }
            "textDocument/didClose" => {
                if let Some(DidCloseTextDocumentParams { text_document }) = read(request) {
                    self.whole.forget(&text_document.uri);
                }
                return Some(call);
            }
            _ => return self.whole.take(request, reply, call),
        }
        None
    }

    /// Takes the answer to a question that was not asked by the service; tells whether it was one.
    pub fn answered(&self, response: &Response) -> bool {
        let Id::String(question) = response.id() else { return false };
        if self.shared.state().pulls.heard(question) {
            self.shared.change(false, |_| ());
        } else {
            self.errands.answered(question, response.is_ok());
        }
        true
    }

    /// Ends what waits: the session is over.
    pub fn end(&self) {
        self.shared.state().pulls.end();
    }
}

/// What a request asks, with its reply; who asks what cannot be read is told so.
pub fn asked<T: DeserializeOwned>(
    shared: &Shared,
    request: &Request,
    reply: &mut Option<Reply>,
) -> Option<(T, Reply)> {
    let reply = reply.take()?;
    match T::deserialize(request.params().unwrap_or(&Value::Null)) {
        Ok(params) => {
            // Nothing is worked out for a client that does not read.
            shared.wait_for_room();
            Some((params, reply))
        }
        Err(error) => {
            reply.refuse(Error::invalid_params(error.to_string()));
            None
        }
    }
}

/// What a notification says, if it can be read.
fn read<T: DeserializeOwned>(request: &Request) -> Option<T> {
    request.params().and_then(|params| T::deserialize(params).ok())
}
