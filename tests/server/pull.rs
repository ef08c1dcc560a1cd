//! Findings for a client that asks for them: of a text, and of all. Kinds of reports and codes of errors are those of the
//! Language Server Protocol 3.17, "Pull Diagnostics" and `LSPErrorCodes`.

use super::client::Client;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const CANCELLED: i64 = -32800;
const SERVER_CANCELLED: i64 = -32802;

const SOUND: &str = "size 4\n\npuzzle a-1 \"One\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

/// Several solutions: that takes longer to find than a keystroke may.
const OPEN: &str = "puzzle b-1\nsize 4\ngivens\n  1 .  . 4\n  . .  . .\n  . .  . .\n  . .  . .\n";

/// What a client says that asks, and can be asked to ask again if it `refreshes`.
fn greeting(folders: &[&Path], refreshes: bool) -> Value {
    let folders: Vec<Value> = folders.iter().map(|it| json!({"uri": uri(it), "name": "folder"})).collect();
    json!({
        "processId": null, "rootUri": null, "workspaceFolders": folders,
        "capabilities": {
            "workspace": {"diagnostics": {"refreshSupport": refreshes}},
            "textDocument": {"diagnostic": {"relatedDocumentSupport": true}},
        },
    })
}

fn uri(path: &Path) -> String {
    format!("file://{}", path.display())
}

/// The names of what a report holds, its id, and its kind.
fn report(report: &Value) -> (String, Vec<String>) {
    let items = report["items"].as_array().map(Vec::as_slice).unwrap_or_default();
    let names = items.iter().map(|item| item["code"].as_str().unwrap().to_owned());
    (report["kind"].as_str().unwrap().to_owned(), names.collect())
}

/// Asks for the findings of a text; gives its id, too.
fn pull(client: &mut Client, uri: &str, previous: Option<&str>) -> (String, Vec<String>, String) {
    let mut params = json!({"textDocument": {"uri": uri}});
    if let Some(previous) = previous {
        params["previousResultId"] = json!(previous);
    }
    let answer = client.ask("textDocument/diagnostic", params).unwrap();
    let (kind, names) = report(&answer);
    (kind, names, answer["resultId"].as_str().unwrap_or_default().to_owned())
}

/// Waits until the client is asked to ask again, and says that it will.
fn refreshed(client: &mut Client) {
    let asked = client.wait(|message| message["method"] == "workspace/diagnostic/refresh");
    client.reply(&asked["id"], &Value::Null);
}

/// Asks again whenever that is asked for, until so many findings are known; gives the id of these.
fn all_known(
    client: &mut Client,
    uri: &str,
    count: usize,
    mut known: (String, Vec<String>, String),
) -> String {
    // The one word that is wrong is seen at once; to count many solutions takes longer.
    while known.1.len() < count {
        assert!(known.1.contains(&"unknown-statement".to_owned()), "{known:?}");
        refreshed(client);
        let next = pull(client, uri, Some(&known.2));
        if next.0 == "full" {
            known = next;
        }
    }
    known.2
}

#[test]
fn who_asks_is_given_what_is_known_and_asked_to_ask_again_when_there_is_more() {
    let mut client = Client::greeted(greeting(&[], true));
    client.open("untitled:a", &format!("{OPEN}# nothing more\nbox\n"));
    let first = pull(&mut client, "untitled:a", None);
    assert_eq!(first.0, "full");
    let second = all_known(&mut client, "untitled:a", 2, first);
    let (kind, names, third) = pull(&mut client, "untitled:a", Some(&second));
    assert_eq!((kind.as_str(), names.len(), &third), ("unchanged", 0, &second));
    // An id that was never given, or of another text, is nobody's.
    assert_eq!(pull(&mut client, "untitled:a", Some("x")).0, "full");
    client.open("untitled:b", "box\n");
    assert_eq!(pull(&mut client, "untitled:b", Some(&second)).0, "full");
    // A change is seen at once, wherever it is.
    client.change("untitled:a", 1, &[(Some(super::client::range((0, 0), (0, 0))), "# more\n")]);
    let fourth = pull(&mut client, "untitled:a", Some(&second));
    assert_eq!((fourth.0.as_str(), fourth.2 == second), ("full", false));
    all_known(&mut client, "untitled:a", 2, fourth);
    // Nothing was pushed to who asks.
    assert!(!client.came(|message| message["method"] == "textDocument/publishDiagnostics"));
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn who_says_that_it_asks_and_does_not_is_told() {
    let mut client = Client::greeted(greeting(&[], true));
    client.open("untitled:a", "box\n");
    let told = |client: &mut Client| {
        let told = client.wait(|message| message["method"] == "textDocument/publishDiagnostics");
        told["params"]["diagnostics"].as_array().unwrap().len()
    };
    assert_eq!(told(&mut client), 1);
    // It asks after all: nothing is to be shown twice.
    assert_eq!(pull(&mut client, "untitled:a", None).1, ["unknown-statement"]);
    while told(&mut client) > 0 {}
    client.change("untitled:a", 1, &[(None, "box\nbox\n")]);
    pull(&mut client, "untitled:a", None);
    assert!(!client.came(|message| message["method"] == "textDocument/publishDiagnostics"));
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn who_cannot_be_asked_again_waits_until_all_is_known() {
    let mut client = Client::greeted(greeting(&[], false));
    client.open("untitled:a", &format!("{OPEN}box\n"));
    let (kind, names, _) = pull(&mut client, "untitled:a", None);
    assert_eq!(
        (kind.as_str(), names),
        ("full", vec!["many-solutions".to_owned(), "unknown-statement".to_owned()])
    );
    // Of a text that nobody opened there is nothing to say.
    assert_eq!(pull(&mut client, "untitled:none", None), ("full".to_owned(), vec![], String::new()));
    // It is answered for the text as it is when all is known, also where that was closed meanwhile.
    client.change("untitled:a", 1, &[(None, OPEN)]);
    let params = json!({"textDocument": {"uri": "untitled:a"}});
    let waits = client.begin("textDocument/diagnostic", &params);
    client.tell("textDocument/didClose", &params);
    // All may be known just before it is closed.
    let (kind, names) = report(&client.answer(&json!(waits)).unwrap());
    assert!(kind == "full" && (names.is_empty() || names == ["many-solutions"]), "{kind} {names:?}");
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn who_waits_for_a_file_is_answered_when_it_is_closed_or_opened_under_another_name() {
    let folder = folder();
    let mut client = Client::greeted(greeting(&[folder.path()], false));
    let path = folder.path().join("b.gset");
    let [open, other] = [uri(&path), uri(&path).replace("b.gset", "%62.gset")];
    let closes = json!({"textDocument": {"uri": open}});
    client.open(&open, OPEN);
    let waits = client.begin("textDocument/diagnostic", &closes);
    client.tell("textDocument/didClose", &closes);
    assert_eq!(report(&client.answer(&json!(waits)).unwrap()).1, ["many-solutions"]);
    client.open(&open, &format!("# later\n{OPEN}"));
    let waits = client.begin("textDocument/diagnostic", &closes);
    client.open(&other, &format!("# sooner\n{OPEN}"));
    assert_eq!(report(&client.answer(&json!(waits)).unwrap()).1, ["many-solutions"]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn who_spells_names_otherwise_is_not_given_everything_again() {
    let folder = folder();
    let mut client = Client::greeted(greeting(&[folder.path()], true));
    let open = uri(&folder.path().join("b.gset"));
    client.open(&open, OPEN);
    let (_, mut known) = pull_all(&mut client, &[]);
    fs::write(folder.path().join("c.gset"), SOUND.replace("a-1", "c-1")).unwrap();
    for name in known.iter_mut().map(|it| &mut it["uri"]) {
        *name = json!(name.as_str().unwrap().replace(".gset", "%2Egset"));
    }
    let waits = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    let change = json!({"changes": [{"uri": uri(&folder.path().join("c.gset")), "type": 1}]});
    client.tell("workspace/didChangeWatchedFiles", change);
    let (told, _) = taken(&client.answer(&json!(waits)).unwrap());
    assert_eq!(
        told,
        ["a.gset null unchanged []", "b.gset 0 unchanged []", "c.gset null full [\"repeated-puzzle\"]"]
    );
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn what_others_show_is_given_along() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two] = ["one.gset", "two.gset"].map(|name| uri(&folder.path().join(name)));
    let mut client = Client::greeted(greeting(&[folder.path()], false));
    client.open(&one, SOUND);
    client.open(&two, "answer a-1\n");
    assert_eq!(pull(&mut client, &two, None).1, [""; 0]);
    assert_eq!(pull(&mut client, &one, None).1, [""; 0]);
    // Another id in one file: the other names one that is no more.
    client.change(&one, 1, &[(None, &SOUND.replace("a-1", "a-2"))]);
    let answer = client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": one}})).unwrap();
    assert_eq!(report(&answer).1, [""; 0]);
    let related = report(&answer["relatedDocuments"][&two]);
    assert_eq!(related.1.iter().filter(|name| *name == "id-unknown").count(), 1, "{answer}");
    let answer = client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": one}})).unwrap();
    assert_eq!(answer.get("relatedDocuments"), None, "that was said");
    assert_eq!(client.leave(), Some(0));
}

/// A folder with two files, one of them wrong.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.gset"), SOUND).unwrap();
    fs::write(folder.path().join("b.gset"), OPEN).unwrap();
    folder
}

/// Asks for all, with what is known of each; gives what comes, and what is known then.
fn pull_all(client: &mut Client, known: &[Value]) -> (Vec<String>, Vec<Value>) {
    let answer = client.ask("workspace/diagnostic", json!({"previousResultIds": known})).unwrap();
    taken(&answer)
}

fn taken(answer: &Value) -> (Vec<String>, Vec<Value>) {
    let items = answer["items"].as_array().unwrap();
    let told = items.iter().map(|item| {
        let (kind, names) = report(item);
        let name = item["uri"].as_str().unwrap().rsplit('/').next().unwrap();
        format!("{name} {} {kind} {names:?}", item["version"])
    });
    let known = items.iter().filter(|item| item.get("resultId").is_some());
    let known = known.map(|item| json!({"uri": item["uri"], "value": item["resultId"]}));
    let mut told: Vec<String> = told.collect();
    told.sort();
    (told, known.collect())
}

#[test]
fn all_files_are_looked_at_for_who_asks_for_all() {
    let folder = folder();
    let mut client = Client::greeted(greeting(&[folder.path()], true));
    let (told, known) = pull_all(&mut client, &[]);
    assert_eq!(told, ["a.gset null full []", "b.gset null full [\"many-solutions\"]"]);

    // With that known, the request stays open until something changes; a watched file, say.
    let waits = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    let path = folder.path().join("a.gset");
    fs::write(&path, "puzzle b-1\nbox\n").unwrap();
    let change = json!({"changes": [{"uri": uri(&path), "type": 2}]});
    client.tell("workspace/didChangeWatchedFiles", change);
    let (told, known) = taken(&client.answer(&json!(waits)).unwrap());
    assert_eq!(
        told,
        [
            "a.gset null full [\"unknown-statement\"]",
            "b.gset null full [\"id-repeated\", \"many-solutions\"]"
        ]
    );

    // An open text is one of them, as it is in the editor, with its version.
    let open = uri(&folder.path().join("b.gset"));
    client.open(&open, "# later\n");
    let (told, known) = pull_all(&mut client, &known);
    assert_eq!(told, ["a.gset null unchanged []", "b.gset 0 full []"]);

    // What is no more is nothing any more.
    fs::remove_file(&path).unwrap();
    client.tell("workspace/didDeleteFiles", json!({"files": [{"uri": uri(&path)}]}));
    let (told, known) = pull_all(&mut client, &known);
    assert_eq!(told, ["a.gset null full []", "b.gset 0 unchanged []"]);

    // Nobody waits any more: one answer comes of it, at once.
    let waits = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    client.tell("$/cancelRequest", json!({"id": waits}));
    assert_eq!(client.answer(&json!(waits)), Err(CANCELLED));
    // Who asks again gives up what was asked before, and so does who leaves.
    let older = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    let newer = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    assert_eq!(client.answer(&json!(older)), Err(SERVER_CANCELLED));
    client.ask("shutdown", Value::Null).unwrap();
    assert_eq!(client.answer(&json!(newer)), Err(SERVER_CANCELLED));
    client.tell("exit", Value::Null);
    assert_eq!(client.code(), Some(0));
}

#[test]
fn all_findings_come_in_parts_where_that_is_wanted() {
    let folder = folder();
    let mut client = Client::greeted(greeting(&[folder.path()], true));
    client.open("untitled:x", "box\n");
    let params = json!({"previousResultIds": [], "partialResultToken": "part"});
    let waits = client.begin("workspace/diagnostic", params);
    let answer = client.answer(&json!(waits)).unwrap();
    assert_eq!(answer, json!({"items": []}));
    let mut told = Vec::new();
    while client.came(|message| message["params"]["token"] == "part") {
        let part = client.wait(|message| message["params"]["token"] == "part");
        told.extend(taken(&part["params"]["value"]).0);
    }
    told.sort();
    told.dedup();
    let all = ["a.gset null full []", "b.gset null full [\"many-solutions\"]"];
    let expected = [all[0], all[1], "untitled:x 0 full [\"unknown-statement\"]"];
    assert_eq!(told, expected);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn settings_that_change_are_news() {
    let folder = folder();
    let mut client = Client::greeted(greeting(&[folder.path()], true));
    let open = uri(&folder.path().join("b.gset"));
    client.open(&open, OPEN);
    let mut found = pull(&mut client, &open, None);
    while found.1.is_empty() {
        refreshed(&mut client);
        let next = pull(&mut client, &open, Some(&found.2));
        found = if next.0 == "full" { next } else { found };
    }
    assert_eq!(found.1, ["many-solutions"]);
    let settings = folder.path().join("gridsetter.toml");
    fs::write(&settings, "[check]\nskip = ['many-solutions']\n").unwrap();
    client.tell("workspace/didChangeWatchedFiles", json!({"changes": [{"uri": uri(&settings), "type": 1}]}));
    refreshed(&mut client);
    let (kind, names, _) = pull(&mut client, &open, Some(&found.2));
    assert_eq!((kind.as_str(), names.len()), ("full", 0));
    // The other files heed them, too.
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": open}}));
    assert_eq!(pull_all(&mut client, &[]).0, ["a.gset null full []", "b.gset null full []"]);
    assert_eq!(client.leave(), Some(0));
}
