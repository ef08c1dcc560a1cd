//! Findings for a client that asks for them, of a text or of all. What is known is given at once, and the client is asked to
//! ask again when there is more; one that cannot be asked gets its answer when all is known. Each answer has an id that tells
//! what is shown from anything else: who has that already is given nothing again.

use super::document::{Document, chosen};
use super::findings::{Items, Kind, List, Publication, Report};
use super::folders::Closed;
use super::outbox::Outbox;
use super::pull_all::WaitingForAll;
use super::reply::Reply;
use super::state::State;
use super::uris::{file_of, is_same, place_of};
use serde_json::json;
use std::collections::BTreeMap;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request};
use tower_lsp::ls_types::{DocumentDiagnosticParams, Uri};

/// The protocol's code for a request that the server gives up.
const SERVER_CANCELLED: i64 = -32802;

/// What our questions to ask again are called, with a number each.
const REFRESH: &str = "gridsetter/again/";

/// Who asks for what.
#[allow(clippy::struct_excessive_bools, reason = "each is a state of its own")]
#[derive(Default)]
pub struct Pulls {
    /// The client is not told of findings: it does ask, or may be about to.
    pub on: bool,
    /// It has asked.
    has_asked: bool,
    /// It is being waited for.
    is_awaited: bool,
    /// The client has asked for the findings of all files: they are looked at too.
    pub wants_all: bool,
    /// How often it was asked to ask again, and whether it has not answered.
    asked_again: (u64, bool),
    /// Something was found in a file that is not open since it was asked to ask again.
    news_of_closed: bool,
    waiting: Vec<Waiting>,
    pub(super) waiting_for_all: Option<WaitingForAll>,
}

/// A client that waits for the findings of a text or file.
struct Waiting {
    uri: Uri,
    previous: Option<String>,
    reply: Reply,
}

impl Pulls {
    /// Tells the client what was found in a text, if it is to be told.
    pub fn tell(&self, document: &Document, spoil: bool, outbox: &Outbox) {
        if !self.on {
            publish(document, document.shown(spoil), outbox);
        }
    }

    /// Tells the client that nothing is shown of a text any more, if it is to be told.
    pub fn forget(&self, document: &Document, outbox: &Outbox) {
        if !self.on {
            publish(document, Vec::new(), outbox);
        }
    }

    /// Whether it is to be waited for a client that says that it asks, and has not; only the first time.
    pub fn awaits(&mut self) -> bool {
        self.on && !self.has_asked && !std::mem::replace(&mut self.is_awaited, true)
    }

    /// Whether the findings of a text are waited for.
    pub fn is_waited_for(&self) -> bool {
        !self.waiting.is_empty()
    }

    /// What is waited for under another spelling of this name has this name from now on.
    pub fn is_called(&mut self, uri: &Uri) {
        for waiting in self.waiting.iter_mut().filter(|it| is_same(&it.uri, uri)) {
            waiting.uri = uri.clone();
        }
    }

    /// Nobody waits for the answer to this request any more.
    pub fn cancel(&mut self, id: &Id) {
        let waiting = self.waiting.extract_if(.., |it| it.reply.is_to(id)).map(|it| it.reply);
        let all = self.waiting_for_all.take_if(|it| it.reply.is_to(id)).map(WaitingForAll::into_reply);
        waiting.chain(all).for_each(|reply| reply.refuse(Error::request_cancelled()));
    }

    /// Nothing more will be found.
    pub fn end(&mut self) {
        let all = self.waiting_for_all.take().map(WaitingForAll::into_reply);
        for reply in self.waiting.drain(..).map(|it| it.reply).chain(all) {
            reply.refuse(given_up());
        }
    }

    /// The client was heard on our question to ask again; tells whether that was the question.
    pub fn heard(&mut self, question: &str) -> bool {
        let ours = question.starts_with(REFRESH);
        self.asked_again.1 &= !ours;
        ours
    }
}

fn publish(document: &Document, shown: List, outbox: &Outbox) {
    let uri = &document.uri;
    let items = Items(uri, shown);
    outbox.send_newest(uri.as_str(), &Publication { version: document.version, items });
}

/// What is said to who asked for the same again, and at the end.
pub fn given_up() -> Error {
    let data = Some(json!({"retriggerRequest": false}));
    Error { code: ErrorCode::ServerError(SERVER_CANCELLED), message: "it was given up".into(), data }
}

impl State {
    /// A client that says that it asks for findings has had time to: if it has not, it is told of them.
    pub fn push_to_who_does_not_ask(&mut self) {
        if self.pulls.on && !self.pulls.has_asked {
            self.pulls.on = false;
            self.publish_all();
        }
    }

    /// The client asks: what it was told of until now is not to be shown twice.
    pub(super) fn is_asked(&mut self) {
        if !self.pulls.has_asked && self.settings.can.ask_for_findings && !self.pulls.on {
            self.documents.values().for_each(|document| self.pulls.forget(document, &self.outbox));
            self.pulls.on = true;
        }
        self.pulls.has_asked = true;
    }

    /// Answers who asks for the findings of a text, at once or when they are known.
    pub fn pull(&mut self, params: DocumentDiagnosticParams, reply: Reply) {
        self.is_asked();
        let uri = params.text_document.uri;
        let uri = self.known_as(&uri).unwrap_or(uri);
        let waiting = Waiting { uri, previous: params.previous_result_id, reply };
        let is_open = self.documents.contains_key(&waiting.uri);
        if self.is_known(&waiting.uri) || (is_open && self.settings.can.refresh_findings) {
            self.give(waiting);
            return;
        }
        if !is_open {
            self.want_all();
        }
        for older in self.pulls.waiting.extract_if(.., |it| it.uri == waiting.uri) {
            older.reply.refuse(given_up());
        }
        self.pulls.waiting.push(waiting);
    }

    /// From now on the files that are not open are looked at too.
    pub(super) fn want_all(&mut self) {
        if !self.pulls.wants_all {
            self.pulls.wants_all = true;
            self.read_settings_of_closed();
        }
    }

    /// Answers those who wait for what is known by now, and has the client ask again where it has what is no more so.
    pub fn settle(&mut self) {
        let waiting = std::mem::take(&mut self.pulls.waiting);
        let (known, unknown): (Vec<_>, Vec<_>) = waiting.into_iter().partition(|it| self.is_known(&it.uri));
        self.pulls.waiting = unknown;
        for waiting in known {
            self.give(waiting);
        }
        self.settle_all();
        let news = self.pulls.news_of_closed || self.documents.values().any(Document::is_outdated);
        if news && self.settings.can.refresh_findings && !self.pulls.asked_again.1 {
            let number = self.pulls.asked_again.0 + 1;
            (self.pulls.asked_again, self.pulls.news_of_closed) = ((number, true), false);
            // They are asked for again, or not wanted any more.
            self.documents.values_mut().for_each(|document| document.given = None);
            let again = Request::build("workspace/diagnostic/refresh").id(format!("{REFRESH}{number}"));
            self.outbox.send_at_once(&again.finish());
        }
    }

    /// Something new was found in a file that is not open.
    pub(super) fn found_in_closed(&mut self) {
        self.pulls.news_of_closed |= self.pulls.wants_all && self.pulls.waiting_for_all.is_none();
    }

    /// Whether all is known of a text or file, or nothing ever will be.
    fn is_known(&self, uri: &Uri) -> bool {
        let given_up = self.folders.is_given_up();
        if let Some(document) = self.documents.get(uri) {
            return document.is_looked_at() && (document.beyond.is_some() || given_up);
        }
        let place = file_of(uri).map(|path| place_of(&path)).filter(|place| self.folders.works_in(place));
        let Some(place) = place else { return true };
        match self.folders.file(&place) {
            Some(file) => given_up || file.found.as_ref().is_some_and(|(stamp, _)| *stamp == self.stamp),
            None => self.folders.is_settled(),
        }
    }

    fn give(&mut self, waiting: Waiting) {
        let Waiting { uri, previous, reply } = waiting;
        let spoil = self.settings.spoil();
        let Some(document) = self.documents.get(&uri) else {
            let place = file_of(&uri).map(|path| place_of(&path));
            let file = place.and_then(|place| self.folders.file(&place));
            let kind = file.and_then(|file| self.kind_of_closed(file, previous.as_ref()));
            let kind = kind.unwrap_or(Kind::Full { result_id: None, items: Items(&uri, Vec::new()) });
            reply.give(&Report { related: None, kind });
            return;
        };
        let mut given = vec![(uri.clone(), document.edition_for(previous.as_ref()).0)];
        let related = self.settings.can.take_related.then(|| {
            let others = self.together_with(document).0.skip(1).filter(|other| other.is_outdated());
            let others = others.map(|other| {
                given.push((other.uri.clone(), other.edition_for(None).0));
                (&other.uri, kind_of(other, None, spoil))
            });
            others.collect::<BTreeMap<_, _>>()
        });
        let related = related.filter(|related| !related.is_empty());
        reply.give(&Report { related, kind: kind_of(document, previous.as_ref(), spoil) });
        for (uri, edition) in given {
            if let Some(document) = self.documents.get_mut(&uri) {
                document.given = Some(edition);
            }
        }
    }

    /// What is so in a file that is not open, once that is known.
    pub(super) fn kind_of_closed<'a>(&self, file: &'a Closed, previous: Option<&String>) -> Option<Kind<'a>> {
        let (_, shown) = file.found.as_ref().filter(|(stamp, _)| *stamp == self.stamp)?;
        // It tells of what is found and of nothing else: two states in which the same is found have the same.
        let result_id = format!("closed-{:x}", file.mark);
        Some(if previous == Some(&result_id) {
            Kind::Unchanged { result_id }
        } else {
            let shown = shown.iter().map(|shown| (shown, 0));
            let list = chosen(shown, &file.settings, self.settings.spoil());
            Kind::Full { result_id: Some(result_id), items: Items(&file.uri, list) }
        })
    }
}

/// What is so in an open text, for who has `previous` of it.
pub fn kind_of<'a>(document: &'a Document, previous: Option<&String>, spoil: bool) -> Kind<'a> {
    let (_, result_id) = document.edition_for(previous);
    if previous == Some(&result_id) {
        Kind::Unchanged { result_id }
    } else {
        Kind::Full { result_id: Some(result_id), items: Items(&document.uri, document.shown(spoil)) }
    }
}
