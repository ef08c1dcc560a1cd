//! The findings of all files and texts for a client that asks for them. As long as nothing is new its request stays open, and
//! is answered when something is; where it takes parts of the answer, it has each as soon as it is known.

use super::errand::Errand;
use super::findings::{Items, Kind, OfFile, listed};
use super::outbox::Message;
use super::pull::{given_up, kind_of};
use super::reply::Reply;
use super::state::State;
use super::uris::{file_of, place_of};
use std::collections::{BTreeMap, BTreeSet};
use tower_lsp::jsonrpc::Error;
use tower_lsp::ls_types::{Uri, WorkspaceDiagnosticParams};

/// So many files are told of in one part of an answer.
const AT_ONCE: usize = 64;

/// A client that waits for the findings of all.
pub struct WaitingForAll {
    /// It has nothing yet: then no news are news.
    first: bool,
    /// What it has of each.
    previous: BTreeMap<Uri, String>,
    /// Which it was told of meanwhile.
    told: BTreeSet<Uri>,
    errand: Errand,
    /// What it waits for.
    pub reply: Reply,
}

/// An answer, or a part of it.
struct Part<'a> {
    items: &'a [OfFile<'a>],
}

impl Message for Part<'_> {
    fn write(&self, to: &mut Vec<u8>) {
        to.extend_from_slice(b"{\"items\":[");
        listed(self.items, to, OfFile::write);
        to.extend_from_slice(b"]}");
    }
}

impl WaitingForAll {
    /// The reply alone: how far the work is, is told no more.
    pub fn into_reply(self) -> Reply {
        self.reply
    }
}

impl State {
    /// Answers who asks for the findings of all files and texts, when they are known and something in them is new.
    pub fn pull_all(&mut self, params: WorkspaceDiagnosticParams, errand: Errand, reply: Reply) {
        self.is_asked();
        let previous = params.previous_result_ids.into_iter().map(|it| (it.uri, it.value)).collect();
        let previous = self.by_our_names(previous);
        let (first, told) = (previous.is_empty(), BTreeSet::new());
        let waiting = WaitingForAll { first, previous, told, errand, reply };
        if let Some(older) = self.pulls.waiting_for_all.replace(waiting) {
            older.into_reply().refuse(given_up());
        }
        self.want_all();
    }

    /// What a client has of each, by the names that the server gives: a client may spell them otherwise.
    fn by_our_names(&self, previous: BTreeMap<Uri, String>) -> BTreeMap<Uri, String> {
        let closed: BTreeSet<&Uri> = self.closed_files().map(|(_, file)| &file.uri).collect();
        let file_at = |uri: &Uri| Some(self.folders.file(&place_of(&file_of(uri)?))?.uri.clone());
        let ours = |uri: Uri| {
            let is_ours = self.documents.contains_key(&uri) || closed.contains(&uri);
            let other = if is_ours { None } else { self.known_as(&uri).or_else(|| file_at(&uri)) };
            other.unwrap_or(uri)
        };
        previous.into_iter().map(|(uri, id)| (ours(uri), id)).collect()
    }

    /// Gives who waits for the findings of all what is known by now, and ends that once all is known and something was new.
    pub(super) fn settle_all(&mut self) {
        let Some(mut waiting) = self.pulls.waiting_for_all.take() else { return };
        if waiting.errand.is_called_off() {
            waiting.into_reply().refuse(Error::request_cancelled());
            return;
        }
        if waiting.errand.takes_parts() {
            self.give_parts(&mut waiting);
        }
        let is_done = self.folders.is_settled() && !self.has_job();
        if !is_done {
            let (known, all) = self.known_of_closed();
            waiting.errand.at(known, Some(all));
        }
        let WaitingForAll { first, previous, told, errand, reply } = waiting;
        let news = is_done.then(|| self.news(first, &previous, &told)).flatten();
        if let Some(mut items) = news {
            // Who was given parts is given the rest as parts, too.
            if !told.is_empty() {
                items.chunks(AT_ONCE).for_each(|items| errand.part_at_once(&Part { items }));
                items.clear();
            }
            drop(errand);
            reply.give(&Part { items: &items });
        } else {
            self.pulls.waiting_for_all = Some(WaitingForAll { first, previous, told, errand, reply });
        }
    }

    /// Gives what has changed of what the client has.
    fn give_parts(&self, waiting: &mut WaitingForAll) {
        let changed = self.all_kinds(&waiting.previous, false);
        let changed: Vec<OfFile> = changed.filter(|it| matches!(it.kind, Kind::Full { .. })).collect();
        let mut given = Vec::new();
        for part in changed.chunks(AT_ONCE).take_while(|_| waiting.errand.takes_parts()) {
            waiting.errand.part_at_once(&Part { items: part });
            given.extend(part.iter().filter_map(|OfFile { uri, kind, .. }| match kind {
                Kind::Full { result_id: Some(id), .. } => Some(((*uri).clone(), id.clone())),
                _ => None,
            }));
        }
        drop(changed);
        waiting.told.extend(given.iter().map(|(uri, _)| uri.clone()));
        waiting.previous.extend(given);
    }

    /// What the client was not told of yet, if something was new in this or in the parts that it was given.
    fn news<'a>(
        &'a self,
        first: bool,
        previous: &'a BTreeMap<Uri, String>,
        told: &BTreeSet<Uri>,
    ) -> Option<Vec<OfFile<'a>>> {
        let mut items: Vec<OfFile> = self.all_kinds(previous, true).collect();
        let there: BTreeSet<&Uri> = items.iter().map(|it| it.uri).collect();
        let gone = previous.keys().filter(|uri| !there.contains(uri));
        let nothing = |uri| Kind::Full { result_id: None, items: Items(uri, Vec::new()) };
        let gone: Vec<OfFile> = gone.map(|uri| OfFile { uri, version: None, kind: nothing(uri) }).collect();
        items.extend(gone);
        let is_new = |it: &OfFile| matches!(it.kind, Kind::Full { .. });
        if !(first || !told.is_empty() || items.iter().any(is_new)) {
            return None;
        }
        items.retain(|it| is_new(it) || !told.contains(it.uri));
        Some(items)
    }

    /// What is so in each open text and in each file of the client's folders of which all is known; `any_open`: and in the
    /// open texts in any case.
    fn all_kinds<'a>(
        &'a self,
        previous: &'a BTreeMap<Uri, String>,
        any_open: bool,
    ) -> impl Iterator<Item = OfFile<'a>> {
        let spoil = self.settings.spoil();
        let open = self.documents.values().filter(move |document| any_open || document.is_known());
        let open = open.map(move |document| OfFile {
            uri: &document.uri,
            version: Some(document.version),
            kind: kind_of(document, previous.get(&document.uri), spoil),
        });
        let closed = self.closed_files().filter(|(place, _)| self.folders.works_in(place));
        let closed = closed.filter_map(|(_, file)| {
            let kind = self.kind_of_closed(file, previous.get(&file.uri))?;
            Some(OfFile { uri: &file.uri, version: None, kind })
        });
        open.chain(closed)
    }

    /// Of how many files that are not open all sections were looked at, and how many there are.
    fn known_of_closed(&self) -> (usize, usize) {
        let looked_at = self.folders.files().filter(|(_, file)| file.is_looked_at());
        (looked_at.count(), self.folders.files().count())
    }
}
