//! What a client knows while it works: its texts in all their versions, the files on disk, what it asked and was told.

use super::client::Client;
use super::random::{a_text, greeted};
use super::text::{Columns, Random};
use super::truth;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::rc::Rc;
use std::time::Duration;
use tempfile::TempDir;

/// So many texts there are: one that is no file, files of the first folder, of one within it, of the second, of none.
pub const FILES: usize = 6;

const NAMES: [&str; FILES] =
    ["untitled:one", "one/a.gset", "one/b.gset", "one/in ä/c.gset", "two/d.gset", "none/e.gset"];

/// The folders that may be open; the second lies within the first.
const FOLDERS: [&str; 3] = ["one", "one/in ä", "two"];

/// So many requests may be open; the server takes more.
const MOST_ASKED: usize = 100;

/// So many versions of a text are kept for what is told of it late.
const KEPT: usize = 400;

/// Whoever waits longer has found a server that hangs.
const PATIENCE: Duration = Duration::from_mins(1);

pub struct Desk {
    pub client: Client,
    pub columns: Columns,
    seed: usize,
    folder: TempDir,
    pub open_folders: [bool; FOLDERS.len()],
    files: Vec<File>,
    /// The last version of any text: each is told once.
    version: i64,
    wants: Value,
    asked: BTreeMap<i64, Asked>,
    /// Answers that are waited for.
    awaited: BTreeMap<i64, Option<Answer>>,
}

/// A result, or the code of an error.
pub type Answer = Result<Value, i64>;

/// A text.
#[derive(Default)]
pub struct File {
    /// Its version and text while it is open.
    pub open: Option<(i64, Rc<str>)>,
    /// What it was in its versions, the last ones.
    pub versions: BTreeMap<i64, Rc<str>>,
    /// What it ever was on disk.
    pub on_disk: Vec<Rc<str>>,
    /// What was found in it, as it was told last, and in which version.
    pub found: Option<(i64, Value)>,
    /// The tokens that were told last, by their result id.
    tokens: Option<(String, Vec<Value>)>,
}

/// A request, with what the client had when it was sent.
pub struct Asked {
    pub method: String,
    pub file: usize,
    /// Of each text that was open: which version.
    pub versions: Vec<Option<i64>>,
    cancelled: bool,
}

impl Desk {
    pub fn new(seed: usize, columns: Columns) -> Desk {
        let folder = tempfile::tempdir().unwrap();
        for name in FOLDERS.iter().chain(&["none"]) {
            fs::create_dir_all(folder.path().join(name)).unwrap();
        }
        let mut random = Random(!(seed as u64));
        let mut files: Vec<File> = Vec::new();
        for name in NAMES {
            let mut file = File::default();
            if !name.starts_with("untitled") && random.one_in(2) {
                let text = a_text(&mut random);
                fs::write(folder.path().join(name), &text).unwrap();
                file.on_disk.push(text.into());
            }
            files.push(file);
        }
        let wants = json!({"mistakes": "show"});
        let mut desk = Desk {
            client: Client::new(),
            columns,
            seed,
            folder,
            open_folders: [true, false, false],
            files,
            version: 0,
            wants,
            asked: BTreeMap::new(),
            awaited: BTreeMap::new(),
        };
        desk.client = desk.greeted();
        desk
    }

    /// A client with a server of its own, where everything is as it is now.
    pub fn greeted(&self) -> Client {
        let open = (0..FOLDERS.len()).filter(|at| self.open_folders[*at]);
        let folders: Vec<String> = open.map(|at| self.uri_of(FOLDERS[at])).collect();
        greeted(self.seed, self.columns, &folders, &self.wants)
    }

    pub fn settings(&self) -> &Value {
        &self.wants
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn uri_of(&self, name: &str) -> String {
        let encoded = name.replace(' ', "%20").replace('ä', "%C3%A4");
        if name.starts_with("untitled") {
            encoded
        } else {
            format!("file://{}/{encoded}", self.folder.path().display())
        }
    }

    pub fn uri(&self, file: usize) -> String {
        self.uri_of(NAMES[file])
    }

    /// Which text that is.
    pub fn file_of(&self, uri: &str) -> usize {
        (0..FILES).find(|file| self.uri(*file) == uri).unwrap_or_else(|| panic!("{uri} is nowhere"))
    }

    pub fn file(&self, file: usize) -> &File {
        &self.files[file]
    }

    pub fn is_open(&self, file: usize) -> bool {
        self.files[file].open.is_some()
    }

    pub fn version(&self, file: usize) -> Option<i64> {
        self.files[file].open.as_ref().map(|(version, _)| *version)
    }

    /// The text as it is now; nothing where it is not open.
    pub fn text(&self, file: usize) -> Rc<str> {
        self.files[file].open.as_ref().map_or_else(|| "".into(), |(_, text)| Rc::clone(text))
    }

    fn take_version(&mut self, file: usize, text: &str) -> i64 {
        self.version += 1;
        let (version, text): (i64, Rc<str>) = (self.version, text.into());
        let file = &mut self.files[file];
        file.versions.insert(version, Rc::clone(&text));
        if file.versions.len() > KEPT {
            file.versions.pop_first();
        }
        file.open = Some((version, text));
        version
    }

    /// Opens a text as it is on disk, or with this one.
    pub fn open(&mut self, file: usize, text: Option<String>) {
        let on_disk = || fs::read_to_string(self.path(NAMES[file])).ok();
        let text = text.or_else(on_disk).unwrap_or_else(|| a_text(&mut Random(self.version.cast_unsigned())));
        let version = self.take_version(file, &text);
        let item =
            json!({"uri": self.uri(file), "languageId": "gridsetter", "version": version, "text": text});
        self.client.tell("textDocument/didOpen", json!({"textDocument": item}));
    }

    /// Changes an open text, as `change` does it and tells it.
    pub fn change(&mut self, file: usize, change: impl FnOnce(&mut String) -> Vec<(Option<Value>, String)>) {
        if !self.is_open(file) {
            return;
        }
        let mut text = self.text(file).to_string();
        let changes = change(&mut text);
        let version = self.take_version(file, &text);
        let changes: Vec<(Option<Value>, &str)> =
            changes.iter().map(|(range, new)| (range.clone(), &**new)).collect();
        self.client.change(&self.uri(file), version, &changes);
    }

    pub fn close(&mut self, file: usize) {
        self.files[file].open = None;
        self.client.tell("textDocument/didClose", json!({"textDocument": {"uri": self.uri(file)}}));
    }

    /// Saves an open file.
    pub fn save(&mut self, file: usize) {
        if self.is_open(file) && file > 0 {
            let text = self.text(file);
            fs::write(self.path(NAMES[file]), &*text).unwrap();
            self.files[file].on_disk.push(text);
            self.client.tell("textDocument/didSave", json!({"textDocument": {"uri": self.uri(file)}}));
        }
    }

    /// Writes a file, or deletes it, as another program does.
    pub fn write(&mut self, file: usize, text: Option<String>) {
        let path = self.path(NAMES[file]);
        if file == 0 {
            return;
        }
        let kind = match text {
            Some(text) => {
                let kind = if path.exists() { 2 } else { 1 };
                fs::write(&path, &text).unwrap();
                self.files[file].on_disk.push(text.into());
                kind
            }
            None if fs::remove_file(&path).is_ok() => 3,
            None => return,
        };
        self.tell_of(&self.uri(file), kind);
    }

    pub fn write_settings(&mut self, text: &str) {
        fs::write(self.path("one/gridsetter.toml"), text).unwrap();
        self.tell_of(&self.uri_of("one/gridsetter.toml"), 2);
    }

    fn tell_of(&mut self, uri: &str, kind: i64) {
        let changes = json!({"changes": [{"uri": uri, "type": kind}]});
        self.client.tell("workspace/didChangeWatchedFiles", changes);
    }

    /// Opens one of the folders, or closes it.
    pub fn turn_folder(&mut self, at: usize) {
        let folder = json!([{"uri": self.uri_of(FOLDERS[at + 1]), "name": "desk"}]);
        let is_open = &mut self.open_folders[at + 1];
        *is_open = !*is_open;
        let (added, removed) = if *is_open { (folder, json!([])) } else { (json!([]), folder) };
        self.client.tell(
            "workspace/didChangeWorkspaceFolders",
            json!({"event": {"added": added, "removed": removed}}),
        );
    }

    pub fn want(&mut self, wants: Value) {
        self.client.tell("workspace/didChangeConfiguration", json!({"settings": {"gridsetter": wants}}));
        self.wants = wants;
    }

    /// Asks, and does not wait; gives the id.
    pub fn ask(&mut self, method: &str, file: usize, params: Value) -> i64 {
        while self.asked.len() >= MOST_ASKED {
            self.hear(PATIENCE).unwrap();
        }
        let id = self.client.begin(method, params);
        let versions = (0..FILES).map(|file| self.version(file)).collect();
        self.asked.insert(id, Asked { method: method.to_owned(), file, versions, cancelled: false });
        id
    }

    /// What is answered; nothing if the text is not open.
    pub fn answered(&mut self, method: &str, file: usize, params: Value) -> Option<Answer> {
        if !self.is_open(file) {
            return None;
        }
        let id = self.ask(method, file, params);
        self.awaited.insert(id, None);
        while self.awaited[&id].is_none() {
            self.hear(PATIENCE).unwrap();
        }
        self.awaited.remove(&id).unwrap()
    }

    /// Cancels one of the requests that are open, or one that was answered.
    pub fn cancel(&mut self, random: &mut Random) {
        let open: Vec<i64> = self.asked.keys().copied().collect();
        let id = if open.is_empty() { 1 } else { open[random.below(open.len())] };
        if let Some(asked) = self.asked.get_mut(&id) {
            asked.cancelled = true;
        }
        self.client.tell("$/cancelRequest", json!({"id": id}));
    }

    pub fn last_tokens(&self, file: usize) -> &str {
        self.files[file].tokens.as_ref().map_or("0", |(id, _)| id)
    }

    /// Takes up what has come by now.
    pub fn hear_what_came(&mut self) {
        while self.hear(Duration::ZERO).is_some() {}
    }

    /// Waits until everything is answered.
    pub fn hear_all(&mut self) {
        while !self.asked.is_empty() {
            self.hear(PATIENCE).unwrap_or_else(|| panic!("no answer to {:?}", self.asked.keys()));
        }
    }

    /// Takes up the next message, if it comes so soon.
    pub fn hear(&mut self, within: Duration) -> Option<()> {
        let message = self.client.hear(within).ok()?;
        if let Some(id) = message["id"].as_i64().filter(|_| message.get("method").is_none()) {
            let asked = self.asked.remove(&id).unwrap();
            let answer = match message["error"]["code"].as_i64() {
                Some(code) => Err(code),
                None => Ok(message["result"].clone()),
            };
            self.judge(&asked, &answer);
            if let Some(awaited) = self.awaited.get_mut(&id) {
                *awaited = Some(answer);
            }
        } else if message["method"] == "textDocument/publishDiagnostics" {
            let (file, version) = truth::is_of_a_text_that_is(self, &message["params"]);
            self.files[file].found = Some((version, message["params"]["diagnostics"].clone()));
        } else if message["method"] == "workspace/configuration" {
            self.client.reply(&message["id"], &json!([self.wants]));
        } else if message.get("id").is_some() {
            self.client.reply(&message["id"], &Value::Null);
        }
        Some(())
    }

    fn judge(&mut self, asked: &Asked, answer: &Answer) {
        let (then, now) = (asked.versions[asked.file], self.version(asked.file));
        match answer {
            Ok(result) => truth::is_of_the_text_that_was(self, asked, result),
            // The text has changed meanwhile, or the request was cancelled.
            Err(-32801) => assert!(
                then != now || asked.method == "codeAction/resolve" || asked.method == "codeLens/resolve",
                "{} of {then:?}",
                asked.method
            ),
            Err(-32800) => assert!(asked.cancelled, "{}", asked.method),
            // It waited, and was asked again.
            Err(-32802) => assert!(asked.method.ends_with("/diagnostic"), "{}", asked.method),
            // An id that cannot be one, or a step that there is not.
            Err(-32602) => assert_eq!(asked.method, "textDocument/rename"),
            Err(-32803) => assert_eq!(asked.method, "codeAction/resolve"),
            Err(other) => panic!("{}: {other}", asked.method),
        }
        let Ok(result) = answer else { return };
        if let (Some(id), "textDocument/semanticTokens/full" | "textDocument/semanticTokens/full/delta") =
            (result["resultId"].as_str(), &*asked.method)
        {
            let file = &mut self.files[asked.file];
            let data = match (result["edits"].as_array(), file.tokens.take()) {
                (None, _) => result["data"].as_array().unwrap().clone(),
                (Some(edits), Some((_, mut data))) => {
                    for edit in edits {
                        let number = |name: &str| usize::try_from(edit[name].as_u64().unwrap()).unwrap();
                        let (start, gone) = (number("start"), number("deleteCount"));
                        let new = edit["data"].as_array().cloned().unwrap_or_default();
                        data.splice(start..start + gone, new);
                    }
                    data
                }
                (Some(_), None) => panic!("a change of tokens that were never told: {result}"),
            };
            let text = then.and_then(|then| file.versions.get(&then).cloned());
            if let Some(text) = text {
                truth::are_tokens_of(&data, &text, self.columns);
            }
            file.tokens = Some((id.to_owned(), data));
        }
    }

    /// What was told of the files that are open, and that nothing is told of others.
    pub fn told(&self) -> Vec<(String, Value)> {
        let all = (0..FILES).filter_map(|file| {
            let (version, found) = self.files[file].found.clone()?;
            match self.version(file) {
                Some(now) => Some((self.uri(file), json!([version, now, found]))),
                None => (found != json!([])).then(|| (self.uri(file), found)),
            }
        });
        all.collect()
    }

    pub fn leave(self) {
        assert_eq!(self.client.leave(), Some(0));
    }
}
