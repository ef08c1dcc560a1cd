//! The loop between the wire and the service.
//!
//! Messages are taken one by one, in order. A notification is worked off to its end before the next message is looked at,
//! so that no edit is overtaken. A request is begun at once, so that it sees the texts as they were when it was sent, and
//! goes on by itself if it takes longer. Each gets one reply, whatever becomes of it.

use super::frame::{Frame, Frames};
use super::log::Log;
use super::outbox::Outbox;
use futures::sink::SinkExt;
use futures::{FutureExt, StreamExt};
use serde::Deserialize;
use std::any::Any;
use std::future::Future;
use std::io::Read;
use std::panic::AssertUnwindSafe;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, Waker};
use tokio::runtime::Handle;
use tower::Service;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};
use tower_lsp::{ClientSocket, ExitedError, LanguageServer, LspService};

/// So many requests may be under way; what comes beyond is refused.
const MOST_REQUESTS: usize = 256;

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

/// Serves the client until it takes its leave or is lost. `later` runs what is not done at once.
pub fn run<S: LanguageServer>(
    input: impl Read,
    outbox: &Outbox,
    (mut service, socket): (LspService<S>, ClientSocket),
    later: &Handle,
    log: &Log,
) -> Ending {
    let (mut asked, mut answers) = socket.split();
    let questions = outbox.clone();
    later.spawn(async move {
        while let Some(question) = asked.next().await {
            questions.send(&question);
        }
    });

    let mut frames = Frames::new(input);
    let under_way = Arc::new(());
    let mut shut_down = false;
    loop {
        let ending = if shut_down { Ending::Orderly } else { Ending::Abrupt };
        let body = match frames.next() {
            _ if outbox.is_lost() => return Ending::Abrupt,
            Ok(Frame::Body(body)) => body,
            Ok(Frame::Malformed(why)) => {
                refuse(outbox, Id::Null, Error { message: why.into(), ..Error::parse_error() }, log);
                continue;
            }
            Ok(Frame::End) | Err(_) => return ending,
        };
        let request = match decode(&body) {
            Ok(Message::Request(request)) => request,
            Ok(Message::Response(response)) => {
                // Only fails after `exit`.
                let _ = answers.send(response).now_or_never();
                continue;
            }
            Err((id, error)) => {
                refuse(outbox, id, error, log);
                continue;
            }
        };
        drop(body);
        if request.method() == "exit" {
            return ending;
        }
        let reply = request.id().map(|id| Reply::new(id.clone(), outbox));
        let method = request.method().to_owned();
        let mut work: Work = AssertUnwindSafe(service.call(request)).catch_unwind().boxed();
        match (work.as_mut().poll(&mut Context::from_waker(Waker::noop())), reply) {
            (Poll::Ready(outcome), reply) => {
                shut_down |= method == "shutdown" && matches!(&outcome, Ok(Ok(Some(it))) if it.is_ok());
                finish(outcome, reply, &method, log);
            }
            (Poll::Pending, None) => finish(futures::executor::block_on(work), None, &method, log),
            (Poll::Pending, Some(reply)) if Arc::strong_count(&under_way) > MOST_REQUESTS => {
                let message = "too many requests are under way".into();
                reply.refuse(Error { code: ErrorCode::ServerError(REQUEST_FAILED), message, data: None });
            }
            (Poll::Pending, Some(reply)) => {
                let (one_more, log) = (Arc::clone(&under_way), log.clone());
                later.spawn(async move {
                    finish(work.await, Some(reply), &method, &log);
                    drop(one_more);
                });
            }
        }
    }
}

/// A message from the client.
enum Message {
    /// A request or a notification.
    Request(Request),
    /// The answer to a question of ours.
    Response(Response),
}

/// Reads a message. What cannot be read gets a reply too, to its id where it has one.
fn decode(body: &[u8]) -> Result<Message, (Id, Error)> {
    match serde_json::from_slice::<Request>(body) {
        Ok(request) if !request.method().is_empty() => return Ok(Message::Request(request)),
        _ => {}
    }
    if let Ok(response) = serde_json::from_slice(body) {
        return Ok(Message::Response(response));
    }
    /// As much of a message as can be answered.
    #[derive(Deserialize)]
    struct Named {
        id: Option<Id>,
    }
    match serde_json::from_slice::<serde::de::IgnoredAny>(body) {
        Err(_) => Err((Id::Null, Error::parse_error())),
        Ok(_) => {
            let id = serde_json::from_slice::<Named>(body).ok().and_then(|named| named.id);
            Err((id.unwrap_or(Id::Null), Error::invalid_request()))
        }
    }
}

fn refuse(outbox: &Outbox, id: Id, error: Error, log: &Log) {
    log.line(&format!("not understood: {error}"));
    outbox.send(&Response::from_error(id, error));
}

/// Sends what came of a request. If that is nothing, for a fault in the program itself, the reply says so.
fn finish(outcome: Result<Outcome, Box<dyn Any + Send>>, reply: Option<Reply>, method: &str, log: &Log) {
    match (outcome, reply) {
        (Ok(Ok(Some(response))), Some(reply)) => reply.send(response),
        (Ok(_), reply) => drop(reply),
        (Err(_), reply) => {
            log.line(&format!("a fault in the program itself: {method} was given up"));
            drop(reply);
        }
    }
}

/// The one reply to a request: dropped unsent, it tells of a fault, so that nothing can keep a client waiting.
struct Reply {
    id: Option<Id>,
    outbox: Outbox,
}

impl Reply {
    fn new(id: Id, outbox: &Outbox) -> Reply {
        Reply { id: Some(id), outbox: outbox.clone() }
    }

    fn send(mut self, response: Response) {
        self.id = None;
        self.outbox.send(&response);
    }

    fn refuse(mut self, error: Error) {
        if let Some(id) = self.id.take() {
            self.outbox.send(&Response::from_error(id, error));
        }
    }
}

impl Drop for Reply {
    fn drop(&mut self) {
        if let Some(id) = self.id.take() {
            self.outbox.send(&Response::from_error(id, Error::internal_error()));
        }
    }
}
