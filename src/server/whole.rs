//! Questions about a whole text, whose answers are as long as that: each is worked out beside, keeps no keystroke waiting, and
//! is written out as it is.

use super::aside::asked;
use super::call::Call;
use super::fault::working_off;
use super::later::Later;
use super::outbox::Message;
use super::reply::Reply;
use super::state::Snapshot;
use super::tokens::{self, Told};
use super::transport::{MOST_REQUESTS, too_many};
use super::worker::Shared;
use super::{folding, inlay, lens, links, reasons, symbols};
use crate::study::while_wanted;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tower_lsp::jsonrpc::{Error, Id, Request};
use tower_lsp::ls_types::{
    CodeLensParams, DocumentLinkParams, DocumentSymbolParams, FoldingRangeParams, InlayHintParams,
    SemanticTokensDeltaParams, SemanticTokensParams, SemanticTokensRangeParams, TextDocumentIdentifier, Uri,
};

/// Answers them.
pub struct Whole {
    shared: Arc<Shared>,
    later: Later,
    under_way: UnderWay,
    told: Arc<Told>,
}

/// A question as it came.
struct Question<'a> {
    request: &'a Request,
    reply: &'a mut Option<Reply>,
    call: Call,
}

impl Whole {
    /// With the state of the service.
    pub fn new(shared: Arc<Shared>, later: Later) -> Whole {
        Whole { shared, later, under_way: UnderWay::default(), told: Arc::default() }
    }

    /// Takes a question, if it is one of these; otherwise gives the call back.
    pub fn take(&self, request: &Request, reply: &mut Option<Reply>, call: Call) -> Option<Call> {
        let question = Question { request, reply, call };
        match request.method() {
            "textDocument/codeLens" => {
                self.ask(question, |it: &CodeLensParams| &it.text_document, |text, _| lens::answer(text));
            }
            "textDocument/documentSymbol" => self.ask(
                question,
                |it: &DocumentSymbolParams| &it.text_document,
                |text, _| symbols::answer(text),
            ),
            "textDocument/foldingRange" => {
                self.ask(
                    question,
                    |it: &FoldingRangeParams| &it.text_document,
                    |text, _| folding::answer(text),
                );
            }
            "textDocument/documentLink" => {
                self.ask(
                    question,
                    |it: &DocumentLinkParams| &it.text_document,
                    |text, _| links::answer(text),
                );
            }
            "textDocument/inlayHint" => self.ask(
                question,
                |it: &InlayHintParams| &it.text_document,
                |text, it| [inlay::answer(text, it.range), reasons::answer(text, it.range)].concat(),
            ),
            "textDocument/semanticTokens/full" => {
                let told = Arc::clone(&self.told);
                self.ask_and(
                    question,
                    |it: &SemanticTokensParams| &it.text_document,
                    |text, _| tokens::answer(text, &(0..u32::MAX)),
                    move |tokens, it| told.all(&it.text_document.uri, tokens),
                );
            }
            "textDocument/semanticTokens/full/delta" => {
                let told = Arc::clone(&self.told);
                self.ask_and(
                    question,
                    |it: &SemanticTokensDeltaParams| &it.text_document,
                    |text, _| tokens::answer(text, &(0..u32::MAX)),
                    move |tokens, it| told.change(&it.text_document.uri, tokens, &it.previous_result_id),
                );
            }
            "textDocument/semanticTokens/range" => self.ask_and(
                question,
                |it: &SemanticTokensRangeParams| &it.text_document,
                |text, it| tokens::answer(text, &(it.range.start.line..it.range.end.line.saturating_add(1))),
                |tokens, _| tokens::part(tokens),
            ),
            _ => return Some(question.call),
        }
        None
    }

    /// Nobody waits for the answer to this request any more.
    pub fn cancel(&self, id: &Id) {
        self.under_way.cancel(id);
    }

    /// A text was closed.
    pub fn forget(&self, uri: &Uri) {
        self.told.forget(uri);
    }

    fn ask<P: DeserializeOwned + Send + 'static, T: Message + 'static>(
        &self,
        question: Question,
        text: fn(&P) -> &TextDocumentIdentifier,
        work: fn(&Snapshot, &P) -> T,
    ) {
        self.ask_and(question, text, work, |answer, _| answer);
    }

    /// Works out what there is to say of a text as it is now; `tell` makes of this what the client is told. If the text is
    /// another by then, the answer is not given: it would be about one that is no more.
    fn ask_and<P: DeserializeOwned + Send + 'static, T: 'static, M: Message>(
        &self,
        Question { request, reply, call }: Question,
        text: fn(&P) -> &TextDocumentIdentifier,
        work: fn(&Snapshot, &P) -> T,
        tell: impl FnOnce(T, &P) -> M + Send + 'static,
    ) {
        let Some((params, reply)) = asked::<P>(&self.shared, request, reply) else { return };
        let snapshot = self.shared.state().snapshot(&text(&params).uri);
        let Some(snapshot) = snapshot else { return reply.give(&Value::Null) };
        let Ok(later) = self.later.handle() else { return };
        let Some(mine) = self.under_way.begin(reply, snapshot.errand.sign()) else { return };
        let shared = Arc::clone(&self.shared);
        let work = move || {
            let (version, uri) = (snapshot.version, snapshot.uri.clone());
            let is_wanted = !snapshot.errand.is_called_off();
            let answer = is_wanted.then(|| while_wanted(snapshot.errand.sign(), || work(&snapshot, &params)));
            drop(snapshot);
            let is_same = shared.state().document(&uri).is_some_and(|now| now.version == version);
            let Some((answer, reply)) = answer.zip(mine.reply()) else { return };
            // What is noted of it is there once the client has its reply.
            drop(call);
            if is_same { reply.give(&tell(answer, &params)) } else { reply.refuse(Error::content_modified()) }
        };
        let method = Some(request.method().into());
        later.spawn_blocking(move || working_off(method, work));
    }
}

/// The questions that are being worked on. A clone has the same.
#[derive(Clone, Default)]
struct UnderWay(Arc<Mutex<Vec<Owed>>>);

/// The reply to a question, and what calls the question off.
type Owed = (Reply, Arc<AtomicBool>);

impl UnderWay {
    /// Takes a question up, which `sign` calls off; not if there are too many.
    fn begin(&self, reply: Reply, sign: &Arc<AtomicBool>) -> Option<Mine> {
        let mut all = self.all();
        if all.len() >= MOST_REQUESTS {
            drop(all);
            reply.refuse(too_many());
            return None;
        }
        all.push((reply, Arc::clone(sign)));
        Some(Mine { among: self.clone(), sign: Arc::clone(sign) })
    }

    fn cancel(&self, id: &Id) {
        let cancelled: Vec<_> = self.all().extract_if(.., |(reply, _)| reply.is_to(id)).collect();
        for (reply, sign) in cancelled {
            sign.store(true, Ordering::Relaxed);
            reply.refuse(Error::request_cancelled());
        }
    }

    fn all(&self) -> MutexGuard<'_, Vec<Owed>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// One of them. Dropped, it is not under way any more: without an answer, its reply tells of a fault.
struct Mine {
    among: UnderWay,
    sign: Arc<AtomicBool>,
}

impl Mine {
    /// Its reply; none if it was cancelled, which was told.
    fn reply(&self) -> Option<Reply> {
        let mut all = self.among.all();
        let at = all.iter().position(|(_, sign)| Arc::ptr_eq(sign, &self.sign))?;
        Some(all.swap_remove(at).0)
    }
}

impl Drop for Mine {
    fn drop(&mut self) {
        drop(self.reply());
    }
}

#[cfg(test)]
mod tests {
    use super::super::call::Observer;
    use super::super::errand::Errands;
    use super::super::log::Log;
    use super::super::outbox::Outbox;
    use super::super::output::written::Written;
    use super::super::state::State;
    use super::super::trace::Trace;
    use super::*;
    use crate::settings::Way;
    use serde_json::json;
    use std::str::FromStr;
    use std::thread;
    use tower_lsp::ls_types::{
        DidChangeTextDocumentParams, TextDocumentContentChangeEvent, TextDocumentItem,
        VersionedTextDocumentIdentifier,
    };

    /// A client that asks about one text.
    struct Client {
        whole: Whole,
        outbox: Outbox,
        written: Written,
    }

    type Work = fn(&Snapshot, &CodeLensParams) -> Value;

    impl Client {
        fn new() -> Client {
            let (written, later) = (Written::default(), Later::default());
            let outbox = Outbox::new(written.clone(), || {});
            let mut state = State::new(Way::Nothing, outbox.clone());
            state.open(TextDocumentItem::new(uri(), "gridsetter".into(), 0, "puzzle a\n".into()));
            let errands = Errands::new(outbox.clone());
            let shared = Shared::new(state, outbox.clone(), errands, later.clone(), Log::none());
            Client { whole: Whole::new(Arc::new(shared), later), outbox, written }
        }

        fn ask(&self, id: i64, work: Work) {
            let request = Request::build("textDocument/codeLens").id(id);
            let request = request.params(json!({"textDocument": {"uri": uri()}})).finish();
            let mut reply = Some(Reply::new(Id::Number(id), &self.outbox));
            let observer = Observer { log: Log::none(), trace: Trace::new(self.outbox.clone()) };
            let question = Question { request: &request, reply: &mut reply, call: observer.call(&request) };
            self.whole.ask(question, |it| &it.text_document, work);
        }

        /// The reply, once there is one.
        fn hears(&self, id: i64) -> Value {
            loop {
                if let Some(reply) = self.written.messages().into_iter().find(|it| it["id"] == json!(id)) {
                    return reply;
                }
                thread::yield_now();
            }
        }

        fn writes(&self) {
            let change =
                TextDocumentContentChangeEvent { range: None, range_length: None, text: "puzzle b\n".into() };
            let text_document = VersionedTextDocumentIdentifier { uri: uri(), version: 1 };
            let params = DidChangeTextDocumentParams { text_document, content_changes: vec![change] };
            self.whole.shared.change(true, |state| state.change(params));
        }
    }

    fn uri() -> Uri {
        Uri::from_str("untitled:a").unwrap()
    }

    fn until_called_off(text: &Snapshot, _: &CodeLensParams) -> Value {
        while !text.errand.is_called_off() {
            thread::yield_now();
        }
        json!("called off")
    }

    #[test]
    fn each_question_has_one_reply() {
        let client = Client::new();
        client.ask(1, |text, _| json!(text.version));
        assert_eq!(client.hears(1)["result"], json!(0));
        client.ask(2, |_, _| panic!("a fault that was put here"));
        assert_eq!(client.hears(2)["error"]["code"], json!(-32603)); // JSON-RPC 2.0, section 5.1
        client.ask(3, until_called_off);
        client.whole.cancel(&Id::Number(3));
        assert_eq!(client.hears(3)["error"]["code"], json!(-32800)); // LSP 3.17, `ErrorCodes`
        client.ask(4, |text, _| json!(text.version));
        assert_eq!(client.hears(4)["result"], json!(0));
        assert!(client.whole.under_way.all().is_empty());
        let replies = client.written.messages().into_iter().filter(|it| it["id"].is_number());
        assert_eq!(replies.count(), 4);
    }

    #[test]
    fn nothing_is_said_of_a_text_that_is_no_more() {
        static WRITTEN: AtomicBool = AtomicBool::new(false);
        let client = Client::new();
        client.ask(1, |_, _| {
            while !WRITTEN.load(Ordering::Relaxed) {
                thread::yield_now();
            }
            json!("of the first text")
        });
        client.writes();
        WRITTEN.store(true, Ordering::Relaxed);
        assert_eq!(client.hears(1)["error"]["code"], json!(-32801)); // LSP 3.17, `ErrorCodes`
    }

    #[test]
    fn who_asks_too_much_at_once_is_told_so() {
        let client = Client::new();
        let last = i64::try_from(MOST_REQUESTS).unwrap();
        (0..=last).for_each(|id| client.ask(id, until_called_off));
        assert_eq!(client.hears(last)["error"]["message"], json!(too_many().message));
        (0..last).for_each(|id| client.whole.cancel(&Id::Number(id)));
        assert_eq!(client.hears(0)["error"]["code"], json!(-32800)); // LSP 3.17, `ErrorCodes`
    }
}
