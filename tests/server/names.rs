//! Ids across files: where each is, where it is named, another name for it. A folder has two files; `|` is the cursor, and
//! what an answer points at stands between `<` and `>`.

use super::client::Client;
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

const ONE: &str = "puzzle a-1 \"One\"\nsize 4\nnote\n  Before {b-1 at start} comes {a-1}.\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";
const TWO: &str = "take a-1\npuzzle b-1\nsize 4\nrepeats a-1 \"turned\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\nsteps\n  point start\n";

/// A folder with the two files, and a client in which one of them is open, with its cursor.
struct Desk {
    folder: TempDir,
    client: Client,
    at: Value,
}

impl Desk {
    fn new(open: &str, text: &str) -> Desk {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in [("one.gset", ONE), ("two.gset", TWO)] {
            fs::write(folder.path().join(name), text).unwrap();
        }
        let uri = |name: &str| format!("file://{}/{name}", folder.path().display());
        let root = format!("file://{}", folder.path().display());
        let mut client = Client::greeted(json!({
            "processId": null, "rootUri": root, "workspaceFolders": [{"uri": root, "name": "desk"}],
            "capabilities": {"workspace": {"workspaceEdit": {"documentChanges": true}}},
        }));
        let (before, after) = text.split_once('|').expect("the text has a cursor");
        client.open(&uri(open), &format!("{before}{after}"));
        let column = before.rsplit('\n').next().unwrap().chars().count();
        let position = json!({"line": before.matches('\n').count(), "character": column});
        let at = json!({"textDocument": {"uri": uri(open)}, "position": position});
        Desk { folder, client, at }
    }

    /// Asks until the other file has been read, too.
    fn ask(&mut self, method: &str, more: &Value, enough: impl Fn(&Value) -> bool) -> Value {
        let mut params = self.at.clone();
        params.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        for _ in 0..200 {
            let answer = self.client.ask(method, &params);
            if answer.as_ref().is_ok_and(&enough) {
                return answer.unwrap();
            }
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        panic!("{method}: {:?}", self.client.ask(method, &params))
    }

    /// The lines of the files at which places point, each with what is pointed at.
    fn shown(&self, places: &Value) -> Vec<String> {
        let show = |place: &Value| {
            let uri = place["uri"].as_str().unwrap();
            let name = uri.rsplit('/').next().unwrap();
            let text = fs::read_to_string(self.folder.path().join(name)).unwrap();
            let number = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
            let (start, end) = (&place["range"]["start"], &place["range"]["end"]);
            assert_eq!(start["line"], end["line"]);
            let line = text.lines().nth(number(&start["line"])).unwrap();
            let (from, to) = (number(&start["character"]), number(&end["character"]));
            format!("{name}: {}<{}>{}", &line[..from], &line[from..to], &line[to..])
        };
        places.as_array().unwrap().iter().map(show).collect()
    }
}

fn some(answer: &Value) -> bool {
    !answer.is_null()
}

#[test]
fn an_id_leads_to_what_bears_it() {
    let named = ONE.replace("{b-1 at", "{b|-1 at");
    let mut desk = Desk::new("one.gset", &named);
    let found = desk.ask("textDocument/definition", &json!({}), some);
    assert_eq!(desk.shown(&found), ["two.gset: puzzle <b-1>"]);
    let point = ONE.replace("at start", "at sta|rt");
    let mut desk = Desk::new("one.gset", &point);
    let found = desk.ask("textDocument/definition", &json!({}), some);
    assert_eq!(desk.shown(&found), ["two.gset:   point <start>"]);
    let nothing = ONE.replace("size", "si|ze");
    let mut desk = Desk::new("one.gset", &nothing);
    assert_eq!(desk.ask("textDocument/definition", &json!({}), Value::is_null), Value::Null);
}

#[test]
fn every_place_that_names_an_id_is_found() {
    let both = |borne: bool| json!({"context": {"includeDeclaration": borne}});
    let mut desk = Desk::new("one.gset", &ONE.replace("puzzle a-1", "puzzle |a-1"));
    let found =
        desk.ask("textDocument/references", &both(true), |it| it.as_array().is_some_and(|it| it.len() > 2));
    assert_eq!(
        desk.shown(&found),
        [
            "one.gset: puzzle <a-1> \"One\"",
            "one.gset:   Before {b-1 at start} comes {<a-1>}.",
            "two.gset: take <a-1>",
            "two.gset: repeats <a-1> \"turned\"",
        ]
    );
    let found = desk.ask("textDocument/references", &both(false), some);
    assert_eq!(found.as_array().unwrap().len(), 3);
}

#[test]
fn another_id_is_written_in_all_files() {
    let mut desk = Desk::new("two.gset", &TWO.replace("take a-1", "take a|-1"));
    let prepared = desk.ask("textDocument/prepareRename", &json!({}), some);
    assert_eq!(prepared["placeholder"], "a-1");
    let in_both = |it: &Value| it["documentChanges"].as_array().is_some_and(|it| it.len() == 2);
    let changes = desk.ask("textDocument/rename", &json!({"newName": "lamp-7"}), in_both);
    let changes = changes["documentChanges"].as_array().unwrap();
    let edits = |at: usize| changes[at]["edits"].as_array().unwrap().len();
    assert_eq!((edits(0), edits(1)), (2, 2));
    assert_eq!(
        (&changes[0]["textDocument"]["version"], &changes[1]["textDocument"]["version"]),
        (&json!(0), &Value::Null)
    );
    let all = changes.iter().flat_map(|change| change["edits"].as_array().unwrap());
    assert!(all.into_iter().all(|edit| edit["newText"] == "lamp-7"));
    for wrong in ["b-1", "two words", ""] {
        let mut params = desk.at.clone();
        params["newName"] = json!(wrong);
        assert_eq!(desk.client.ask("textDocument/rename", params), Err(-32602), "{wrong}");
    }
}

#[test]
fn what_is_typed_in_one_place_is_typed_in_all_of_the_file() {
    let mut desk = Desk::new("one.gset", &ONE.replace("{a-1}", "{a-1|}"));
    let linked = desk.ask("textDocument/linkedEditingRange", &json!({}), some);
    let places: Vec<Value> = linked["ranges"]
        .as_array()
        .unwrap()
        .iter()
        .map(|range| json!({"uri": desk.at["textDocument"]["uri"], "range": range}))
        .collect();
    assert_eq!(
        desk.shown(&json!(places)),
        ["one.gset: puzzle <a-1> \"One\"", "one.gset:   Before {b-1 at start} comes {<a-1>}."]
    );
}

#[test]
fn ids_are_links() {
    let mut desk = Desk::new("one.gset", &ONE.replace("size", "|size"));
    let links =
        desk.ask("textDocument/documentLink", &json!({}), |it| it.as_array().is_some_and(|it| it.len() == 2));
    let targets: Vec<&str> = links
        .as_array()
        .unwrap()
        .iter()
        .map(|link| link["target"].as_str().unwrap().rsplit('/').next().unwrap())
        .collect();
    assert_eq!(targets, ["two.gset#L2", "one.gset#L1"]);
}

#[test]
fn the_symbols_of_a_folder_are_found_by_their_words() {
    let mut desk = Desk::new("one.gset", &ONE.replace("size", "|size"));
    for (query, expected) in [("A-1 one", 1), ("", 2), ("b", 1), ("one two", 0)] {
        desk.ask("workspace/symbol", &json!({"query": query}), |it| {
            it.as_array().is_some_and(|it| it.len() == expected)
        });
    }
    let found = desk.ask("workspace/symbol", &json!({"query": "b-1"}), some);
    assert_eq!(desk.shown(&json!([found[0]["location"]])), ["two.gset: <puzzle b-1>"]);
}
