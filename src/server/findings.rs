//! Findings as they go over the wire: told to a client that is told of them, or given to one that asks. What of each is the
//! same as before is ready to be sent, for there may be thousands.

use super::outbox::{Message, put};
use super::shown::Shown;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hasher as _};
use tower_lsp::ls_types::Uri;

/// Findings of a text, each with the lines that stand before its section.
pub type List<'a> = Vec<(&'a Shown, u32)>;

/// The notification that tells what was found in a version of a text.
pub struct Publication<'a> {
    /// The version.
    pub version: i32,
    /// What was found in it.
    pub items: Items<'a>,
}

/// What a client that asks for the findings of a text is given.
pub struct Report<'a> {
    /// What is so in other texts by now, for a client that takes that.
    pub related: Option<BTreeMap<&'a Uri, Kind<'a>>>,
    /// What is so in the text.
    pub kind: Kind<'a>,
}

/// What is so in a text.
pub enum Kind<'a> {
    /// These are its findings.
    Full {
        /// What tells them from others.
        result_id: Option<String>,
        /// The findings.
        items: Items<'a>,
    },
    /// The client has its findings.
    Unchanged {
        /// What told them from others.
        result_id: String,
    },
}

/// What a client that asks for all findings is given of a text or file.
pub struct OfFile<'a> {
    /// Which.
    pub uri: &'a Uri,
    /// Its version, if it is open.
    pub version: Option<i32>,
    /// What is so in it.
    pub kind: Kind<'a>,
}

/// Findings of a text.
pub struct Items<'a>(pub &'a Uri, pub List<'a>);

/// Room for a finding but its message, and for a message that leads to it.
const ROOM: usize = 256;

/// What tells these findings of a text or file from others: nothing but 0 if there are none.
pub fn mark<'a>(found: impl IntoIterator<Item = &'a Shown>) -> u64 {
    let mut hash = None;
    for shown in found {
        hash.get_or_insert_with(DefaultHasher::new).write_u64(shown.sign);
    }
    hash.map_or(0, |hash| hash.finish().max(1))
}

impl Message for Publication<'_> {
    fn write(&self, to: &mut Vec<u8>) {
        put(
            to,
            r#"{"jsonrpc":"2.0","method":"textDocument/publishDiagnostics","params":{"uri":"#,
            &self.items.0,
        );
        put(to, r#","version":"#, &self.version);
        put(to, r#","diagnostics":"#, &self.items);
        to.extend_from_slice(b"}}");
    }
}

impl Message for Report<'_> {
    fn write(&self, to: &mut Vec<u8>) {
        to.push(b'{');
        if let Some(related) = &self.related {
            to.extend_from_slice(b"\"relatedDocuments\":{");
            listed(related, to, |(uri, kind), to| {
                uri.write(to);
                to.extend_from_slice(b":{");
                kind.write(to);
                to.push(b'}');
            });
            to.extend_from_slice(b"},");
        }
        self.kind.write(to);
        to.push(b'}');
    }
}

impl Kind<'_> {
    /// Writes it out without its braces.
    fn write(&self, to: &mut Vec<u8>) {
        let id = |id: &str, to: &mut Vec<u8>| {
            put(to, r#","resultId":"#, id);
        };
        match self {
            Kind::Full { result_id, items } => {
                to.extend_from_slice(b"\"kind\":\"full\"");
                if let Some(result_id) = result_id {
                    id(result_id, to);
                }
                put(to, r#","items":"#, items);
            }
            Kind::Unchanged { result_id } => {
                to.extend_from_slice(b"\"kind\":\"unchanged\"");
                id(result_id, to);
            }
        }
    }
}

impl Message for OfFile<'_> {
    fn write(&self, to: &mut Vec<u8>) {
        put(to, r#"{"uri":"#, &self.uri);
        put(to, r#","version":"#, &self.version);
        to.push(b',');
        self.kind.write(to);
        to.push(b'}');
    }
}

impl Message for Items<'_> {
    fn write(&self, to: &mut Vec<u8>) {
        to.reserve(self.1.iter().map(|(shown, _)| shown.message.len() + ROOM).sum());
        to.push(b'[');
        listed(&self.1, to, |(shown, lines), to| shown.write(self.0, *lines, to));
        to.push(b']');
    }
}

/// Writes out things with commas between them.
pub fn listed<T>(all: impl IntoIterator<Item = T>, to: &mut Vec<u8>, write: impl Fn(T, &mut Vec<u8>)) {
    for (at, one) in all.into_iter().enumerate() {
        if at > 0 {
            to.push(b',');
        }
        write(one, to);
    }
}
