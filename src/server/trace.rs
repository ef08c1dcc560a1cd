//! What a client is told of the work itself, if it wants to be told: `$/setTrace` says how much.

use super::outbox::Outbox;
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;
use std::sync::atomic::{AtomicU8, Ordering};
use tower_lsp::jsonrpc::Request;
use tower_lsp::ls_types::TraceValue;

/// Tells the client. A clone is the same.
#[derive(Clone)]
pub struct Trace {
    outbox: Outbox,
    much: Arc<AtomicU8>,
}

impl Trace {
    /// Tells nothing until that is wanted.
    pub fn new(outbox: Outbox) -> Trace {
        Trace { outbox, much: Arc::default() }
    }

    /// Whether the client wants to be told.
    pub fn is_on(&self) -> bool {
        self.much.load(Ordering::Relaxed) > 0
    }

    /// Takes up how much the client wants to be told, from the greeting or from a message of its own.
    pub fn heed(&self, request: &Request) {
        let field = match request.method() {
            "initialize" => "trace",
            "$/setTrace" => "value",
            _ => return,
        };
        let said = request.params().and_then(|params| params.get(field));
        if let Some(Ok(said)) = said.map(TraceValue::deserialize) {
            let much = match said {
                TraceValue::Off => 0,
                TraceValue::Messages => 1,
                TraceValue::Verbose => 2,
            };
            self.much.store(much, Ordering::Relaxed);
        }
    }

    /// Tells a happening, and more of it to who wants to know more.
    pub fn tell(&self, message: &str, more: &str) {
        let params = match self.much.load(Ordering::Relaxed) {
            0 => return,
            1 => json!({"message": message}),
            _ => json!({"message": message, "verbose": more}),
        };
        self.outbox.send(&Request::build("$/logTrace").params(params).finish());
    }
}
