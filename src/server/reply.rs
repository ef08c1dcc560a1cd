//! The one reply to a request.

use super::outbox::{Message, Outbox, put};
use tower_lsp::jsonrpc::{Error, Id, Response};

/// The one reply to a request: dropped unsent, it tells of a fault, so that nothing can keep a client waiting.
pub struct Reply {
    id: Option<Id>,
    outbox: Outbox,
}

/// An answer that is written out as it is.
struct Answer<'a, T> {
    id: &'a Id,
    result: &'a T,
}

impl<T: Message> Message for Answer<'_, T> {
    fn write(&self, to: &mut Vec<u8>) {
        put(to, r#"{"jsonrpc":"2.0","id":"#, self.id);
        put(to, r#","result":"#, self.result);
        to.push(b'}');
    }
}

impl Reply {
    /// The reply to the request of this id.
    pub fn new(id: Id, outbox: &Outbox) -> Reply {
        Reply { id: Some(id), outbox: outbox.clone() }
    }

    /// Whether it answers this request.
    pub fn is_to(&self, id: &Id) -> bool {
        self.id.as_ref() == Some(id)
    }

    /// Sends what came of the request.
    pub fn send(mut self, response: &Response) {
        self.id = None;
        self.outbox.send(response);
    }

    /// Sends what was asked for. It does not wait for a client that does not read: as much as that may come to, nothing is
    /// sent but for the asking.
    pub fn give(mut self, result: &impl Message) {
        if let Some(id) = self.id.take() {
            self.outbox.send_at_once(&Answer { id: &id, result });
        }
    }

    /// Says why there is no answer.
    pub fn refuse(mut self, error: Error) {
        if let Some(id) = self.id.take() {
            self.outbox.send_at_once(&Response::from_error(id, error));
        }
    }
}

impl Drop for Reply {
    fn drop(&mut self) {
        if let Some(id) = self.id.take() {
            // Whoever drops it may hold the state.
            self.outbox.send_at_once(&Response::from_error(id, Error::internal_error()));
        }
    }
}
