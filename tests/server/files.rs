//! Files and folders: by whatever name, alone or in several folders, and what happens to them outside the editor.

use super::client::Client;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const SOUND: &str = "size 4\n\npuzzle a-1 \"One\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

/// It names the puzzle, and says something that is wrong by itself.
const NAMES: &str = "answer a-1\nbox\n";

/// A folder under its one name.
struct Folder {
    _there: TempDir,
    path: PathBuf,
}

impl Folder {
    fn of(files: &[(&str, &str)]) -> Folder {
        let there = tempfile::tempdir().unwrap();
        let folder = Folder { path: there.path().canonicalize().unwrap(), _there: there };
        for (name, text) in files {
            folder.write(name, text);
        }
        folder
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.path.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn uri(&self, name: &str) -> String {
        let path = self.path.join(name);
        format!("file://{}", path.display())
    }
}

/// A client that works in these folders.
fn client(folders: &[String]) -> Client {
    let folders: Vec<Value> = folders.iter().map(|uri| json!({"uri": uri, "name": "one"})).collect();
    let workspace =
        json!({"didChangeWatchedFiles": {"dynamicRegistration": true, "relativePatternSupport": true}});
    Client::greeted(json!({
        "processId": null, "rootUri": null, "workspaceFolders": folders,
        "capabilities": {"workspace": workspace},
    }))
}

/// What is found in a text once all is known.
fn settled(client: &mut Client, uri: &str, text: &str) -> Vec<String> {
    client.open(uri, text);
    // Who asks, and cannot be asked to ask again, is answered then.
    let asked = json!({"textDocument": {"uri": uri}});
    let answer = client.ask("textDocument/diagnostic", asked).unwrap();
    let items = answer["items"].as_array().unwrap();
    items.iter().map(|item| item["code"].as_str().unwrap().to_owned()).collect()
}

fn again(client: &mut Client, uri: &str) -> Vec<String> {
    let asked = json!({"textDocument": {"uri": uri}});
    client.tell("textDocument/didClose", &asked);
    let text = fs::read_to_string(Path::new(uri.strip_prefix("file://").unwrap())).unwrap();
    settled(client, uri, &text)
}

#[test]
fn a_file_that_is_open_alone_knows_the_files_of_its_project() {
    let files = [("one.gset", SOUND), ("inner/two.gset", NAMES), ("inner/three.gset", NAMES)];
    let folder = Folder::of(&files);
    let mut alone = client(&[]);
    // Without a project nobody knows which files belong to it.
    let two = folder.uri("inner/two.gset");
    assert_eq!(settled(&mut alone, &two, NAMES), ["unknown-statement", "id-unknown"]);
    folder.write("gridsetter.toml", "[check]\n");
    assert_eq!(again(&mut alone, &two), ["unknown-statement"]);
    // What happens to these files is watched, and so are the settings.
    let base = |asked: &Value| {
        let watchers = asked["params"]["registrations"][0]["registerOptions"]["watchers"].as_array().cloned();
        let watched = watchers.unwrap_or_default().into_iter().filter(|it| it["globPattern"].is_object());
        watched.map(|it| it["globPattern"].clone()).collect::<Vec<_>>()
    };
    let uri = folder.uri("");
    let uri = uri.trim_end_matches('/').replace('+', "%2B");
    loop {
        let asked = alone.wait(|it| it["method"].as_str().is_some_and(|it| it.ends_with("Capability")));
        alone.reply(&asked["id"], &Value::Null);
        let watched = base(&asked);
        if watched.len() == 2 {
            let pattern = |glob: &str| json!({"baseUri": uri, "pattern": glob});
            assert_eq!(watched, [pattern("**/*.gset"), pattern("gridsetter.toml")]);
            break;
        }
    }
    fs::remove_file(folder.path.join("one.gset")).unwrap();
    let change = json!({"changes": [{"uri": folder.uri("one.gset"), "type": 3}]});
    alone.tell("workspace/didChangeWatchedFiles", change);
    assert_eq!(again(&mut alone, &two), ["unknown-statement", "id-unknown"]);
    assert_eq!(alone.leave(), Some(0));
}

#[test]
fn a_name_is_the_same_however_it_is_written() {
    let folder = Folder::of(&[("a b/ä:.gset", SOUND), ("two.gset", NAMES)]);
    let mut client = client(&[folder.uri("")]);
    let [here, there] = ["a%20b/%C3%A4%3A.gset", "a%20b/%c3%a4:.gset"].map(|name| folder.uri(name));
    // As a file and as a text it is the same: its id is borne once.
    assert_eq!(settled(&mut client, &here, SOUND), [""; 0]);
    let at = json!({"textDocument": {"uri": there}, "position": {"line": 2, "character": 8}});
    let found = client.ask("textDocument/references", with_context(&at)).unwrap();
    let found: Vec<&str> = found.as_array().unwrap().iter().map(|it| it["uri"].as_str().unwrap()).collect();
    assert_eq!(found, [here.as_str(), &folder.uri("two.gset")]);
    client.change(&there, 1, &[(None, "box\n")]);
    client.finds(1, &["unknown-statement"]);
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": there}}));
    client.finds(1, &[]);
    assert_eq!(client.leave(), Some(0));
}

fn with_context(at: &Value) -> Value {
    let mut at = at.clone();
    at["context"] = json!({"includeDeclaration": true});
    at
}

#[test]
fn a_file_of_several_folders_counts_once() {
    let folder = Folder::of(&[("inner/one.gset", SOUND), ("inner/two.gset", NAMES)]);
    // The same folder twice, and one that lies in it.
    let mut client = client(&[folder.uri(""), folder.uri("inner"), folder.uri("")]);
    assert_eq!(settled(&mut client, &folder.uri("inner/two.gset"), NAMES), ["unknown-statement"]);
    assert_eq!(settled(&mut client, &folder.uri("inner/one.gset"), SOUND), [""; 0]);
    let symbols = client.ask("workspace/symbol", json!({"query": "a-1 one"})).unwrap();
    assert_eq!(symbols.as_array().unwrap().len(), 1, "{symbols}");
    // Without the folder, the file belongs to the outer one, and without both to none.
    let leave = |client: &mut Client, name: &str| {
        let event = json!({"added": [], "removed": [{"uri": folder.uri(name), "name": "one"}]});
        client.tell("workspace/didChangeWorkspaceFolders", json!({"event": event}));
    };
    leave(&mut client, "inner");
    assert_eq!(again(&mut client, &folder.uri("inner/two.gset")), ["unknown-statement"]);
    leave(&mut client, "");
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": folder.uri("inner/one.gset")}}));
    assert_eq!(again(&mut client, &folder.uri("inner/two.gset")), ["unknown-statement", "id-unknown"]);
    assert_eq!(client.leave(), Some(0));
}

#[cfg(unix)]
#[test]
fn a_file_of_two_names_counts_once() {
    let folder = Folder::of(&[("inner/one.gset", SOUND), ("inner/two.gset", NAMES)]);
    std::os::unix::fs::symlink("one.gset", folder.path.join("inner/other.gset")).unwrap();
    std::os::unix::fs::symlink("inner", folder.path.join("link")).unwrap();
    let mut client = client(&[folder.uri("link")]);
    assert_eq!(settled(&mut client, &folder.uri("link/two.gset"), NAMES), ["unknown-statement"]);
    assert_eq!(settled(&mut client, &folder.uri("link/other.gset"), SOUND), [""; 0]);
    // Open under both names, it is still the same.
    assert_eq!(settled(&mut client, &folder.uri("link/one.gset"), SOUND), [""; 0]);
    assert_eq!(settled(&mut client, &folder.uri("inner/one.gset"), SOUND), [""; 0]);
    assert_eq!(again(&mut client, &folder.uri("link/two.gset")), ["unknown-statement"]);
    assert_eq!(client.leave(), Some(0));
}

#[cfg(target_os = "linux")]
#[test]
fn a_name_that_is_no_text_is_a_name() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let folder = Folder::of(&[("two.gset", NAMES)]);
    fs::write(folder.path.join(OsStr::from_bytes(b"\xff.gset")), SOUND).unwrap();
    let mut client = client(&[folder.uri("")]);
    assert_eq!(settled(&mut client, &folder.uri("two.gset"), NAMES), ["unknown-statement"]);
    let at =
        json!({"textDocument": {"uri": folder.uri("two.gset")}, "position": {"line": 0, "character": 8}});
    let found = client.ask("textDocument/definition", at).unwrap();
    assert_eq!(found[0]["uri"], folder.uri("%FF.gset"));
    // Under that name it can be opened.
    assert_eq!(settled(&mut client, &folder.uri("%FF.gset"), SOUND), [""; 0]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn what_happens_to_files_and_folders_is_heeded() {
    let folder = Folder::of(&[("inner/one.gset", SOUND), ("two.gset", NAMES), (".gitignore", "private\n")]);
    let mut client = client(&[folder.uri("")]);
    let two = folder.uri("two.gset");
    assert_eq!(settled(&mut client, &two, NAMES), ["unknown-statement"]);
    // A folder goes where nothing is read, and back.
    fs::rename(folder.path.join("inner"), folder.path.join("private")).unwrap();
    let renamed =
        |from: &str, to: &str| json!({"files": [{"oldUri": folder.uri(from), "newUri": folder.uri(to)}]});
    client.tell("workspace/didRenameFiles", renamed("inner", "private"));
    assert_eq!(again(&mut client, &two), ["unknown-statement", "id-unknown"]);
    fs::rename(folder.path.join("private"), folder.path.join("outer")).unwrap();
    client.tell("workspace/didRenameFiles", renamed("private", "outer"));
    assert_eq!(again(&mut client, &two), ["unknown-statement"]);
    fs::remove_dir_all(folder.path.join("outer")).unwrap();
    client.tell("workspace/didDeleteFiles", json!({"files": [{"uri": folder.uri("outer")}]}));
    assert_eq!(again(&mut client, &two), ["unknown-statement", "id-unknown"]);
    folder.write("new.gset", SOUND);
    client.tell("workspace/didCreateFiles", json!({"files": [{"uri": folder.uri("new.gset")}]}));
    assert_eq!(again(&mut client, &two), ["unknown-statement"]);
    // A watched file that the folder leaves out stays left out.
    folder.write("private/one.gset", SOUND);
    let change = json!({"changes": [{"uri": folder.uri("private/one.gset"), "type": 1}]});
    client.tell("workspace/didChangeWatchedFiles", change);
    assert_eq!(again(&mut client, &folder.uri("new.gset")), [""; 0]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_text_that_is_no_file_is_alone() {
    let folder =
        Folder::of(&[("one.gset", SOUND), ("gridsetter.toml", "[check]\nskip = ['unknown-statement']\n")]);
    let mut client = client(&[folder.uri("")]);
    assert_eq!(settled(&mut client, "untitled:a", NAMES), ["id-unknown"]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn settings_that_are_half_written_do_not_hold() {
    let settings = "[check]\nskip = ['unknown-statement']\n";
    let folder = Folder::of(&[("two.gset", "box\n"), ("gridsetter.toml", settings)]);
    let mut client = client(&[folder.uri("")]);
    let two = folder.uri("two.gset");
    assert_eq!(settled(&mut client, &two, "box\n"), [""; 0]);
    for half in ["", "[check]\nskip = ['unk", "  \n"] {
        folder.write("gridsetter.toml", half);
        let change = json!({"changes": [{"uri": folder.uri("gridsetter.toml"), "type": 2}]});
        client.tell("workspace/didChangeWatchedFiles", change);
        let told = client.wait(|message| message["method"] == "window/showMessage");
        let told = told["params"]["message"].as_str().unwrap();
        assert!(told.ends_with("what it said before holds until it is mended"), "{told}");
        assert_eq!(again(&mut client, &two), [""; 0]);
    }
    folder.write("gridsetter.toml", "# nothing is set\n");
    client.tell("textDocument/didSave", json!({"textDocument": {"uri": two}}));
    assert_eq!(again(&mut client, &two), ["unknown-statement"]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn a_folder_of_five_thousand_files_is_read_beside() {
    let folder = Folder::of(&[]);
    for number in 0..5000 {
        folder
            .write(&format!("{}/{number}.gset", number % 50), &SOUND.replace("a-1", &format!("a-{number}")));
    }
    let text = "answer a-4999\n\nanswer a-5000\n";
    let mut client = Client::greeted(json!({
        "processId": null, "rootUri": folder.uri(""),
        "capabilities": {"window": {"workDoneProgress": true}},
    }));
    let uri = folder.uri("answers.gset");
    client.open(&uri, text);
    // Whoever types meanwhile is answered at once, with what is known.
    for version in 1..=20 {
        client.change(&uri, version, &[(Some(super::client::range((0, 0), (0, 0))), "#\n")]);
        client.findings(version, |_| true);
    }
    // Nothing is told to be unknown that was only not read yet.
    let answer = client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": uri}})).unwrap();
    let items = answer["items"].as_array().unwrap();
    let unknown: Vec<&Value> = items.iter().map(|item| &item["message"]).collect();
    assert!(unknown.len() == 1 && unknown[0].as_str().unwrap().contains("a-5000"), "{unknown:?}");
    // How far it is, is told only to who shows that, and only if it takes long.
    if client.came(|message| message["method"] == "window/workDoneProgress/create") {
        let asked = client.wait(|message| message["method"] == "window/workDoneProgress/create");
        client.reply(&asked["id"], &Value::Null);
    }
    assert_eq!(client.leave(), Some(0));
}
