//! What must be true of all that a server tells.

use super::desk::{Asked, Desk, FILES, File};
use super::editing::{expected, sorted};
use super::random::params;
use super::text::{Columns, Random};
use gridsetter::book::Book;
use gridsetter::format;
use serde_json::{Value, json};
use std::rc::Rc;
use std::time::{Duration, Instant};

/// Findings that are published are of a version that is not older than one before, and lie in its text; gives file and
/// version.
pub fn is_of_a_text_that_is(desk: &Desk, params: &Value) -> (usize, i64) {
    let (file, version) =
        (desk.file_of(params["uri"].as_str().unwrap()), params["version"].as_i64().unwrap());
    let known = desk.file(file);
    assert!(
        known.found.as_ref().is_none_or(|(told, _)| *told <= version),
        "an older version after a newer: {params}"
    );
    let Some(text) = known.versions.get(&version) else { return (file, version) };
    let found = &params["diagnostics"];
    let fits = lies_within(desk.columns, found, None, &|uri| {
        let other = desk.file_of(uri.unwrap_or(params["uri"].as_str().unwrap()));
        if other == file { vec![Rc::clone(text)] } else { all_texts(desk.file(other)) }
    });
    assert!(fits.is_ok(), "{}", fits.unwrap_err());
    // Of a text that stands alone the library finds the same, but for what is not looked at yet.
    if file == 0 && version % 4 == 0 {
        let wanted = expected(text, desk.columns);
        let found = sorted(found.as_array().unwrap());
        let stale: Vec<&String> = found.iter().filter(|one| !wanted.contains(one)).collect();
        assert!(stale.is_empty(), "version {version}, {text:?}: {stale:?}, not {wanted:?}");
    }
    (file, version)
}

/// Every text that a file was: for what is told of it beside another one, or while it is closed.
fn all_texts(file: &File) -> Vec<Rc<str>> {
    file.versions.values().chain(&file.on_disk).cloned().collect()
}

/// What is answered lies in the texts as they were when it was asked for; findings may have waited, and are of that text or of
/// a newer one, or of the file if the text was closed meanwhile.
pub fn is_of_the_text_that_was(desk: &Desk, asked: &Asked, result: &Value) {
    let fits = lies_within(desk.columns, result, None, &|uri| {
        let file = uri.map_or(asked.file, |uri| desk.file_of(uri));
        let known = desk.file(file);
        let waits = asked.method.ends_with("/diagnostic");
        match asked.versions[file] {
            Some(version) if waits => {
                let since = known.versions.range(version..).map(|(_, text)| text);
                since.chain(&known.on_disk).cloned().collect()
            }
            Some(version) if known.versions.contains_key(&version) => {
                vec![Rc::clone(&known.versions[&version])]
            }
            _ => all_texts(known),
        }
    });
    assert!(fits.is_ok(), "{}: {}", asked.method, fits.unwrap_err());
}

/// All ranges and positions in a value are places of one of the texts that `texts` gives for a name, or for none.
fn lies_within(
    columns: Columns,
    value: &Value,
    uri: Option<&str>,
    texts: &dyn Fn(Option<&str>) -> Vec<Rc<str>>,
) -> Result<(), String> {
    if value.get("line").is_some() && value.get("character").is_some() {
        let texts = texts(uri);
        let is_there = texts.iter().any(|text| columns.byte(text, value).is_some());
        return if is_there {
            Ok(())
        } else {
            Err(format!("{value} is no place of {uri:?}, {:?}", texts.first()))
        };
    }
    match value {
        Value::Array(all) => all.iter().try_for_each(|it| lies_within(columns, it, uri, texts)),
        Value::Object(all) => {
            let named = value["uri"].as_str().or(value["textDocument"]["uri"].as_str()).or(uri);
            all.iter().try_for_each(|(name, it)| match (name.as_str(), it.as_object()) {
                // What is the server's own; it comes back as it is.
                ("data" | "arguments", _) => Ok(()),
                ("changes" | "relatedDocuments", Some(files)) => {
                    files.iter().try_for_each(|(uri, it)| lies_within(columns, it, Some(uri), texts))
                }
                _ => lies_within(columns, it, named, texts),
            })
        }
        _ => Ok(()),
    }
}

/// Tokens are words of the text, in order.
pub fn are_tokens_of(data: &[Value], text: &str, columns: Columns) {
    let number = |value: &Value| value.as_u64().unwrap();
    let (mut line, mut column) = (0, 0);
    for token in data.chunks(5) {
        let [down, right, length] = [0, 1, 2].map(|at| number(&token[at]));
        (line, column) = if down == 0 { (line, column + right) } else { (line + down, right) };
        for column in [column, column + length] {
            let place = json!({"line": line, "character": column});
            assert!(
                columns.byte(text, &place).is_some(),
                "a token at {place}, which is no place of {text:?}"
            );
        }
    }
}

/// The server's text, as far as it can be seen at once: how it is to be formatted, and where it ends.
pub fn is_the_text(desk: &mut Desk, file: usize) {
    let text = desk.text(file);
    let asked = params(desk, &mut Random(0), file, "textDocument/formatting");
    let Some(answer) = desk.answered("textDocument/formatting", file, asked) else { return };
    let edits = answer.unwrap();
    let formatted = format::format(&Book::read("", &text));
    assert_eq!(desk.columns.applied(&text, &edits), formatted, "of {text:?} with {edits}");
    let asked = params(desk, &mut Random(0), file, "textDocument/selectionRange");
    let answer = desk.answered("textDocument/selectionRange", file, asked).unwrap().unwrap();
    let mut outer = &answer[0];
    while let Some(parent) = outer.get("parent") {
        outer = parent;
    }
    let all = json!({"start": {"line": 0, "character": 0}, "end": desk.columns.place(&text, text.len())});
    assert_eq!(outer["range"], all, "of {text:?}");
}

/// What is found when nothing happens any more, and what is answered then, is what a server finds and answers that was told
/// of the texts as they are now and of nothing before.
pub fn is_what_a_fresh_server_finds(desk: &mut Desk, random: &mut Random) {
    let mut fresh = Fresh::new(desk);
    let end = Instant::now() + Duration::from_secs(15);
    loop {
        while desk.hear(QUIET).is_some() {}
        fresh.listen();
        let (told, wanted) = (desk.told(), fresh.told(desk));
        if told == wanted {
            break;
        }
        assert!(Instant::now() < end, "told: {told:#?}\na fresh server tells: {wanted:#?}");
    }
    for file in (0..FILES).filter(|file| desk.is_open(*file)).collect::<Vec<_>>() {
        is_the_text(desk, file);
        for method in [
            "textDocument/documentSymbol",
            "textDocument/foldingRange",
            "textDocument/documentLink",
            "textDocument/codeLens",
            "textDocument/semanticTokens/full",
            "textDocument/inlayHint",
            "textDocument/hover",
            "textDocument/hover",
            "textDocument/completion",
            "textDocument/documentHighlight",
            "textDocument/references",
        ] {
            let asked = params(desk, random, file, method);
            let wanted = fresh.client.ask(method, &asked);
            let answer = desk.answered(method, file, asked.clone()).unwrap();
            let without_id = |answer: Result<Value, i64>| {
                answer.map(|mut it| {
                    it.as_object_mut().and_then(|it| it.remove("resultId"));
                    it
                })
            };
            assert_eq!(without_id(answer), without_id(wanted), "{method} {asked}");
        }
    }
    fresh.leave();
}

/// Who says nothing for so long has nothing to say.
const QUIET: Duration = Duration::from_millis(200);

/// A server that was told of the texts as they are now.
struct Fresh {
    client: super::client::Client,
    found: Vec<Option<Value>>,
    uris: Vec<String>,
    wants: Value,
}

impl Fresh {
    fn new(desk: &Desk) -> Fresh {
        let mut client = desk.greeted();
        for file in (0..FILES).filter(|file| desk.is_open(*file)) {
            let (uri, text) = (desk.uri(file), desk.text(file));
            let item =
                json!({"uri": uri, "languageId": "gridsetter", "version": desk.version(file), "text": *text});
            client.tell("textDocument/didOpen", json!({"textDocument": item}));
        }
        let uris = (0..FILES).map(|file| desk.uri(file)).collect();
        Fresh { client, found: vec![None; FILES], uris, wants: desk.settings().clone() }
    }

    fn listen(&mut self) {
        while let Ok(message) = self.client.hear(QUIET) {
            if message["method"] == "textDocument/publishDiagnostics" {
                let file = self.uris.iter().position(|uri| message["params"]["uri"] == **uri).unwrap();
                self.found[file] = Some(message["params"]["diagnostics"].clone());
            } else if message["method"] == "workspace/configuration" {
                self.client.reply(&message["id"], &json!([self.wants]));
            } else if message.get("id").is_some() {
                self.client.reply(&message["id"], &Value::Null);
            }
        }
    }

    /// What was told, as a desk puts it together.
    fn told(&self, desk: &Desk) -> Vec<(String, Value)> {
        let all = (0..FILES).filter_map(|file| {
            let version = desk.version(file)?;
            Some((desk.uri(file), json!([version, version, self.found[file].clone()?])))
        });
        all.collect()
    }

    fn leave(self) {
        assert_eq!(self.client.leave(), Some(0));
    }
}
