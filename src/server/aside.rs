//! What does not go through the service: questions that may wait for long, whose answers may be large, and what a client says
//! of something that is under way.

use super::errand::Errands;
use super::reply::Reply;
use super::worker::Shared;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::sync::Arc;
use tower_lsp::jsonrpc::{Error, Id, Request, Response};
use tower_lsp::ls_types::{CancelParams, WorkDoneProgressCancelParams, WorkspaceDiagnosticParams};

/// Takes what is its own of the messages that come.
pub struct Aside {
    shared: Arc<Shared>,
    errands: Errands,
}

impl Aside {
    /// With the state of the service.
    pub fn new(shared: Arc<Shared>, errands: Errands) -> Aside {
        Aside { shared, errands }
    }

    /// Takes a message, if nobody else is to have it, and the reply if that comes from here.
    pub fn take(&self, request: &Request, reply: &mut Option<Reply>) -> bool {
        match request.method() {
            "textDocument/diagnostic" => {
                self.with(request, reply, |params, reply| {
                    self.shared.change(false, |state| state.pull(params, reply));
                    if self.shared.state().pulls.is_waited_for() {
                        self.shared.hurry();
                    }
                });
            }
            "workspace/diagnostic" => {
                self.with(request, reply, |params: WorkspaceDiagnosticParams, reply| {
                    let progress = params.work_done_progress_params.work_done_token.clone();
                    let parts = params.partial_result_params.partial_result_token.clone();
                    let errand = self.errands.asked("Looking at all puzzles", progress, parts);
                    self.shared.change(false, |state| state.pull_all(params, errand, reply));
                });
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
                    self.shared.state().pulls.cancel(&Id::from(id));
                }
                // What is under way in the service is called off there.
                return false;
            }
            _ => return false,
        }
        true
    }

    fn with<T: DeserializeOwned>(
        &self,
        request: &Request,
        reply: &mut Option<Reply>,
        work: impl FnOnce(T, Reply),
    ) {
        let Some(reply) = reply.take() else { return };
        match T::deserialize(request.params().unwrap_or(&Value::Null)) {
            // Nothing is worked out for a client that does not read.
            Ok(params) => {
                self.shared.wait_for_room();
                work(params, reply);
            }
            Err(error) => reply.refuse(Error::invalid_params(error.to_string())),
        }
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

/// What a notification says, if it can be read.
fn read<T: DeserializeOwned>(request: &Request) -> Option<T> {
    request.params().and_then(|params| T::deserialize(params).ok())
}
