//! Which files the client is asked to watch.

use super::state::State;
use super::uris::{place_of, uri_of};
use crate::settings::FILE_NAME;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use tower_lsp::Client;
use tower_lsp::ls_types::{Registration, Unregistration};

/// What the registration is called.
const ID: &str = "files";

/// The method that is registered for.
const METHOD: &str = "workspace/didChangeWatchedFiles";

/// Asks a client to watch files.
pub struct Watching {
    client: Client,
    /// What it was asked for last.
    asked: Mutex<Option<Value>>,
}

impl Watching {
    /// Nothing is watched yet.
    pub fn new(client: Client) -> Watching {
        Watching { client, asked: Mutex::default() }
    }

    /// Asks for what is to be watched by now, if that is not watched already.
    pub fn ask(&self, state: &State) -> Option<impl Future<Output = ()> + Send + 'static> {
        let watchers = watchers(state);
        let mut asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        if asked.as_ref() == Some(&watchers) {
            return None;
        }
        let before = asked.replace(watchers.clone()).is_some();
        let client = self.client.clone();
        // A client that refuses tells of files that are saved, and of no others.
        Some(async move {
            if before {
                let old = Unregistration { id: ID.to_owned(), method: METHOD.to_owned() };
                let _ = client.unregister_capability(vec![old]).await;
            }
            let options = Some(json!({"watchers": watchers}));
            let new =
                Registration { id: ID.to_owned(), method: METHOD.to_owned(), register_options: options };
            let _ = client.register_capability(vec![new]).await;
        })
    }
}

/// The files in the client's folders; and beyond these, where it can be told of them, those of folders that are looked at for
/// a file that is open alone, and the settings that hold by now. What may hold later, in a folder between, is seen when a
/// text is opened or saved: to watch all folders up to the root could be dear.
fn watchers(state: &State) -> Value {
    let mut watchers =
        vec![json!({"globPattern": "**/*.gset"}), json!({"globPattern": format!("**/{FILE_NAME}")})];
    if state.settings.can.watch_anywhere {
        let beyond = |folder: &Path| !state.folders.works_in(&place_of(folder));
        let lent = state.folders.names().filter(|folder| beyond(folder)).map(Path::to_owned);
        let lent = lent.map(|folder| (folder, "**/*.gset".to_owned()));
        let settings = state.settings_files().into_iter().filter_map(|file| {
            let name = file.file_name()?.to_str()?.to_owned();
            Some((file.parent()?.to_owned(), name))
        });
        let all: BTreeSet<(PathBuf, String)> =
            lent.chain(settings.filter(|(folder, _)| beyond(folder))).collect();
        watchers.extend(all.into_iter().filter_map(|(folder, pattern)| {
            let base = uri_of(&place_of(&folder))?;
            Some(json!({"globPattern": {"baseUri": base, "pattern": pattern}}))
        }));
    }
    Value::Array(watchers)
}
