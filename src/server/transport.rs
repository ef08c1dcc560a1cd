//! The loop between the wire and the service.
//!
//! Messages are taken one by one, in order. A notification is worked off to its end before the next message is looked at,
//! so that no edit is overtaken. A request is begun at once, so that it sees the texts as they were when it was sent, and
//! goes on by itself if it takes longer. Each gets one reply, whatever becomes of it.

use super::aside::Aside;
use super::call::{Call, Observer};
use super::fault::{working_off, working_off_later};
use super::frame::{Frame, Frames};
use super::later::Later;
use super::log::{Level, Log};
use super::outbox::Outbox;
use super::reply::Reply;
use futures::sink::SinkExt;
use futures::{FutureExt, Stream, StreamExt};
use serde::Deserialize;
use serde::de::IgnoredAny;
use std::any::Any;
use std::future::Future;
use std::io::{self, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, Waker};
use tower::Service;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};
use tower_lsp::{ClientSocket, ExitedError, LanguageServer, LspService};

/// So many requests may be under way; what comes beyond is refused.
pub const MOST_REQUESTS: usize = 256;

/// The protocol's code for a request that could not be carried out.
const REQUEST_FAILED: i64 = -32803;

/// How a session ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ending {
    /// As the protocol wants it: `shutdown`, then `exit` or the end of the input.
    Orderly,
    /// Without `shutdown`, or because the client was lost.
    Abrupt,
}

/// What a request or notification comes to.
type Outcome = Result<Option<Response>, ExitedError>;
type Work = Pin<Box<dyn Future<Output = Result<Outcome, Box<dyn Any + Send>>> + Send>>;

/// What a session needs beside the service.
pub struct Session<'a> {
    /// Where messages to the client are put.
    pub outbox: &'a Outbox,
    /// What is not for the service.
    pub aside: Option<Aside>,
    /// Runs what is not done at once.
    pub later: &'a Later,
    /// Sees how messages are worked off.
    pub observer: Observer,
}

/// Serves the client until it takes its leave or is lost.
///
/// # Errors
/// If the system gives no threads for that.
pub fn run<S: LanguageServer>(
    input: impl Read,
    (mut service, socket): (LspService<S>, ClientSocket),
    session: &Session,
) -> io::Result<Ending> {
    let Session { outbox, aside, later, observer } = session;
    let (asked, mut answers) = socket.split();
    // Nothing is asked before the client was answered.
    let mut asked = Some(asked);

    let mut frames = Frames::new(input);
    let under_way = Arc::new(());
    let (mut greeted, mut shut_down) = (false, false);
    loop {
        let ending = if shut_down { Ending::Orderly } else { Ending::Abrupt };
        let body = match frames.next() {
            _ if outbox.is_lost() => return Ok(Ending::Abrupt),
            Ok(Frame::Body(body)) => body,
            Ok(Frame::Malformed(why)) => {
                let error = Error { message: why.into(), ..Error::parse_error() };
                refuse(outbox, Id::Null, error, &observer.log);
                continue;
            }
            Ok(Frame::End) | Err(_) => return Ok(ending),
        };
        let request = match decode(&body) {
            Ok(Message::Request(request)) => request,
            Ok(Message::Response(response)) => {
                if !aside.as_ref().is_some_and(|aside| aside.answered(&response)) {
                    // Only fails after `exit`.
                    let _ = answers.send(response).now_or_never();
                }
                continue;
            }
            Err((id, error)) => {
                refuse(outbox, id, error, &observer.log);
                continue;
            }
        };
        drop(body);
        match request.method() {
            "initialize" => {}
            "exit" => return Ok(ending),
            _ => {
                if let Some(asked) = asked.take() {
                    later.handle()?.spawn(pass_on(asked, (*outbox).clone()));
                }
            }
        }
        let mut call = observer.call(&request);
        let mut reply = request.id().map(|id| Reply::new(id.clone(), outbox));
        if let Some(aside) = aside.as_ref().filter(|_| greeted && !shut_down) {
            let method = Arc::clone(&call.method);
            let take = || aside.take(&request, &mut reply, call);
            match catch_unwind(AssertUnwindSafe(|| working_off(Some(method), take))) {
                Ok(Some(not_taken)) => call = not_taken,
                Ok(None) | Err(_) => continue,
            }
        }
        let work = working_off_later(Arc::clone(&call.method), service.call(request));
        let mut work: Work = AssertUnwindSafe(work).catch_unwind().boxed();
        match (work.as_mut().poll(&mut Context::from_waker(Waker::noop())), reply) {
            (Poll::Ready(outcome), reply) => {
                let is_ok = matches!(&outcome, Ok(Ok(Some(it))) if it.is_ok());
                greeted |= &*call.method == "initialize" && is_ok;
                shut_down |= &*call.method == "shutdown" && is_ok;
                if let Some(aside) = aside.as_ref().filter(|_| shut_down) {
                    aside.end();
                }
                finish(outcome, reply, call);
            }
            (Poll::Pending, None) => finish(futures::executor::block_on(work), None, call),
            (Poll::Pending, Some(reply)) if Arc::strong_count(&under_way) > MOST_REQUESTS => {
                reply.refuse(too_many());
            }
            (Poll::Pending, Some(reply)) => {
                let one_more = Arc::clone(&under_way);
                later.handle()?.spawn(async move {
                    finish(work.await, Some(reply), call);
                    drop(one_more);
                });
            }
        }
    }
}

/// Sends what the server asks and tells by itself.
async fn pass_on(mut asked: impl Stream<Item = Request> + Unpin, outbox: Outbox) {
    while let Some(question) = asked.next().await {
        outbox.send(&question);
    }
}

/// A message from the client.
enum Message {
    /// A request or a notification.
    Request(Request),
    /// The answer to a question of ours.
    Response(Response),
}

/// As much of a message as can be answered.
#[derive(Deserialize)]
struct Named {
    id: Option<Id>,
}

/// Reads a message. What cannot be read gets a reply too, to its id where it has one.
fn decode(body: &[u8]) -> Result<Message, (Id, Error)> {
    if let Ok(request) = serde_json::from_slice::<Request>(body)
        && !request.method().is_empty()
    {
        return Ok(Message::Request(request));
    }
    if let Ok(response) = serde_json::from_slice(body) {
        return Ok(Message::Response(response));
    }
    if serde_json::from_slice::<IgnoredAny>(body).is_err() {
        return Err((Id::Null, Error::parse_error()));
    }
    let id = serde_json::from_slice::<Named>(body).ok().and_then(|named| named.id);
    Err((id.unwrap_or(Id::Null), Error::invalid_request()))
}

/// What is said to who asks too much at once.
pub fn too_many() -> Error {
    let message = "too many requests are under way".into();
    Error { code: ErrorCode::ServerError(REQUEST_FAILED), message, data: None }
}

fn refuse(outbox: &Outbox, id: Id, error: Error, log: &Log) {
    log.note(Level::Warning, &format!("not understood: {error}"));
    outbox.send(&Response::from_error(id, error));
}

/// Sends what came of a request. If that is nothing, for a fault in the program itself, the reply says so.
fn finish(outcome: Result<Outcome, Box<dyn Any + Send>>, reply: Option<Reply>, call: Call) {
    // What is noted of it is there once the client has its reply.
    drop(call);
    match (outcome, reply) {
        (Ok(Ok(Some(response))), Some(reply)) => reply.send(&response),
        (_, reply) => drop(reply),
    }
}

#[cfg(test)]
mod tests {
    use super::super::output::written::Written;
    use super::super::trace::Trace;
    use super::*;
    use serde_json::{Value, json};
    use std::sync::{Mutex, PoisonError};
    use tower_lsp::jsonrpc::Result;
    use tower_lsp::ls_types::{
        CompletionParams, CompletionResponse, DidChangeConfigurationParams, Hover, HoverParams,
        InitializeParams, InitializeResult,
    };

    /// A server of faulty handlers.
    #[derive(Default)]
    struct Faulty {
        heard: Arc<Mutex<Vec<u64>>>,
    }

    impl LanguageServer for Faulty {
        async fn initialize(&self, _: InitializeParams) -> Result<InitializeResult> {
            Ok(InitializeResult::default())
        }

        async fn shutdown(&self) -> Result<()> {
            Ok(())
        }

        /// Fails at once.
        async fn hover(&self, _: HoverParams) -> Result<Option<Hover>> {
            panic!("a fault that was put here")
        }

        /// Fails later.
        async fn completion(&self, _: CompletionParams) -> Result<Option<CompletionResponse>> {
            tokio::task::yield_now().await;
            panic!("a fault that was put here")
        }

        /// Takes the longer, the earlier it came: what is not in order shows.
        async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
            let number = params.settings.as_u64().unwrap_or_default();
            for _ in 0..50_u64.saturating_sub(number) {
                tokio::task::yield_now().await;
            }
            self.heard.lock().unwrap_or_else(PoisonError::into_inner).push(number);
        }
    }

    /// The messages that come of those that are sent, by their ids, and the numbers that were heard.
    fn session(sent: &[Value]) -> (Ending, Vec<Value>, Vec<u64>) {
        let mut all =
            vec![json!({"jsonrpc": "2.0", "id": 0, "method": "initialize", "params": {"capabilities": {}}})];
        all.extend_from_slice(sent);
        let wire = |message: &Value| {
            let body = message.to_string();
            format!("Content-Length: {}\r\n\r\n{body}", body.len())
        };
        let input: String = all.iter().map(wire).collect();
        let written = Written::default();
        let later = Later::default();
        let outbox = Outbox::new(written.clone(), || {});
        let server = Faulty::default();
        let heard = Arc::clone(&server.heard);
        let service = LspService::new(|_| server);
        let observer = Observer { log: Log::none(), trace: Trace::new(outbox.clone()) };
        let session = Session { outbox: &outbox, aside: None, later: &later, observer };
        let ending = run(input.as_bytes(), service, &session).unwrap();
        later.wait();
        later.end();
        outbox.close();
        let mut answers = written.messages();
        answers.sort_by_key(|answer: &Value| answer["id"].as_i64());
        let heard = heard.lock().unwrap().clone();
        (ending, answers, heard)
    }

    #[test]
    fn a_fault_in_a_handler_costs_one_answer() {
        let place = json!({"textDocument": {"uri": "untitled:a"}, "position": {"line": 0, "character": 0}});
        let ask =
            |id: u64, method: &str| json!({"jsonrpc": "2.0", "id": id, "method": method, "params": place});
        let (ending, answers, _) = session(&[
            ask(1, "textDocument/hover"),
            ask(2, "textDocument/completion"),
            ask(3, "textDocument/hover"),
            json!({"jsonrpc": "2.0", "id": 4, "method": "shutdown"}),
        ]);
        assert_eq!(ending, Ending::Orderly);
        let codes: Vec<Option<i64>> = answers.iter().map(|answer| answer["error"]["code"].as_i64()).collect();
        let internal = Some(-32603); // JSON-RPC 2.0, section 5.1
        assert_eq!(codes, [None, internal, internal, internal, None], "{answers:?}");
    }

    #[test]
    fn notifications_are_heeded_in_order_however_long_each_takes() {
        let sent: Vec<Value> = (0..500)
            .map(|number| {
                let params = json!({"settings": number});
                json!({"jsonrpc": "2.0", "method": "workspace/didChangeConfiguration", "params": params})
            })
            .collect();
        let (ending, _, heard) = session(&sent);
        assert_eq!(heard, (0..500).collect::<Vec<u64>>());
        assert_eq!(ending, Ending::Abrupt, "it ends without a word");
    }
}
