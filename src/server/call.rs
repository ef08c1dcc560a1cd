//! A message from the client that is being worked off: how long that takes is noted, and told where that is wanted.

use super::log::{Level, Log};
use super::trace::Trace;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tower_lsp::jsonrpc::{Id, Request};

/// What takes as long as this is noted in any case: it can be felt.
const SLOW: Duration = Duration::from_millis(100);

/// Who sees how messages are worked off. A clone is the same.
#[derive(Clone)]
pub struct Observer {
    /// For whoever looks for a fault.
    pub log: Log,
    /// For the client.
    pub trace: Trace,
}

/// A message that is being worked off, until this is dropped.
pub struct Call {
    /// Its method.
    pub method: Arc<str>,
    observed: Option<Observed>,
}

struct Observed {
    by: Observer,
    id: Option<Id>,
    /// The text that it is about.
    about: String,
    begun: Instant,
}

impl Observer {
    /// A message that comes.
    pub fn call(&self, request: &Request) -> Call {
        self.trace.heed(request);
        let is_observed = self.log.notes(Level::Warning) || self.trace.is_on();
        let observed = is_observed.then(|| {
            let text = request.params().and_then(|params| params.get("textDocument")?.get("uri")?.as_str());
            let (id, about) = (request.id().cloned(), text.unwrap_or("no text").to_owned());
            Observed { by: self.clone(), id, about, begun: Instant::now() }
        });
        Call { method: request.method().into(), observed }
    }
}

impl Drop for Call {
    fn drop(&mut self) {
        let Some(Observed { by, id, about, begun }) = &self.observed else { return };
        let took = begun.elapsed();
        let method = &self.method;
        let is_slow = took >= SLOW;
        let level = if is_slow { Level::Warning } else { Level::Debug };
        if by.log.notes(level) {
            let slow = if is_slow { "slow: " } else { "" };
            by.log.note(level, &format!("{slow}{method} took {took:.1?}, {about}"));
        }
        if by.trace.is_on() {
            let number =
                id.as_ref().map_or_else(|| "a notification".to_owned(), |id| format!("request {id}"));
            by.trace.tell(&format!("{method} took {took:.1?}"), &format!("{number}, {about}"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::outbox::Outbox;
    use super::super::output::written::Written;
    use super::*;
    use serde_json::json;

    #[test]
    fn what_can_be_felt_is_noted_with_its_text() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("log");
        let log = Log::to(&file, Level::Warning).unwrap();
        let trace = Trace::new(Outbox::new(Written::default(), || {}));
        let observer = Observer { log, trace };
        let hover = Request::build("textDocument/hover").id(1);
        let hover = hover.params(json!({"textDocument": {"uri": "file:///a.gset"}})).finish();
        drop(observer.call(&hover));
        let mut slow = observer.call(&hover);
        slow.observed.as_mut().unwrap().begun -= SLOW * 2;
        drop(slow);
        let noted = std::fs::read_to_string(&file).unwrap();
        let noted = noted.split_once("  slow: ").unwrap().1;
        assert!(noted.starts_with("textDocument/hover took 200"), "{noted}");
        assert!(noted.ends_with(", file:///a.gset\n") && noted.lines().count() == 1, "{noted}");
    }
}
