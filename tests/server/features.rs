//! Each feature, asked for as a client does. A text has its cursor at `|`; what an answer changes is shown as the text
//! afterwards.

use super::client::{Client, range};
use gridsetter::book::{Book, Workspace};
use gridsetter::ladder;
use gridsetter::lint::check;
use gridsetter::notation::KEYWORDS;
use gridsetter::server::FEATURES;
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

pub const URI: &str = "untitled:feature";

/// The protocol's code for an answer that would be about a text that is no more (3.17, `ErrorCodes`).
pub const CONTENT_MODIFIED: i64 = -32801;

pub const PUZZLE: &str =
    "size 4\n\npuzzle a-1 \"One\"\ngivens\n  1 .  . 4\n  . .  1 .\n  2 .  . .\n  . .  . 3\n";

/// Parameters with some more.
pub fn with(params: &Value, more: &Value) -> Value {
    let mut all = params.clone();
    all.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    all
}

pub fn greeting(more: &Value) -> Value {
    let params = json!({
        "processId": null, "rootUri": null,
        "capabilities": {
            "workspace": {"workspaceEdit": {"documentChanges": true}},
            "textDocument": {"codeAction": {"resolveSupport": {"properties": ["edit"]}}},
        },
    });
    with(&params, more)
}

/// A client with a text open, and where the cursor is in it.
pub fn opened(text: &str) -> (Client, Value) {
    opened_with(text, &json!({}))
}

pub fn opened_with(text: &str, more: &Value) -> (Client, Value) {
    let (before, after) = text.split_once('|').expect("the text has a cursor");
    let mut client = Client::greeted(greeting(more));
    client.open(URI, &format!("{before}{after}"));
    let line = before.matches('\n').count();
    let column = before.rsplit('\n').next().unwrap().encode_utf16().count();
    (client, json!({"textDocument": {"uri": URI}, "position": {"line": line, "character": column}}))
}

fn hover(text: &str) -> String {
    let (mut client, at) = opened(text);
    let answer = client.ask("textDocument/hover", at).unwrap();
    answer["contents"]["value"].as_str().unwrap_or("nothing").to_owned()
}

fn completes(text: &str) -> Vec<String> {
    let (mut client, at) = opened(text);
    let answer = client.ask("textDocument/completion", at).unwrap();
    let labels = answer.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap().to_owned());
    labels.collect()
}

/// The actions at the cursor, of these kinds.
pub fn actions(client: &mut Client, at: &Value, only: &[&str]) -> Vec<Value> {
    let range = json!({"start": at["position"], "end": at["position"]});
    let mut context = json!({"diagnostics": []});
    if !only.is_empty() {
        context["only"] = json!(only);
    }
    let params = json!({"textDocument": at["textDocument"], "range": range, "context": context});
    client.ask("textDocument/codeAction", params).unwrap().as_array().unwrap().clone()
}

/// The text after an action of this title.
pub fn acted(text: &str, title: &str, only: &[&str]) -> String {
    let (mut client, at) = opened(text);
    client.findings(0, |_| true);
    let mut found = Vec::new();
    // What takes several sections to find is found a moment later.
    for _ in 0..100 {
        found = actions(&mut client, &at, only);
        if let Some(action) = found.iter().find(|action| action["title"] == title) {
            let mut action = action.clone();
            if action.get("edit").is_none() {
                action = client.ask("codeAction/resolve", action).unwrap();
            }
            let change = &action["edit"]["documentChanges"][0];
            assert_eq!(change["textDocument"], json!({"uri": URI, "version": 0}), "{action}");
            return applied(&text.replacen('|', "", 1), &change["edits"]);
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    let titles: Vec<&Value> = found.iter().map(|action| &action["title"]).collect();
    panic!("no action {title:?}, but {titles:?}")
}

/// Edits made in a text of one byte a character.
pub fn applied(text: &str, edits: &Value) -> String {
    let byte = |place: &Value| {
        let line = usize::try_from(place["line"].as_u64().unwrap()).unwrap();
        let begin: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
        (begin + usize::try_from(place["character"].as_u64().unwrap()).unwrap()).min(text.len())
    };
    let mut edits: Vec<&Value> = edits.as_array().unwrap().iter().collect();
    edits.sort_by_key(|edit| byte(&edit["range"]["start"]));
    let mut new = text.to_owned();
    for edit in edits.into_iter().rev() {
        let (start, end) = (byte(&edit["range"]["start"]), byte(&edit["range"]["end"]));
        new.replace_range(start..end, edit["newText"].as_str().unwrap());
    }
    new
}

/// The guide for editors lists what there is.
#[test]
fn the_guide_lists_each_feature() {
    let guide = include_str!("../../editors/README.md");
    let listed =
        guide.lines().filter_map(|line| line.strip_prefix("- ")).filter(|line| !line.starts_with('`'));
    let given: Vec<&str> = FEATURES.iter().map(|feature| feature.gives).collect();
    assert_eq!(listed.collect::<Vec<_>>(), given);
}

#[test]
fn findings_have_names_related_places_and_pages() {
    let mut client = Client::greeted(greeting(&json!({})));
    client.open(URI, &PUZZLE.replace("  . .  1 .", "  1 .  1 ."));
    let found = client.finds(0, &["givens-clash"]);
    let finding = &found[0];
    assert_eq!(finding["source"], "gridsetter");
    assert_eq!(finding["severity"], 1);
    assert!(finding["codeDescription"]["href"].as_str().unwrap().contains("givens_clash"));
    let related = finding["relatedInformation"].as_array().unwrap();
    assert!(!related.is_empty() && related.iter().all(|place| place["location"]["uri"] == URI), "{finding}");
    // What is closed shows nothing.
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": URI}}));
    client.finds(0, &[]);
}

#[test]
fn ids_are_looked_up_in_the_folder() {
    let folder = std::env::temp_dir().join(format!("gridsetter-server-{}", std::process::id()));
    fs::create_dir_all(folder.join("inner")).unwrap();
    fs::write(folder.join("inner/one.gset"), PUZZLE).unwrap();
    let uri = |path: &str| format!("file://{}/{path}", folder.display());
    let mut client =
        Client::greeted(greeting(&json!({"workspaceFolders": [{"uri": uri(""), "name": "books"}]})));
    let two = uri("two.gset");
    client.open(&two, "puzzle b-1\nnote\n  like {a-1} and {a-2}\ngivens\n");
    client.finds(0, &["id-unknown"]);
    // The other file is opened, and has that id by now, though not on disk.
    client.open(&uri("inner/one.gset"), &PUZZLE.replace("a-1", "a-2"));
    let found =
        client.findings(0, |found| found.iter().any(|it| it["message"].as_str().unwrap().contains("a-1")));
    assert_eq!(found.len(), 1);
    // It is closed again: the file counts.
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": uri("inner/one.gset")}}));
    client.findings(0, |found| found.iter().any(|it| it["message"].as_str().unwrap().contains("a-2")));
    // The file is changed by somebody else.
    fs::write(folder.join("inner/one.gset"), format!("{PUZZLE}\npuzzle a-2\n")).unwrap();
    let changes = json!({"changes": [{"uri": uri("inner/one.gset"), "type": 2}]});
    client.tell("workspace/didChangeWatchedFiles", changes);
    client.finds(0, &[]);
    assert_eq!(client.leave(), Some(0));
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn what_only_the_solution_reveals_is_told_when_asked_for() {
    let sheet = "work\n  1   2   3   4\n  4   |.   1   .\n  2   .   .   .\n  .   .   .   3\n";
    let text = format!("{PUZZLE}{sheet}");
    let (mut client, at) = opened(&text);
    client.findings(0, <[Value]>::is_empty);
    let command = actions(&mut client, &at, &[]).into_iter().find(|action| action["command"].is_string());
    let command = command.expect("there is a way to ask");
    let (name, arguments) = (&command["command"], &command["arguments"]);
    client.ask("workspace/executeCommand", json!({"command": name, "arguments": arguments})).unwrap();
    let told = client.wait(|message| message["method"] == "window/showMessage");
    assert_eq!(told["params"]["message"], "line 11: r2c1 does not hold 4 in the solution");
    let settings = json!({"settings": {"gridsetter": {"mistakes": "show"}}});
    client.tell("workspace/didChangeConfiguration", settings);
    client.finds(0, &["work-wrong"]);
    let (mut client, _) = opened_with(&text, &json!({"initializationOptions": {"mistakes": "show"}}));
    client.finds(0, &["work-wrong"]);
}

#[test]
fn a_client_is_asked_for_its_settings_and_for_its_files() {
    let sheet = "work\n  1   2   3   4\n  4   .   1   .\n  2   .   .   .\n  .   .   .   3\n";
    let mut client = Client::greeted(json!({
        "processId": null, "rootUri": null,
        "capabilities": {"workspace": {
            "configuration": true, "didChangeWatchedFiles": {"dynamicRegistration": true},
        }},
    }));
    let asked = client.wait(|message| message["method"] == "client/registerCapability");
    let registration = &asked["params"]["registrations"][0];
    assert_eq!(registration["method"], "workspace/didChangeWatchedFiles");
    let watchers = json!([{"globPattern": "**/*.gset"}, {"globPattern": "**/gridsetter.toml"}]);
    assert_eq!(registration["registerOptions"]["watchers"], watchers);
    client.reply(&asked["id"], &Value::Null);
    let asked = client.wait(|message| message["method"] == "workspace/configuration");
    assert_eq!(asked["params"]["items"], json!([{"section": "gridsetter"}]));
    client.open(URI, &format!("{PUZZLE}{sheet}"));
    client.finds(0, &[]);
    client.reply(&asked["id"], &json!([{"mistakes": "show"}]));
    client.finds(0, &["work-wrong"]);
}

#[test]
fn hover_on_a_cell_says_what_can_stand_there_and_why_the_rest_cannot() {
    let at = |row: &str, with: &str| hover(&PUZZLE.replace(row, with));
    assert_eq!(
        at("  . .  1 .", "  . |.  1 ."),
        "**r2c2**: 2 3 4 can stand here.\n\n- 1 is out: r1c1 holds it, in box 1\n"
    );
    assert_eq!(at("  1 .", "  |1 ."), "**r1c1** is given as 1.");
    let sheet = "work\n  1   |23  .   4\n  .   3   1   2\n  2   .   .   .\n  .   .   .   3\n";
    assert_eq!(
        hover(&format!("{PUZZLE}{sheet}")),
        "**r1c2**: only 2 can stand here.\n\nMarked `23`.\n\n- 1 is out: r1c1 holds it, in row 1\n\
         - 3 is out: r2c2 holds it, in col 2\n- 4 is out: r1c4 holds it, in row 1\n"
    );
    assert_eq!(
        hover(&format!("{PUZZLE}steps\n  r2c2| = 3  by counting\n")).lines().next(),
        Some("**r2c2**: 2 3 4 can stand here.")
    );
}

#[test]
fn hover_on_words_says_what_they_mean() {
    assert!(hover("cl|ues 24\n").starts_with("**clues**\n\nClaims how many givens there are"));
    assert!(hover("allow not-|minimal \"so\"\n").starts_with("**not-minimal**\n\n"));
    assert!(hover(&format!("{PUZZLE}note\n  see {{a|-1}}\n")).starts_with("**a-1** One\n\nA puzzle of"));
    assert_eq!(hover("# nothing| here\n"), "nothing");
    let (mut client, _) = opened("|");
    for (version, shape) in (1..).zip(KEYWORDS) {
        let text = format!("{} 1\n", shape.word);
        client.change(URI, version, &[(None, &text)]);
        let at = json!({"textDocument": {"uri": URI}, "position": {"line": 0, "character": 0}});
        let answer = client.ask("textDocument/hover", at).unwrap();
        let wanted = format!("**{}**\n\n{}", shape.word, shape.keyword.meaning());
        assert_eq!(answer["contents"]["value"], wanted);
    }
    assert_eq!(hover("|"), "nothing");
}

#[test]
fn hover_on_the_name_of_a_pattern_or_a_way_gives_its_page() {
    let page = |name: &str| ladder::named(name).unwrap().page;
    let pair = format!("**hidden pair**: a pattern of level 3.\n\n{}", page("hidden pair"));
    let walk = |line: &str| hover(&format!("{PUZZLE}steps\n  {line}\n"));
    assert_eq!(walk("r2c2 = 3  by hidden pa|ir in box 1"), pair);
    assert_eq!(walk("r2c2 = 3  by |Hidden Pairs in box 1"), pair);
    assert_eq!(walk("finish by crossing, hidden| pair"), pair);
    assert_eq!(hover("puzzle a\nneeds x-wing, hidden pair|\n"), pair);
    assert_eq!(hover("puzzle a\navoids hid|den pair\n"), pair);
    assert_eq!(hover("lesson a\nteaches |hidden pair\n"), pair);
    assert_eq!(hover("puzzle a\nnote\n  One {hidden| pair} here.\n"), pair);
    assert_eq!(
        walk("r2c2 = 3  by counti|ng in box 1"),
        format!(
            "**counting**: a way of seeing: how a reader comes upon a step, whatever pattern it is.\n\n{}",
            page("counting")
        )
    );
    let aliases =
        "Also called pointing, pointing pair, pointing triple, claiming, claiming pair, claiming triple.";
    assert_eq!(
        walk("9 of box 1 in r1c1 r1c2  by claiming pa|ir in box 1"),
        format!("**locked candidates**: a pattern of level 3.\n\n{aliases}\n\n{}", page("locked candidates"))
    );
    assert_eq!(
        hover("puzzle a\nneeds t|rial\n"),
        format!("**trial**: a pattern of level 7.\n\nAlso called trial and error.\n\n{}", page("trial"))
    );
    // The same words where they name nothing.
    assert_eq!(hover("puzzle a\nnote\n  At a crossing| {a}.\n"), "nothing");
    assert_eq!(hover("puzzle a\nnote\n  {a} at a crossing| {b}.\n"), "nothing");
    assert_eq!(hover("# a hidden pair|\n"), "nothing");
}

#[test]
fn fixes_are_offered_where_something_was_found() {
    let text = format!("{PUZZLE}notte|\n  text\n");
    assert_eq!(acted(&text, "write `note`", &["quickfix"]), format!("{PUZZLE}note\n  text\n"));
    let twice = format!("{PUZZLE}\npuzzle a|-1\n");
    let title = "write `a-2`, the next free id";
    assert_eq!(acted(&twice, title, &[]), format!("{PUZZLE}\npuzzle a-2\n"), "it takes two sections to see");
    let several = format!("|{}", PUZZLE.replace("givens", "givns").replace("size 4", "sise 4"));
    assert_eq!(acted(&several, "make all fixes that are certain", &["source.fixAll"]), PUZZLE);
}

#[test]
fn a_fix_is_worked_out_when_it_is_chosen_and_never_for_another_text() {
    let text = format!("{PUZZLE}no|tte\n  text\n");
    let (mut client, at) = opened(&text);
    client.finds(0, &["unknown-statement"]);
    let fix = actions(&mut client, &at, &["quickfix"]).remove(0);
    assert_eq!((fix["title"].as_str(), fix.get("edit")), (Some("write `note`"), None), "{fix}");
    assert_eq!(fix["isPreferred"], true);
    let resolved = client.ask("codeAction/resolve", &fix).unwrap();
    let edit = &resolved["edit"]["documentChanges"][0];
    assert_eq!(applied(&text.replacen('|', "", 1), &edit["edits"]), format!("{PUZZLE}note\n  text\n"));
    // The text moves down by a line: what was offered is for another text.
    let marks = actions(
        &mut client,
        &json!({"textDocument": at["textDocument"], "position": {"line": 4, "character": 2}}),
        &["refactor"],
    );
    client.change(URI, 1, &[(Some(range((0, 0), (0, 0))), "# more\n")]);
    for stale in [&fix, &marks[0]] {
        assert_eq!(client.ask("codeAction/resolve", stale), Err(CONTENT_MODIFIED), "{stale}");
    }
    client.finds(1, &["unknown-statement"]);
    let below = json!({"textDocument": at["textDocument"], "position": {"line": 9, "character": 2}});
    let fix = actions(&mut client, &below, &["quickfix"]).remove(0);
    let resolved = client.ask("codeAction/resolve", &fix).unwrap();
    assert_eq!(resolved["edit"]["documentChanges"][0]["edits"][0]["range"], range((9, 0), (9, 5)));
    // The version is the same again, and what was found is not.
    client.change(URI, 1, &[(None, PUZZLE)]);
    assert_eq!(client.ask("codeAction/resolve", &fix), Err(CONTENT_MODIFIED));
    client.tell("textDocument/didClose", json!({"textDocument": {"uri": URI}}));
    assert_eq!(client.ask("codeAction/resolve", &fix), Err(CONTENT_MODIFIED));
    assert_eq!(client.leave(), Some(0));

    // Who cannot wait so long gets it at once.
    let mut client = Client::greeted(json!({"processId": null, "rootUri": null, "capabilities": {}}));
    client.open(URI, &text.replacen('|', "", 1));
    client.finds(0, &["unknown-statement"]);
    let fix = actions(&mut client, &at, &["quickfix"]).remove(0);
    let edits = json!([{"range": range((8, 0), (8, 5)), "newText": "note"}]);
    assert_eq!((&fix["edit"]["changes"][URI], fix.get("data")), (&edits, None), "{fix}");
}

#[test]
fn each_file_has_the_settings_of_the_nearest_folder_upward() {
    let top = tempfile::tempdir().unwrap();
    let top = fs::canonicalize(top.path()).unwrap();
    let [outer, inner] = ["gridsetter.toml", "inner/gridsetter.toml"].map(|file| top.join(file));
    fs::create_dir_all(top.join("inner")).unwrap();
    let uri = |path: &str| format!("file://{}/{path}", top.display());
    let [one, two] = [uri("one.gset"), uri("inner/two.gset")];
    let mut client =
        Client::greeted(greeting(&json!({"workspaceFolders": [{"uri": uri("inner"), "name": "books"}]})));
    let text = PUZZLE.replace("givens", "clues 4\nlevel 1\ngivens");
    // In one piece, as editors save: else the server may read it while it is empty.
    let save = |file: &Path, text: &str| {
        let new = file.with_extension("new");
        fs::write(&new, text).unwrap();
        fs::rename(new, file).unwrap();
    };
    save(&outer, "[check]\nskip = ['clues-wrong']\n");
    for uri in [&one, &two] {
        client.open(uri, &text);
        client.finds(0, &[]);
    }
    // A client tells of a file that is new, and that one holds for what lies below.
    let tell = |client: &mut Client| {
        let changes = json!({"changes": [{"uri": uri("inner/gridsetter.toml"), "type": 2}]});
        client.tell("workspace/didChangeWatchedFiles", changes);
    };
    save(&inner, "[ladder]\nlevels = ['last open cell', 'box hidden single']\nnames = ['Calm']");
    tell(&mut client);
    client.finds(0, &["clues-wrong", "level-wrong"]);
    // It is broken: that is told once, and what it said before holds.
    let is_message = |message: &Value| message["method"] == "window/showMessage";
    save(&inner, "[ladder]\nlevel = 1\n");
    tell(&mut client);
    let told = client.wait(is_message);
    let message = format!(
        "{}:2:1: unknown field `level`, expected one of `order`, `without`, `levels`, `names`; what it said before \
         holds until it is mended",
        inner.display()
    );
    assert_eq!(told["params"], json!({"type": 2, "message": message}));
    tell(&mut client);
    let at = json!({"textDocument": {"uri": two}, "position": {"line": 4, "character": 0}});
    client.ask("textDocument/hover", at).unwrap();
    assert!(!client.came(is_message), "it was told");
    client.change(&two, 1, &[(None, &format!("{text}needs last open cell\n"))]);
    client.finds(1, &["clues-wrong", "level-wrong", "needs-wrong"]);
    let at = json!({"textDocument": {"uri": two}, "position": {"line": 10, "character": 8}});
    let said = client.ask("textDocument/hover", at).unwrap();
    let said = said["contents"]["value"].as_str().unwrap();
    assert!(said.starts_with("**last open cell**: a pattern of level 1, Calm.\n"), "{said}");
    // It is gone, and the client, which cannot watch files, saves something.
    fs::remove_file(&inner).unwrap();
    client.tell("textDocument/didSave", json!({"textDocument": {"uri": one}}));
    client.finds(1, &["needs-wrong"]);
    assert_eq!(client.leave(), Some(0));
}

#[test]
fn marks_and_the_solution_are_written_when_asked_for() {
    let givens = PUZZLE.replace("  1 .  .", "  1 |.  .");
    let solution = "solution\n  1 2  3 4\n  3 4  1 2\n  2 3  4 1\n  4 1  2 3\n";
    assert_eq!(acted(&givens, "write the solution", &["refactor"]), format!("{PUZZLE}{solution}"));
    let sheet = "work\n  1   23  23  4\n  34  234 1   2!\n  2   134 4!  1!\n  4!  14  24  3\n";
    assert_eq!(acted(&givens, "begin a sheet, with marks", &[]), format!("{PUZZLE}{sheet}"));
    let full = format!("{PUZZLE}{}", sheet.replace("23  23", "2|3  3"));
    let tidied = format!("{PUZZLE}{}", sheet.replace("1   23  23", "1   2!  3 "));
    assert_eq!(acted(&full, "tidy the marks", &[]), tidied);
    let empty = "work\n  1   .   .   4\n  .   .   1   .\n  2   .   .   .\n  .   .   .   3\n";
    assert_eq!(
        acted(&format!("{PUZZLE}{}", sheet.replace("23  23", "2|3  23")), "clear all marks", &[]),
        format!("{PUZZLE}{empty}")
    );
}

#[test]
fn the_next_step_is_taken_on_the_sheet_or_goes_on_the_walk() {
    let givens = PUZZLE.replace("  1 .  .", "  1 |.  .");
    let sheet = "work\n  1   .   3   4\n  .   .   1   .\n  2   .   .   .\n  .   .   .   3\n";
    let taken = acted(&givens, "take the next step", &["refactor.rewrite.next"]);
    assert_eq!(taken, format!("{PUZZLE}{sheet}"));
    let walk = format!("{PUZZLE}steps\n  > To begin with.\n|  r1c3 = 3  by crossing in box 2\n  finish\n");
    let taken = acted(&walk, "take the next step", &[]);
    let line = "  r3c2 = 3  by crossing in box 3\n";
    assert_eq!(taken, walk.replacen('|', "", 1).replace("  finish\n", &format!("{line}  finish\n")));
    let wrong = format!("{PUZZLE}{}", sheet.replace("1   .   3", "1   3   |."));
    let (mut client, at) = opened(&wrong);
    client.findings(0, <[Value]>::is_empty);
    let all = actions(&mut client, &at, &["refactor.rewrite.next"]);
    let take = all.iter().find(|action| action["title"] == "take the next step").unwrap();
    assert_eq!(client.ask("codeAction/resolve", take), Err(-32803), "something in the work does not hold");
}

#[test]
fn the_next_step_is_told_at_two_depths_and_nothing_changes() {
    let (mut client, at) = opened(&PUZZLE.replace("  1 .  .", "  1 |.  ."));
    client.findings(0, <[Value]>::is_empty);
    let all = actions(&mut client, &at, &["refactor.rewrite.next"]);
    let kinds: Vec<&Value> = all.iter().map(|action| &action["kind"]).collect();
    let kind = "refactor.rewrite.next";
    assert_eq!(kinds, [kind, "refactor.rewrite.next.where", "refactor.rewrite.next.what"]);
    let mut told = Vec::new();
    for telling in &all[1..] {
        assert!(telling.get("edit").is_none(), "{telling}");
        let (name, arguments) = (&telling["command"]["command"], &telling["command"]["arguments"]);
        client.ask("workspace/executeCommand", json!({"command": name, "arguments": arguments})).unwrap();
        let message = client.wait(|message| message["method"] == "window/showMessage");
        told.push(message["params"]["message"].as_str().unwrap().to_owned());
    }
    assert_eq!(told, ["Look for 3 in box 2.", "Put 3 in r1c3, a hidden single of box 2."]);
}

#[test]
fn formatting_changes_only_the_lines_that_differ() {
    let (mut client, at) =
        opened(&format!("|{}", PUZZLE.replace("size 4", "size       4").replace("  2 .  . .", "  2. | ..")));
    let options = json!({"tabSize": 8, "insertSpaces": false});
    let params = json!({"textDocument": at["textDocument"], "options": options});
    let edits = client.ask("textDocument/formatting", params).unwrap();
    assert_eq!(edits, json!([{"range": range((6, 0), (7, 0)), "newText": "  2 .  . .\n"}]));
}

#[test]
fn symbols_are_parts_puzzles_and_their_blocks() {
    let (mut client, at) = opened(
        "|part \"First\"\n\npuzzle a-1 \"One\"\ngivens\n  1 .\nwork second\n\nlesson l-1\n\npart \"Last\"\n",
    );
    let answer = client.ask("textDocument/documentSymbol", at).unwrap();
    let mut outline = String::new();
    draw(&answer, 0, &mut outline);
    assert_eq!(
        outline,
        "First 0-7\n  a-1 One 2-5\n    givens 3-4\n    work second 5-5\n  l-1 7-7\nLast 9-9\n"
    );
}

fn draw(symbols: &Value, depth: usize, outline: &mut String) {
    for symbol in symbols.as_array().into_iter().flatten() {
        let (name, range) = (symbol["name"].as_str().unwrap(), &symbol["range"]);
        let (start, end) = (&range["start"]["line"], &range["end"]["line"]);
        let _ = writeln!(outline, "{}{name} {start}-{end}", "  ".repeat(depth));
        draw(&symbol["children"], depth + 1, outline);
    }
}

#[test]
fn what_can_stand_at_a_place_is_completed() {
    let has = |text: &str, wanted: &[&str], unwanted: &[&str]| {
        let found = completes(text);
        for word in wanted {
            assert!(found.iter().any(|one| one == word), "{text:?} lacks {word}: {found:?}");
        }
        for word in unwanted {
            assert!(!found.iter().any(|one| one == word), "{text:?} has {word}");
        }
    };
    has("|", &["puzzle", "givens"], &[]);
    has("puzzle a\ngi|", &["givens"], &["hidden pair"]);
    has("puzzle a\nallow |", &["not-minimal"], &["givens"]);
    has("puzzle a\nsymmetry |", &["half-turn"], &["givens"]);
    has("puzzle a\nrules |", &["diagonals", "none"], &[]);
    has("status |", &["draft", "printed"], &[]);
    has("naming |", &["r4c1", "D1", "words"], &[]);
    has("puzzle a\nneeds |", &["hidden pair"], &[]);
    has(&format!("{PUZZLE}steps\n  r1c1 = 2  by |"), &["hidden pair", "counting"], &["givens"]);
    has(&format!("{PUZZLE}note\n  see {{|"), &["a-1", "hidden pair"], &["givens"]);
    has(&format!("{PUZZLE}\nanswer |"), &["a-1"], &["hidden pair"]);
    assert_eq!(completes("puzzle a\ngivens\n  1 |"), Vec::<String>::new());
}

/// A puzzle with a walkthrough that is read by scanning, and remembers facts.
pub const TOLD: &str = include_str!("../samples/07-walkthrough.gset");

/// The sample up to a line of it, and then these.
fn told_up_to(line: &str, then: &str) -> String {
    let at = TOLD.find(line).expect("the sample has the line");
    format!("{}{then}", &TOLD[..at])
}

/// What is offered at the cursor: each text, what is said beside it, and the whole text with it.
fn offers(text: &str) -> Vec<(String, String, String)> {
    let (mut client, at) = opened(text);
    let answer = client.ask("textDocument/completion", at).unwrap();
    let items = answer.as_array().unwrap().iter().map(|item| {
        let edit = &item["textEdit"];
        assert_eq!((&item["filterText"], &edit["newText"]), (&item["label"], &item["label"]), "{item}");
        let new = applied(&text.replacen('|', "", 1), &json!([edit]));
        let word = |key: &str| item[key].as_str().unwrap_or_default().to_owned();
        (word("sortText"), word("label"), word("detail"), new)
    });
    let mut items: Vec<_> = items.collect();
    assert!(items.is_sorted(), "{items:?}");
    items.drain(..).map(|(_, label, detail, new)| (label, detail, new)).collect()
}

/// Only the labels.
fn labels(text: &str) -> Vec<String> {
    offers(text).into_iter().map(|(label, ..)| label).collect()
}

/// The names of what is found in a text, but that its walkthrough does not end yet.
pub fn found(text: &str) -> Vec<&'static str> {
    let reports = check(&Workspace::new(vec![Book::read("a.gset", text)]));
    let names = reports.iter().map(|report| report.finding.name);
    names.filter(|name| *name != "steps-unfinished").collect()
}

#[test]
fn hover_on_a_step_tells_why_it_follows_there() {
    let grid = "```text\n+-------+-------+-------+\n| . . 8 | 1 2 . | 6 7 5 |\n| . 6 . | . . 8 | 2 3 1 |\n\
                | . 2 . | 6 . . | 9 8 4 |\n+-------+-------+-------+\n| 2 . . | . . 6 | 8 1 9 |\n\
                | . . . | . . . | . . . |\n| 8 5 6 | 9 . . | . 4 2 |\n+-------+-------+-------+\n\
                | 6 1 . | . . 5 | 4 9 . |\n| 7 8 . | 4 . . | . . . |\n| 4 9 . | . 6 . | 1 . . |\n\
                +-------+-------+-------+\n```";
    let said = format!(
        "Look for 3 in column 1. Row 2 holds 3. You remember that 1 and 9 share r5c1 and r5c3. You remember that box 2 has \
         its 3 in row 3. Column 1 has one place left for 3: r1c1. That is a hidden single: put 3 there.\n\n\
         `by crossing in col 1 with r5c1 r5c3 with 3 of box 2` (line hidden single, level 2)\n\n\
         Remembered before it: `r1c6 r2c5 = 49`, `r5c1 r5c3 = 19`, `r8c5 r8c6 = 19`, `r7c9 r9c9 = 78`, \
         `r5c9 r8c9 = 36`, `7 of box 1 in col 3`, `3 of box 2 in row 3`.\n\n{grid}"
    );
    let step = TOLD.replace("  r1c1 = 3  by hidden", "  r1c1 =| 3  by hidden");
    assert_eq!(hover(&step), said);
    // In a line with two claims each is told, the second after the first.
    let two = hover(&TOLD.replace("r1c2 = 4, r1c6", "r1c2 =| 4, r1c6"));
    let second = "\n\nLook at row 1. It is missing only 9, and has one open cell: r1c6. So put 9 there.\n\n";
    assert!(
        two.contains("put 4 there.\n\n`by counting in row 1` (naked single, level 2)")
            && two.contains(second)
    );
    // A pattern's name has its page; a cell, what can stand there at that point of the walk.
    let name = hover(&TOLD.replace("by hidden single in col 1", "by hidden |single in col 1"));
    assert!(name.starts_with("**hidden single**: "), "{name}");
    let cell = hover(&TOLD.replace("r5c6 = 4", "r5|c6 = 4"));
    let (first, by_digits) = cell.split_once("\n- No 5").unwrap();
    // What no digit bars is told with the step that strikes it.
    assert!(first.starts_with("**r5c6**: 2 3 4 7 can stand here.\n\n- No 1 here. Look at "), "{first}");
    assert!(first.ends_with("from r5c6.") || first.ends_with(" there."), "{first}");
    assert_eq!(
        by_digits,
        " here: column 6 has it in r7c6.\n- No 6 here: column 6 has it in r4c6.\n\
         - No 8 here: column 6 has it in r2c6.\n- No 9 here: column 6 has it in r1c6.\n"
    );
    assert_eq!(hover(&TOLD.replace("r6c8 = 4", "r2|c7 = 4")), "**r2c7** holds 2 here.");
    // A false claim takes no step, and the grid is there all the same.
    let wrong = hover(&TOLD.replace("  r1c1 = 3  by hidden", "  r1c1 =| 9  by hidden"));
    assert!(wrong.starts_with("Remembered before it: ") && wrong.ends_with(grid), "{wrong}");
    // In words, where the client wants it so.
    let (mut client, at) = opened_with(&step, &json!({"initializationOptions": {"hover": "words"}}));
    let answer = client.ask("textDocument/hover", at).unwrap();
    let words = "\n\n- row 1: blank, blank, 8; 1, 2, blank; 6, 7, 5\n- row 2: blank, 6, blank; ";
    assert!(answer["contents"]["value"].as_str().unwrap().contains(words), "{answer}");
}

#[test]
fn what_follows_in_a_walkthrough_is_completed() {
    let here = |typed: &str| told_up_to("  > The same look", typed);
    let lines = offers(&here("  |"));
    assert_eq!(lines.len(), 12);
    assert_eq!(
        (&*lines[0].0, &*lines[0].1),
        (
            "r5c1 r5c3 = 19  by crossing in box 4",
            "Box 4 has a hidden pair. Remember: 1 and 9 share r5c1 and r5c3."
        )
    );
    for (line, _, new) in &lines {
        assert_eq!(found(new), [""; 0], "{line}");
    }
    // With no reason yet there are steps of both kinds; with reasons that take marks, only these.
    let begun = offers(&format!("{PUZZLE}steps\n  r1c3 = 3\n  |"));
    assert_eq!(begun[0].0, "r3c2 = 3  by crossing in box 3");
    let marks = offers(&format!("{PUZZLE}steps\n  r1c3 = 3  by box hidden single\n  |"));
    assert_eq!(marks[0].0, "r1c2 = 2  by last open cell in row 1");
    assert!(begun.iter().chain(&marks).all(|(_, _, new)| found(new).is_empty()));

    assert_eq!(labels(&here("  1 of box 8 in |")), ["r8c5 r8c6", "row 8", "r8c5", "r8c6"]);
    assert_eq!(labels(&here("  r2c5 r1c6 = 49, 1 of box 8 in r8c5 |")), ["r8c6"]);
    assert_eq!(labels(&here("  19 of box 4 in r|")), ["r5c1 r5c3", "row 5", "r5c1", "r5c3"]);
    assert_eq!(labels(&here("  r1c4 = |")), ["1", "3"]);
    assert_eq!(labels(&here("  r5c1 r5c3 = |")), ["19"]);
    assert_eq!(labels(&here("  r1c1 = |")), ["1", "3", "9"]);
    let first = |typed: &str| offers(&here(typed)).remove(0);
    let (reason, detail, new) = first("  r5c1 r5c3 = 19  by cr|");
    assert_eq!((&*reason, &*detail, found(&new)), ("crossing in box 4", "it fits", vec![]));
    assert_eq!(
        first("  r5c1 r5c3 = 18  by |").0,
        "last open cell",
        "no reason fits what is false: all names"
    );
    // What leans on a fact names it.
    let told = told_up_to("  r1c4 = 1", "  r1c4 = |");
    let (digit, detail, new) = offers(&told).remove(0);
    assert_eq!((&*digit, &*detail), ("1", "by crossing in col 4 with r5c1 r5c3"));
    assert_eq!(found(&format!("{new}  {detail}\n")), [""; 0]);
}

#[test]
fn a_blank_asks_only_where_something_is_to_be_chosen() {
    let asked = |typed: &str| {
        let (mut client, mut at) = opened(&told_up_to("  > The same look", typed));
        at["context"] = json!({"triggerKind": 2, "triggerCharacter": " "});
        client.ask("textDocument/completion", at).unwrap().as_array().unwrap().len()
    };
    assert_eq!([" |", "  |", "  > In |", "  > It is in |", "  r1c4 |", "clues |"].map(asked), [0; 6]);
    assert!(
        ["  r1c4 = |", "  1 of box 8 in |", "  r1c4 = 1  by |"].map(asked).iter().all(|count| *count > 0)
    );
}

/// What stands above each walkthrough, but for the way to read it as a page.
fn lenses(text: &str) -> Vec<String> {
    let (mut client, at) = opened(&format!("{text}|"));
    let answer = client.ask("textDocument/codeLens", at).unwrap();
    let lenses = answer.as_array().unwrap().iter().filter_map(|lens| {
        assert!(lens.get("command").is_none(), "{lens}");
        let line = usize::try_from(lens["range"]["start"]["line"].as_u64().unwrap()).unwrap();
        let is_walk = text.lines().nth(line).unwrap().starts_with("steps");
        let resolved = client.ask("codeLens/resolve", lens).unwrap();
        let title = resolved["command"]["title"].as_str().unwrap().to_owned();
        (is_walk && title != "run the walk").then_some(title)
    });
    lenses.collect()
}

#[test]
fn a_lens_above_a_walkthrough_says_whether_it_was_checked() {
    let walk = "steps\n  r1c3 = 3  by crossing in box 2\n  finish\n";
    assert_eq!(lenses(&format!("{PUZZLE}{walk}")), ["1 step, level 1, checked"]);
    assert_eq!(lenses(TOLD), ["33 steps, level 3, checked"]);
    let wrong = TOLD.replace("r8c8 = 2  by", "r8c8 = 2 bye").replace("r6c8 = 4  by", "r6c8 = 7  by");
    assert_eq!((lenses(&wrong), found(&wrong).len()), (vec!["32 steps, 2 findings".to_owned()], 2));
    let two = format!("{PUZZLE}{walk}steps other\n  r1c3 = 4\n  finish\n");
    assert_eq!(lenses(&two), ["1 step, level 1, checked", "1 step, 1 finding"]);
    let accepted = two.replace("  r1c3 = 4", "  allow step-false \"a trap\"\n  r1c3 = 4");
    assert_eq!(lenses(&accepted)[1], "1 step, checked");
    // An `allow` accepts what it names, for the next line.
    let other = two.replace("  r1c3 = 4", "  allow step-early \"a trap\"\n  r1c3 = 4");
    assert_eq!(lenses(&other)[1], "1 step, 1 finding");
    let before = two.replace("  r1c3 = 4", "  allow step-false \"a trap\"\n  r1c3 = 3\n  r1c3 = 4");
    assert_eq!(lenses(&before)[1], "2 steps, 1 finding");
    let prose = two.replace("  r1c3 = 4", "  allow step-false \"a trap\"\n  > Look.\n  r1c3 = 4");
    assert_eq!(lenses(&prose)[1], "1 step, checked");
    let whole = two.replace(walk, &format!("allow step-false \"traps\"\n{walk}"));
    assert_eq!(lenses(&whole)[1], "1 step, checked");
    let unread = two.replace("r1c3 = 4", "r1c3 = 3  by magic");
    assert_eq!((&*lenses(&unread)[1], found(&unread).len()), ("0 steps, 1 finding", 1));
    assert_eq!(lenses(&format!("{}{walk}", PUZZLE.replace("1 .  . 4", "1 .  1 4"))), ["not checked"]);
    // A lesson that starts from the puzzle.
    let lesson = format!("{PUZZLE}\nlesson l-1\nfrom a-1\nsteps\n  r1c3 = 3  by crossing in box 2\n");
    assert_eq!(lenses(&lesson), ["1 step, level 1, checked"]);
    let (mut client, at) = opened(&format!("{PUZZLE}{walk}|"));
    let lens = client.ask("textDocument/codeLens", at).unwrap()[0].clone();
    client.change(URI, 1, &[(None, PUZZLE)]);
    assert_eq!(client.ask("codeLens/resolve", lens), Err(CONTENT_MODIFIED));
}

#[test]
fn what_was_filled_in_becomes_the_next_steps() {
    let title = "write the sheet as the next steps";
    let walk = "steps\n  r1c3 = 3  by crossing in box 2\n";
    let sheet = "work\n  1   |2   3   4\n  3   4   1   2\n  2   .   .   1!\n  .   .   .   3\n";
    let text = |sheet: &str| format!("{PUZZLE}{sheet}{walk}  finish\n");
    let lines = "  r1c2 = 2  by counting in row 1\n";
    let taken = acted(&text(sheet), title, &["refactor.rewrite"]);
    assert!(taken.contains(lines), "{taken}");
    assert_eq!(found(&taken), [""; 0], "{taken}");
    let after = taken.split_once(walk).unwrap().1;
    assert_eq!(after.lines().count(), 6, "{after}");
    // Only what is new is written, and only what follows.
    let titles = |text: &str| {
        let (mut client, at) = opened(text);
        let all = actions(&mut client, &at, &["refactor.rewrite"]);
        all.iter().map(|action| action["title"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    let none = "work\n  1   |.   3   4\n  .   2   1   .\n  2   .   .   .\n  .   .   .   3\n";
    assert!(
        !titles(&text(none)).iter().any(|it| it.starts_with(title)),
        "2 in r2c2 is wrong, and 3 in r1c3 is there"
    );
    assert!(!titles(&format!("{PUZZLE}{sheet}")).iter().any(|it| it == title), "there is no walkthrough");
}

/// The marks of a sheet and what is remembered beside it become steps too; what no step gives is left, and the title says so.
#[test]
fn marks_and_remembered_facts_become_the_next_steps() {
    let (head, walk) = TOLD.split_at(TOLD.find("steps\n").unwrap());
    let rows = head.split_once("givens\n").unwrap().1.replacen("  .", "  |.", 1);
    let before = &walk[..walk.find("  > Row 3 holds 4 and 9").unwrap()];
    let steps = |rows: &str, facts: &str, left: &str| {
        let text = format!("{head}work\n{rows}{facts}{before}");
        let taken = acted(&text, &format!("write the sheet as the next steps{left}"), &["refactor.rewrite"]);
        assert!(!found(&taken).iter().any(|it| it.contains("step-")), "{taken}");
        taken.rsplit_once(before).unwrap().1.to_owned()
    };
    let facts = "known\n  r1c6 r2c5 = 49\n  3 of box 2 in row 3\n  2 of box 5 in row 6\n";
    insta::assert_snapshot!(steps(&rows, facts, ", without 2 facts"), @"  r1c6 r2c5 = 49  by crossing in box 2");
    let marked = rows
        .replacen(". 2 .", ". 2 49", 1)
        .replace(". . 8  . 3 1", ". 49 8  . 3 1")
        .replace("6 . .  . 8", "6 37 .  . 8");
    insta::assert_snapshot!(steps(&marked, "", ", without r3c5"), @"  r1c6 r2c5 = 49  by crossing in box 2");
}

/// A puzzle with letters, in regions.
const LETTERS: &str = "puzzle a-1\nsize 4\nregions\n  A A A B\n  C A B B\n  C C D B\n  C D D D\nsymbols K L M N\ngivens\n  \
                       1 2 . .\n  . . . 3\n  . . . .\n  . . . .\n";

#[test]
fn hover_shows_the_walls_of_regions_and_speaks_in_the_puzzles_own_signs() {
    let text = hover(&format!("{LETTERS}steps\n  r1c3 =| 3  by crossing in row 1\n"));
    insta::assert_snapshot!(text, @r"
    Look for M in row 1. Column 4 holds M. Row 1 has one place left for M: r1c3. That is a hidden single: put M there.

    `by crossing in row 1` (line hidden single, level 2)

    ```text
    +-----------+---+
    | K   L   . | . |
    +---+   +---+   |
    | . | . | .   M |
    |   +---+---+   |
    | .   . | . | . |
    |   +---+   +---+
    | . | .   .   . |
    +---+-----------+
    ```
    ");
    let cell = hover(&LETTERS.replace("1 2 . .", "1 2 |. ."));
    insta::assert_snapshot!(cell, @r"
    **r1c3**: M N can stand here.

    - K is out: r1c1 holds it, in row 1
    - L is out: r1c2 holds it, in row 1
    ");
}
